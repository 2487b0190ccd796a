using System.Collections.Immutable;
using System.Globalization;
using Leadwright.Core.Logs;
using Leadwright.Core.Studies.Events;
using Leadwright.Core.Studies.Load;

namespace Leadwright.Core.Studies.Findings;

/// <summary>Something that events came together with.</summary>
/// <param name="With">What: <c>rise of load</c>, <c>fall of load</c>, <c>hour of the day</c>, <c>day of the week</c>.</param>
/// <param name="Detail">Which: the size of the step, the hour, the day.</param>
/// <param name="Hits">Events that came with it.</param>
/// <param name="Chance">Share of the recorded time within which an event would have come with it by chance.</param>
/// <param name="Probability">Probability of so many or more by chance, for as many looks as were taken; 1 at most.</param>
public sealed record EventPattern(string With, string Detail, int Hits, double Chance, double Probability)
{
    /// <summary>Odds against chance, to one; infinite where chance is next to nothing.</summary>
    public double Odds => (1 - Probability) / Probability;

    /// <summary>True when chance would do so less than once in a hundred.</summary>
    public bool IsBeyondChance => Probability < 0.01;
}

/// <summary>What events came together with.</summary>
/// <param name="Subject">What was looked at: <c>voltage events</c>, or <c>sudden falls of voltage</c> of a log without events.</param>
/// <param name="Count">How many; those within a minute of each other count once.</param>
/// <param name="Patterns">What was looked for, least likely by chance first.</param>
/// <remarks>
/// <para>An event comes with a step of the load when it lies in the interval of the step or in the one before or behind it. By chance that happens with the share of the recorded time that such
/// intervals take; the binomial tail is multiplied by the number of looks (Bonferroni: O. J. Dunn, J. Am. Stat. Assoc. 56 (1961) 52). Hours and days are held against the recorded time of each.</para>
/// <para>Coming together is no cause: a dip from outside may also make a load trip. See docs/methods/findings.md.</para>
/// </remarks>
public sealed record EventPatterns(string Subject, int Count, ImmutableArray<EventPattern> Patterns)
{
    private const int LeastEvents = 4;
    private const double SuddenFall = 0.01;

    /// <summary>Looks.</summary>
    /// <param name="data">The log.</param>
    /// <param name="power">Mean power; null when not known.</param>
    /// <param name="events">The events; null when the file holds none: then sudden falls of the voltage between neighbouring intervals are looked at.</param>
    /// <returns>Null with fewer than four.</returns>
    public static EventPatterns? Of(StudyData data, StudySeries? power, ImmutableArray<StudyEvent>? events)
    {
        ArgumentNullException.ThrowIfNull(data);
        if (data.Log.Count == 0) return null;
        if (power?.IntervalSeconds < 1 && power.Aggregate(1, isRms: false) is { } seconds) power = seconds;
        var steps = power is null ? [] : LoadStep.Find(power);
        var times = events is { } known
            ? [.. EventGroups.InTime(known.Where(found => found.HasMagnitude || found.Kind == "rapid-voltage-change"), TimeSpan.FromMinutes(1)).Select(group => group[0].Start.Ticks)]
            : Falls(data);
        if (times.Count < LeastEvents) return null;
        var patterns = new List<EventPattern>();
        foreach (var sign in (int[])[1, -1])
        {
            // A fall of voltage is seen at the end of its interval as a step is: the same row, or a neighbour.
            var own = steps.Where(step => Math.Sign(step.Watts) == sign).ToList();
            if (power is null || own.Count == 0) continue;
            var (hits, sizes, covered) = Coincident(power, own, times);
            var size = sizes.Count > 0 ? Percentile.OfUnsorted(sizes.ToArray(), 50) / 1000 : double.NaN;
            var chance = Math.Min(covered, 1);
            patterns.Add(new(
                sign > 0 ? "rise of load" : "fall of load", hits == 0 ? "" : string.Create(CultureInfo.InvariantCulture, $"some {Math.Abs(size):0.##} kW"), hits, chance, BinomialTail.AtLeast(hits, times.Count, chance)));
        }

        patterns.Add(ByPart(data, times, "hour of the day", 24, ticks => (int)(ticks % TimeSpan.TicksPerDay / TimeSpan.TicksPerHour), hour => $"{hour:00}:00 to {hour + 1:00}:00"));
        if ((data.Log.To - data.Log.From).TotalDays >= 6.9)
            patterns.Add(ByPart(data, times, "day of the week", 7, ticks => (int)new DateTime(ticks).DayOfWeek, day => $"{(DayOfWeek)day}"));
        return new EventPatterns(
            events is null ? "sudden falls of voltage" : "voltage events", times.Count,
            [.. patterns.Select(pattern => pattern with { Probability = Math.Min(pattern.Probability * patterns.Count, 1) }).OrderBy(pattern => pattern.Probability)]);
    }

    // Hits, the sizes of the steps that were hit, and the share of the rows near a step.
    private static (int Hits, List<double> Sizes, double Covered) Coincident(StudySeries power, List<LoadStep> steps, List<long> times)
    {
        var near = new Dictionary<int, double>();
        foreach (var step in steps)
        {
            for (var row = Math.Max(step.Row - 1, 0); row <= Math.Min(step.Row + 1, power.Count - 1); row++)
            {
                if (!near.TryGetValue(row, out var watts) || Math.Abs(step.Watts) > Math.Abs(watts)) near[row] = step.Watts;
            }
        }

        var starts = power.Starts.Span;
        var (hits, sizes) = (0, new List<double>());
        foreach (var time in times)
        {
            var row = starts.BinarySearch(time);
            if (row < 0) row = ~row - 1;
            if (row < 0 || time >= starts[row] + power.IntervalTicks || !near.TryGetValue(row, out var watts)) continue;
            hits++;
            sizes.Add(watts);
        }

        return (hits, sizes, (double)near.Count / power.Count);
    }

    private static EventPattern ByPart(StudyData data, List<long> times, string with, int parts, Func<long, int> partOf, Func<int, string> words)
    {
        var (rows, hits) = (new int[parts], new int[parts]);
        foreach (var start in data.Log.Starts.Span) rows[partOf(start)]++;
        foreach (var time in times) hits[partOf(time)]++;
        EventPattern? best = null;
        for (var part = 0; part < parts; part++)
        {
            var chance = (double)rows[part] / data.Log.Count;
            var probability = hits[part] == 0 ? 1 : Math.Min(BinomialTail.AtLeast(hits[part], times.Count, chance) * rows.Count(count => count > 0), 1);
            if (best is null || probability < best.Probability) best = new(with, words(part), hits[part], chance, probability);
        }

        return best!;
    }

    // Where the lowest phase falls by a hundredth of nominal from one interval to the next (our choice).
    private static List<long> Falls(StudyData data)
    {
        var falls = new SortedSet<long>();
        foreach (var place in StudyData.Phases)
        {
            if (data.Series(LogQuantity.Voltage, place) is not { } series) continue;
            var starts = series.Starts.Span;
            var usual = data.Nominal?.LineToNeutralVolts ?? series.Percentile(50);
            for (var row = 1; row < series.Count; row++)
            {
                if (!series.IsSound(row) || !series.IsSound(row - 1) || starts[row] - starts[row - 1] > series.IntervalTicks * 3 / 2) continue;
                if (series.Values[row - 1] - series.Values[row] > SuddenFall * usual && series.Values[row] > 0.5 * usual) falls.Add(starts[row]);
            }
        }

        return [.. falls];
    }
}
