using System.Globalization;
using Leadwright.Client.Model;
using Leadwright.Core.Hookups.Settling;
using Microsoft.AspNetCore.Components;

namespace Leadwright.Client.Controls;

/// <summary>The verdict with what to do, the drawings, the evidence and the rivals.</summary>
public sealed partial class VerdictView : ComponentBase
{
    /// <summary>The verdict.</summary>
    [Parameter, EditorRequired]
    public HookupAnswer Answer { get; set; } = null!;

    /// <summary>Called with an answer to the question that would settle it.</summary>
    [Parameter]
    public EventCallback<ToldAnswer> Told { get; set; }

    /// <summary>Called with an answer that is withdrawn.</summary>
    [Parameter]
    public EventCallback<ToldAnswer> Withdrawn { get; set; }

    private string Milliseconds => Math.Max(1, Math.Round(Answer.Took.TotalMilliseconds)).ToString("0", CultureInfo.InvariantCulture);
}
