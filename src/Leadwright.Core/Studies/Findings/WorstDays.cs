using System.Collections.Immutable;
using Leadwright.Core.Logs;
using Leadwright.Core.Studies.Events;
using Leadwright.Core.Studies.Load;

namespace Leadwright.Core.Studies.Findings;

/// <summary>A day by one statistic.</summary>
/// <param name="Day">The day, by the recorder's clock.</param>
/// <param name="Value">The statistic.</param>
/// <param name="KnownShare">Share of the day that it rests on.</param>
/// <param name="At">When it was so; null for counts and percentiles.</param>
public readonly record struct RankedDay(DateOnly Day, double Value, double KnownShare, DateTime? At = null);

/// <summary>The days in the order of one statistic.</summary>
/// <param name="Name">What is ranked.</param>
/// <param name="Unit">Its unit.</param>
/// <param name="Days">All days that have it, worst first; alike ones in the order of time.</param>
public sealed record WorstDays(string Name, string Unit, ImmutableArray<RankedDay> Days)
{
    /// <summary>Ranks the days by every statistic that the data has.</summary>
    /// <param name="data">The log.</param>
    /// <param name="load">The load study; null without power.</param>
    /// <param name="events">The events; empty for none.</param>
    /// <returns>Empty for records within one day.</returns>
    /// <remarks>Voltages, unbalance, distortion and flicker without the intervals in which a dip, swell or interruption lasted: those are told as events.
    /// A day counts however little of it was recorded; its share is told.</remarks>
    public static ImmutableArray<WorstDays> Of(StudyData data, LoadStudy? load, ImmutableArray<StudyEvent> events)
    {
        ArgumentNullException.ThrowIfNull(data);
        if (data.Log.Count == 0 || data.Log.From.Date == data.Log.To.AddTicks(-1).Date) return [];
        var flagged = data.Flagged.IsEmpty ? LoggedInterruptions.Of(data) : data.Flagged.ToArray();
        var found = new List<WorstDays>();
        if (load is { Peaks: [var peak, ..] } && Demand.Series(load.Power, peak.Kind, peak.Minutes) is { } demand)
        {
            Add(found, FormattableString.Invariant($"highest demand, {peak.Minutes:0.##} min"), "kW", [demand], [], largest: true, 0.001);
            found.Add(Ranked("energy to the load", "kWh", load.Days.Where(row => row.ImportWattHours > 0).Select(row => new RankedDay(DateOnly.FromDateTime(row.From), row.ImportWattHours / 1000, row.KnownSeconds / 86400)), largest: true));
        }

        LogPlace[] pairs = [LogPlace.Pair12, LogPlace.Pair23, LogPlace.Pair31];
        StudySeries[] Series(LogQuantity quantity, IEnumerable<LogPlace> places) => [.. places.Select(place => data.Series(quantity, place)).OfType<StudySeries>()];
        var volts = Series(LogQuantity.Voltage, StudyData.Phases);
        if (volts.Length == 0) volts = Series(LogQuantity.Voltage, pairs);
        Add(found, "lowest voltage", "V", volts, flagged, largest: false);
        Add(found, "highest voltage", "V", volts, flagged, largest: true);
        Add(found, "voltage unbalance, 95 %", "%", Series(LogQuantity.VoltageUnbalance, [LogPlace.Whole]), flagged, largest: true, percent: 95);
        Add(found, "voltage THD, 95 %", "%", Series(LogQuantity.VoltageDistortion, [.. StudyData.Phases, .. pairs]), flagged, largest: true, percent: 95);
        Add(found, "current THD, 95 %", "%", Series(LogQuantity.CurrentDistortion, StudyData.Phases), flagged, largest: true, percent: 95);
        Add(found, "neutral current", "A", Series(LogQuantity.Current, [LogPlace.Neutral]), [], largest: true);
        Add(found, "flicker Pst", "", Series(LogQuantity.ShortTermFlicker, [.. StudyData.Phases, .. pairs]), flagged, largest: true);
        foreach (var other in data.Others.Where(other => other.Log.Has(LogQuantity.ShortTermFlicker)))
            Add(found, "flicker Pst", "", [.. StudyData.Phases.Concat(pairs).Select(place => other.Series(LogQuantity.ShortTermFlicker, place)).OfType<StudySeries>()], other.Flagged.ToArray(), largest: true);
        if (!events.IsDefaultOrEmpty)
            found.Add(Ranked("voltage events", "", events.Where(happened => happened.Kind != "transient").GroupBy(happened => DateOnly.FromDateTime(happened.Start)).Select(group => new RankedDay(group.Key, group.Count(), 1)), largest: true));
        return [.. found.Where(ranking => ranking.Days.Length > 0)];
    }

    private static void Add(List<WorstDays> found, string name, string unit, StudySeries[] channels, bool[] flagged, bool largest, double factor = 1, double percent = double.NaN)
    {
        if (channels.Length == 0) return;
        var worst = new Dictionary<DateOnly, RankedDay>();
        foreach (var day in channels.SelectMany(channel => ByDay(channel, flagged, largest, factor, percent)))
        {
            if (!worst.TryGetValue(day.Day, out var known) || (largest ? day.Value > known.Value : day.Value < known.Value)) worst[day.Day] = day;
        }

        found.Add(Ranked(name, unit, worst.Values, largest));
    }

    private static WorstDays Ranked(string name, string unit, IEnumerable<RankedDay> days, bool largest) =>
        new(name, unit, [.. days.OrderBy(day => largest ? -day.Value : day.Value).ThenBy(day => day.Day)]);

    private static IEnumerable<RankedDay> ByDay(StudySeries series, bool[] flagged, bool largest, double factor, double percent)
    {
        var sound = new List<double>();
        for (var row = 0; row < series.Count;)
        {
            var day = series.Starts.Span[row] / TimeSpan.TicksPerDay;
            var at = -1;
            sound.Clear();
            for (; row < series.Count && series.Starts.Span[row] / TimeSpan.TicksPerDay == day; row++)
            {
                if (!series.IsSound(row) || (row < flagged.Length && flagged[row])) continue;
                if (at < 0 || (largest ? series.Values[row] > series.Values[at] : series.Values[row] < series.Values[at])) at = row;
                sound.Add(series.Values[row]);
            }

            if (at < 0) continue;
            var date = DateOnly.FromDateTime(series.StartOf(at));
            var share = Math.Min(sound.Count * series.IntervalSeconds / 86400, 1);
            yield return double.IsNaN(percent)
                ? new RankedDay(date, factor * series.Values[at], share, series.StartOf(at))
                : new RankedDay(date, factor * Percentile.OfUnsorted(System.Runtime.InteropServices.CollectionsMarshal.AsSpan(sound), percent), share);
        }
    }
}
