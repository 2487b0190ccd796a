using System.Globalization;
using Leadwright.Client.Model;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Practice;
using Microsoft.AspNetCore.Components;

namespace Leadwright.Client.Controls;

/// <summary>Asks where every lead and clamp of an exercise is.</summary>
public sealed partial class PlaceQuestions : ComponentBase
{
    private static readonly (bool IsReversed, string Word, string Arrow)[] s_ways = [(false, "To the load", "↓"), (true, "To the source", "↑")];

    private static readonly (double Scale, string Word)[] s_scales = [(1, "as it should"), (10, "ten times too much"), (0.1, "a tenth")];

    /// <summary>The exercise.</summary>
    [Parameter, EditorRequired]
    public Exercise Exercise { get; set; } = null!;

    /// <summary>What was said so far.</summary>
    [Parameter, EditorRequired]
    public PracticeDraft Draft { get; set; } = null!;

    /// <summary>The site's colours.</summary>
    [Parameter, EditorRequired]
    public ColourScheme Scheme { get; set; } = null!;

    /// <summary>Told when something is said.</summary>
    [Parameter]
    public EventCallback<PracticeDraft> Changed { get; set; }

    private IEnumerable<Conductor?> Places =>
        [.. Service.Of(Exercise.Service).Conductors.Select(conductor => (Conductor?)conductor), null];

    private static double ScaleOf(string? text) => double.TryParse(text, CultureInfo.InvariantCulture, out var scale) ? scale : 1;

    private Task PlaceLead(Lead lead, Conductor? on) => Changed.InvokeAsync(Draft with { Leads = Draft.Leads.SetItem(lead, on) });

    private Task PlaceClamp(Clamp clamp, ClampDraft said) => Changed.InvokeAsync(Draft with { Clamps = Draft.Clamps.SetItem(clamp, said) });
}
