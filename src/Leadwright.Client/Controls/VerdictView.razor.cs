using System.Globalization;
using Leadwright.Client.Model;
using Microsoft.AspNetCore.Components;

namespace Leadwright.Client.Controls;

/// <summary>The verdict with what to do, the drawings, the evidence and the rivals.</summary>
public sealed partial class VerdictView : ComponentBase
{
    /// <summary>The verdict.</summary>
    [Parameter, EditorRequired]
    public HookupAnswer Answer { get; set; } = null!;

    private string Milliseconds => Math.Max(1, Math.Round(Answer.Took.TotalMilliseconds)).ToString("0", CultureInfo.InvariantCulture);
}
