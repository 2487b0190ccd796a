using Leadwright.Core.Hookups;
using Leadwright.Core.Wording;

namespace Leadwright.Reports.Hookups;

/// <summary>Says which other hook-ups would read just the same, and what else tells them apart.</summary>
public static class SameReadingWording
{
    /// <summary>One such hook-up in a sentence.</summary>
    /// <param name="answer">The reported answer.</param>
    /// <param name="same">A hook-up that reads the same.</param>
    /// <param name="naming">How the site's conductors are called.</param>
    public static string Of(Answer answer, SameReading same, ConductorNaming naming)
    {
        ArgumentNullException.ThrowIfNull(answer);
        ArgumentNullException.ThrowIfNull(same);
        ArgumentNullException.ThrowIfNull(naming);
        var difference = new HookupDifference(answer.Hookup, same.Hookup);
        if (difference.Relabelling() is { } map)
        {
            var moved = map.Where(pair => pair.Key != pair.Value).Select(pair => pair.Key).ToArray();
            return moved.Length == 2 ? Exchanged(answer, same, moved) :
                Say.Of("alike.all-leads-and-clamps-moved", "All leads and clamps moved round together by one phase would read the same: go by the conductor colours and labels.");
        }

        if (difference.IsAllClampsTurned)
            return Say.Of("alike.all-clamps-turned-round-while", "All clamps turned round, while power flows back to the source, would read the same: know which way the power flows, or switch on a known load.");
        if (difference.Leads.IsEmpty && difference.Clamps.IsEmpty)
        {
            return CheckWords.InSentence(same.Rotation) is { } rotation
                ? Say.Of("alike.a-supply-that-turns-would", "A supply that turns {rotation} would read the same: a rotation indicator tells.", ("rotation", rotation))
                : Say.Of("alike.a-supply-of-the-other", "A supply of the other rotation would read the same: a rotation indicator tells.");
        }

        if (difference.IsRatiosOnly)
            return Say.Of("alike.would-read-the-same-compare", "{hookup} would read the same: compare with a hand clamp to tell.", ("hookup", Phrases.Sentence(PlaceWording.Rival(answer.Hookup, same.Hookup))[..^1]));
        return Say.Of("alike.would-read-the-same-follow", "{hookup} would read the same: follow each cable to its conductor to tell.", ("hookup", Phrases.Sentence(PlaceWording.Rival(answer.Hookup, same.Hookup))[..^1]));
    }

    private static string Exchanged(Answer answer, SameReading same, IEnumerable<Core.Circuits.Conductor> moved)
    {
        var supply = same.Rotation != answer.Rotation && CheckWords.InSentence(same.Rotation) is { } rotation
            ? Say.Of("alike.on-a-supply-that-turns", ", on a supply that turns {rotation},", ("rotation", rotation)) : "";
        var tell = supply.Length > 0 ? Say.Of("alike.a-rotation-indicator-tells", "a rotation indicator tells") : Say.Of("alike.go-by-the-conductor-colours", "go by the conductor colours and labels");
        return Say.Of("alike.the-leads-and-clamps-of", "The leads and clamps of {moved} exchanged together{supply} would read the same: {tell}.", ("moved", Phrases.Join(moved)), ("supply", supply), ("tell", tell));
    }
}
