using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Wording;

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
        return place is { } on ? Say.Of("at.lead-is-on", "lead {lead} is on {conductor}", ("lead", lead), ("conductor", naming.Phrase(on))) : Say.Of("at.lead-makes-no-contact", "lead {lead} makes no contact", ("lead", lead));
    }

    /// <summary>How a clamp sits: <c>clamp I2 is on conductor C (grey) and faces the source</c>.</summary>
    /// <param name="clamp">The clamp.</param>
    /// <param name="place">How it sits.</param>
    /// <param name="naming">How the site's conductors are called.</param>
    public static string Of(Clamp clamp, ClampPlace place, ConductorNaming naming)
    {
        ArgumentNullException.ThrowIfNull(naming);
        if (place.On is not { } on) return Say.Of("at.clamp-surrounds-nothing-or-is", "clamp {clamp} surrounds nothing or is not closed", ("clamp", clamp));
        var text = Say.Of("at.clamp-is-on-and-faces", "clamp {clamp} is on {conductor} and faces the {way}", ("clamp", clamp), ("conductor", naming.Phrase(on)), ("way", (place.Reversed ? Say.Of("at.source", "source") : Say.Of("at.load", "load"))));
        return place.Scale == 1 ? text : Say.Of("at.it-reads", "{text}; it reads {ratio}", ("text", text), ("ratio", Phrases.Ratio(place.Scale)));
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
        if (rival.IsRight) return Say.Of("at.a-hook-up-with-nothing", "a hook-up with nothing wrong");
        if (difference.IsAllClampsTurned) return Say.Of("at.all-clamps-the-other-way", "all clamps the other way round");
        var parts = difference.Leads.Select(lead => Brief(lead, rival.Leads[lead]))
            .Concat(difference.Clamps.Select(clamp => Brief(clamp, rival.Clamps[clamp]))).ToArray();
        return parts.Length switch
        {
            0 => Say.Of("at.the-same-hook-up", "the same hook-up"),
            <= 3 => Phrases.Join(parts),
            _ => Say.Of("at.and-more-in-other-places", "{list} and {count} more in other places", ("list", string.Join(", ", parts[..2])), ("count", Phrases.Count(parts.Length - 2))),
        };
    }

    private static string Brief(Lead lead, Conductor? place) =>
        place is { } on ? Say.Of("at.lead-on", "lead {lead} on {conductor}", ("lead", lead), ("conductor", ConductorNaming.Brief(on))) : Say.Of("at.lead-in-the-air", "lead {lead} in the air", ("lead", lead));

    private static string Brief(Clamp clamp, ClampPlace place)
    {
        if (place.On is not { } on) return Say.Of("at.clamp-round-nothing", "clamp {clamp} round nothing", ("clamp", clamp));
        var text = Say.Of("at.clamp-on-facing-the", "clamp {clamp} on {conductor} facing the {way}", ("clamp", clamp), ("conductor", ConductorNaming.Brief(on)), ("way", (place.Reversed ? Say.Of("at.source", "source") : Say.Of("at.load", "load"))));
        return place.Scale == 1 ? text : Say.Of("at.reading", "{text} reading {ratio}", ("text", text), ("ratio", Phrases.Ratio(place.Scale)));
    }
}
