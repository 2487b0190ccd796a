using System.Globalization;
using Leadwright.Core.Hookups;
using Leadwright.Reports.Hookups;
using Leadwright.Reports.Practice;
using Microsoft.AspNetCore.Components;

namespace Leadwright.Client.Controls;

/// <summary>A mark: points, truth, each lead and clamp, and what could be known.</summary>
public sealed partial class MarkView : ComponentBase
{
    /// <summary>The mark.</summary>
    [Parameter, EditorRequired]
    public MarkDocument Document { get; set; } = null!;

    /// <summary>True while the check of hook-ups is still being asked.</summary>
    [Parameter]
    public bool IsAsking { get; set; }

    /// <summary>How the conductors are called and coloured.</summary>
    [Parameter, EditorRequired]
    public ConductorNaming Naming { get; set; } = null!;

    private string Points => Document.Mark.Points.ToString("0", CultureInfo.InvariantCulture).Replace('-', '−');

    private static string Plain(FaultKind kind) => CheckWords.Of(kind).Replace('-', ' ');
}
