using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;

namespace Leadwright.Reports.Hookups;

/// <summary>Says where a lead or clamp is.</summary>
public static class PlaceWording
{
    /// <summary>Where a lead is: <c>lead V2 is on conductor C (grey)</c>, <c>lead V2 makes no contact</c>.</summary>
    /// <param name="lead">The lead.</param>
    /// <param name="place">Its conductor; null for a lead in the air.</param>
    /// <param name="naming">How the site's conductors are called.</param>
    public static string Of(Lead lead, Conductor? place, ConductorNaming naming)
    {
        ArgumentNullException.ThrowIfNull(naming);
        return place is { } on ? $"lead {lead} is on {naming.Phrase(on)}" : $"lead {lead} makes no contact";
    }

    /// <summary>How a clamp sits: <c>clamp I2 is on conductor C (grey) and faces the source</c>.</summary>
    /// <param name="clamp">The clamp.</param>
    /// <param name="place">How it sits.</param>
    /// <param name="naming">How the site's conductors are called.</param>
    public static string Of(Clamp clamp, ClampPlace place, ConductorNaming naming)
    {
        ArgumentNullException.ThrowIfNull(naming);
        if (place.On is not { } on) return $"clamp {clamp} surrounds nothing or is not closed";
        var text = $"clamp {clamp} is on {naming.Phrase(on)} and faces the {(place.Reversed ? "source" : "load")}";
        return place.Scale == 1 ? text : $"{text}; it reads {Phrases.Ratio(place.Scale)}";
    }

    /// <summary>In what a rival hook-up differs from the reported one, as a short noun phrase:
    /// <c>clamp I2 on C facing the source</c>.</summary>
    /// <param name="reported">The reported hook-up.</param>
    /// <param name="rival">The rival.</param>
    public static string Rival(Hookup reported, Hookup rival)
    {
        ArgumentNullException.ThrowIfNull(reported);
        ArgumentNullException.ThrowIfNull(rival);
        var difference = new HookupDifference(reported, rival);
        if (rival.IsRight) return "a hook-up with nothing wrong";
        if (difference.IsAllClampsTurned) return "all clamps the other way round";
        var parts = difference.Leads.Select(lead => Brief(lead, rival.Leads[lead]))
            .Concat(difference.Clamps.Select(clamp => Brief(clamp, rival.Clamps[clamp]))).ToArray();
        return parts.Length switch
        {
            0 => "the same hook-up",
            <= 3 => Phrases.Join(parts),
            _ => $"{string.Join(", ", parts[..2])} and {Phrases.Count(parts.Length - 2)} more in other places",
        };
    }

    private static string Brief(Lead lead, Conductor? place) =>
        place is { } on ? $"lead {lead} on {ConductorNaming.Brief(on)}" : $"lead {lead} in the air";

    private static string Brief(Clamp clamp, ClampPlace place)
    {
        if (place.On is not { } on) return $"clamp {clamp} round nothing";
        var text = $"clamp {clamp} on {ConductorNaming.Brief(on)} facing the {(place.Reversed ? "source" : "load")}";
        return place.Scale == 1 ? text : $"{text} reading {Phrases.Ratio(place.Scale)}";
    }
}
