using System.Collections.Immutable;
using Leadwright.Client.Model;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Microsoft.AspNetCore.Components;

namespace Leadwright.Client.Controls;

/// <summary>The numbers on the instrument's screen, and how it counts them.</summary>
public sealed partial class ReadingsForm : ComponentBase
{
    private static readonly ImmutableArray<Choice<AngleSign>> s_signs =
    [
        new(AngleSign.NotStated, "Not sure"), new(AngleSign.LeadPositive, "−120 or 240", "leading is positive"),
        new(AngleSign.LagPositive, "+120", "lagging is positive"),
    ];

    private static readonly ImmutableArray<Choice<CurrentAngleReference>> s_references =
    [
        new(CurrentAngleReference.NotStated, "Not sure"), new(CurrentAngleReference.Common, "V1, all of them"),
        new(CurrentAngleReference.OwnVoltage, "each its own voltage"),
    ];

    private static readonly ImmutableArray<Choice<PowerSign>> s_powers =
        [new(PowerSign.NotStated, "Not sure"), new(PowerSign.LoadPositive, "positive"), new(PowerSign.LoadNegative, "negative")];

    private static readonly ImmutableArray<Choice<bool>> s_replays =
        [new(false, "Each is measured"), new(true, "One is measured and replayed for the others")];

    /// <summary>What was told so far.</summary>
    [Parameter, EditorRequired]
    public HookupDraft Draft { get; set; } = new();

    /// <summary>What is wrong with each field, by its key.</summary>
    [Parameter]
    public ImmutableSortedDictionary<string, string> Errors { get; set; } = ImmutableSortedDictionary<string, string>.Empty;

    /// <summary>Told when a text changes.</summary>
    [Parameter]
    public EventCallback<TypedText> Typed { get; set; }

    /// <summary>Told when something else changes.</summary>
    [Parameter]
    public EventCallback<HookupDraft> Changed { get; set; }

    private string Summary => (Draft.AngleSign, Draft.CurrentAngleReference, Draft.PowerSign, Draft.IsReplayed) switch
    {
        (AngleSign.NotStated, CurrentAngleReference.NotStated, PowerSign.NotStated, false) => "not stated",
        (AngleSign.LagPositive, _, _, _) => "lagging is positive",
        (AngleSign.LeadPositive, _, _, _) => "leading is positive",
        _ => "partly stated",
    };

    private IEnumerable<(MeterShows Flag, string Title)> Offered()
    {
        var service = Draft.Service ?? ServiceKind.Wye;
        yield return (MeterShows.Angles, "Angles");
        yield return (MeterShows.Powers, "Watts, vars");
        yield return (MeterShows.PowerFactors, "VA, power factor");
        if (!ReadingSheet.Between(service).IsEmpty) yield return (MeterShows.BetweenLeads, "Lead to lead");
        if (ReadingSheet.HasNeutral(service)) yield return (MeterShows.NeutralClamp, "Neutral clamp");
        if (ReadingSheet.HasNeutral(service)) yield return (MeterShows.GroundLead, "Neutral to ground");
    }
}
