using Leadwright.Core.Hookups.Settling;
using Leadwright.Reports.Hookups;
using Microsoft.AspNetCore.Components;

namespace Leadwright.Client.Controls;

/// <summary>The question that would settle most of what is open, with its answers to tap, and the answers given so far.</summary>
public sealed partial class SettleQuestion : ComponentBase
{
    /// <summary>The verdict in words.</summary>
    [Parameter, EditorRequired]
    public CheckDocument Document { get; set; } = null!;

    /// <summary>Called with the answer that was tapped.</summary>
    [Parameter]
    public EventCallback<ToldAnswer> Told { get; set; }

    /// <summary>Called with the answer that is withdrawn.</summary>
    [Parameter]
    public EventCallback<ToldAnswer> Withdrawn { get; set; }

    private static string StandingWord(ToldEntry told) => CheckWords.Of(told.Weighed.Standing);

    private static string Mark(ToldEntry told) => told.Weighed.Standing switch
    {
        ToldStanding.Agrees => "✓ ",
        ToldStanding.Contradicts => "✗ ",
        _ => "– ",
    };

    private static string Tail(ToldEntry told) => told.Weighed.Standing switch
    {
        ToldStanding.Agrees => "",
        ToldStanding.Contradicts => ". This speaks against the verdict: look again.",
        _ => ". Not used.",
    };
}
