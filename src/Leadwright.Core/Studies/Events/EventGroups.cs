using System.Collections.Immutable;

namespace Leadwright.Core.Studies.Events;

/// <summary>Events that belong together.</summary>
public static class EventGroups
{
    /// <summary>Events of one kind on several channels that overlap in time become one: from the first start to the last end, with the worst magnitude.</summary>
    /// <param name="events">The events.</param>
    /// <remarks>IEC 61000-4-30 clause 5.4.2 for polyphase systems (from memory).</remarks>
    public static ImmutableArray<StudyEvent> Polyphase(IEnumerable<StudyEvent> events)
    {
        var merged = new List<StudyEvent>();
        foreach (var found in events.OrderBy(found => found.Start))
        {
            var at = merged.FindLastIndex(known => known.Kind == found.Kind && found.HasMagnitude && found.Start <= known.End);
            if (at < 0)
            {
                merged.Add(found);
                continue;
            }

            var known = merged[at];
            var end = known.End > found.End ? known.End : found.End;
            var worse = IsWorse(found, known) ? found : known;
            merged[at] = worse with
            {
                Channels = [.. known.Channels.Union(found.Channels).Order(StringComparer.Ordinal)],
                Start = known.Start,
                Seconds = (end - known.Start).TotalSeconds,
                IsCutShort = known.IsCutShort || found.IsCutShort,
            };
        }

        return [.. merged];
    }

    /// <summary>Events within a stated time of the first count as one, told by the worst: what a customer felt as one happening.</summary>
    /// <param name="events">Polyphase events.</param>
    /// <param name="window">The time; a minute is usual (common practice, no source).</param>
    public static ImmutableArray<ImmutableArray<StudyEvent>> InTime(IEnumerable<StudyEvent> events, TimeSpan window)
    {
        var groups = new List<List<StudyEvent>>();
        foreach (var found in events.OrderBy(found => found.Start))
        {
            if (groups.Count > 0 && found.Start - groups[^1][0].Start <= window) groups[^1].Add(found);
            else groups.Add([found]);
        }

        return [.. groups.Select(group => group.ToImmutableArray())];
    }

    /// <summary>The worst event of a group: the one that loses or adds most voltage times time.</summary>
    /// <param name="group">The group; not empty.</param>
    public static StudyEvent Worst(ImmutableArray<StudyEvent> group) => group.MaxBy(Weight)!;

    private static bool IsWorse(StudyEvent left, StudyEvent right) => Math.Abs(100 - left.ExtremePercent) > Math.Abs(100 - right.ExtremePercent);

    private static double Weight(StudyEvent found) => Math.Abs(100 - found.ExtremePercent) * found.Seconds;
}
