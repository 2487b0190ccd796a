using Leadwright.Core.Logs;
using Leadwright.Core.Wording;

namespace Leadwright.Core.Studies.Limits;

/// <summary>The values that one rule judges at one place.</summary>
internal sealed record LimitSamples(StudySeries Series, HashSet<long> FlaggedStarts, LogPlace Place, int Order)
{
    /// <summary>All places and orders that a rule speaks of and the data holds, each over the rule's length of values.</summary>
    /// <param name="data">The log.</param>
    /// <param name="rule">The rule.</param>
    /// <param name="site">The place.</param>
    /// <param name="why">Receives why there is nothing.</param>
    public static List<LimitSamples> Of(StudyData data, LimitRule rule, LimitSite site, out string why)
    {
        why = "";
        var found = new List<LimitSamples>();
        var raw = RawOf(data, rule, site, ref why);
        foreach (var (series, place, order) in raw)
        {
            var isRms = rule.Quantity is not (LimitQuantity.Frequency or LimitQuantity.LongTermFlicker or LimitQuantity.ShortTermFlicker);
            var longer = rule.PerSeconds > 0 ? LongerOf(series, rule, isRms) : series;
            if (longer is null)
            {
                why = Say.Of("judged.the-rule-is-about-values", "the rule is about values of {perSeconds} s, the log has intervals of {intervalSeconds} s", ("perSeconds", Say.Number(rule.PerSeconds, "0.###")), ("intervalSeconds", Say.Number(series.IntervalSeconds, "0.###")));
                continue;
            }

            found.Add(new LimitSamples(longer, FlagsOf(data, data.Flagged.Span, longer), place, order));
        }

        if (raw.Count == 0 && why.Length == 0) why = Say.Of("judged.not-in-the-record", "not in the record");
        return found;
    }

    // Flicker severities are made over their own time: they are never averaged as plain values.
    private static StudySeries? LongerOf(StudySeries series, LimitRule rule, bool isRms) => rule.Quantity switch
    {
        LimitQuantity.LongTermFlicker or LimitQuantity.ShortTermFlicker => Math.Abs(series.IntervalSeconds - rule.PerSeconds) < 1 ? series : null,
        // A value of three seconds is fifteen windows of ten or twelve cycles, not just three seconds.
        _ when Math.Abs(series.IntervalSeconds - rule.PerSeconds) <= 0.05 * rule.PerSeconds => series,
        _ => series.Aggregate(rule.PerSeconds, isRms),
    };

    private static HashSet<long> FlagsOf(StudyData data, ReadOnlySpan<bool> flags, StudySeries longer)
    {
        var flagged = new HashSet<long>();
        var starts = data.Log.Starts.Span;
        var own = longer.Starts.Span;
        var at = 0;
        for (var row = 0; row < flags.Length; row++)
        {
            if (!flags[row]) continue;
            var middle = starts[row] + (data.Log.IntervalTicks / 2);
            while (at + 1 < own.Length && own[at + 1] <= middle) at++;
            if (own.Length > 0) flagged.Add(own[at]);
        }

        return flagged;
    }

    private static List<(StudySeries Series, LogPlace Place, int Order)> RawOf(StudyData data, LimitRule rule, LimitSite site, ref string why)
    {
        switch (rule.Quantity)
        {
            case LimitQuantity.Frequency: return Simple(data, LogQuantity.Frequency, [LogPlace.Whole]);
            case LimitQuantity.Voltage:
                var pairs = Simple(data, LogQuantity.Voltage, s_pairs);
                var phases = Simple(data, LogQuantity.Voltage, StudyData.Phases);
                return rule.IsOfNominal && phases.Count > 0 ? phases : [.. phases, .. pairs];
            case LimitQuantity.VoltageToNeutral: return Simple(data, LogQuantity.Voltage, StudyData.Phases);
            case LimitQuantity.VoltageBetweenLines: return Simple(data, LogQuantity.Voltage, s_pairs);
            case LimitQuantity.VoltageUnbalance:
                var logged = Simple(data, LogQuantity.VoltageUnbalance, [LogPlace.Whole]);
                return logged.Count > 0 ? logged : OfPairs(data, Circuits.Unbalance.NegativeRatioFromLineToLine, ref why);
            case LimitQuantity.VoltageDeviation:
                var column = data.Log.Columns.IndexOf(data.Log.Columns.FirstOrDefault(head => head.Name.StartsWith("u_deviation", StringComparison.Ordinal))!);
                return column >= 0 ? [(data.Series(column), LogPlace.Whole, 0)] : OfPairs(data, Circuits.Unbalance.MaximumDeviation, ref why);
            case LimitQuantity.VoltageDistortion: return Simple(data, LogQuantity.VoltageDistortion, [.. StudyData.Phases, .. s_pairs]);
            case LimitQuantity.LongTermFlicker: return Flicker(data);
            case LimitQuantity.ShortTermFlicker: return Simple(data, LogQuantity.ShortTermFlicker, [.. StudyData.Phases, .. s_pairs]);
            case LimitQuantity.VoltageHarmonic: return Harmonics(data, LogQuantity.VoltageHarmonic, rule);
            default: return Currents(data, rule, site, ref why);
        }
    }

    private static readonly LogPlace[] s_pairs = [LogPlace.Pair12, LogPlace.Pair23, LogPlace.Pair31];

    private static List<(StudySeries Series, LogPlace Place, int Order)> Simple(StudyData data, LogQuantity quantity, IEnumerable<LogPlace> places) =>
        [.. places.Select(place => (Series: data.Series(quantity, place), Place: place, Order: 0)).Where(found => found.Series is not null).Select(found => (found.Series!, found.Place, 0))];

    private static List<(StudySeries Series, LogPlace Place, int Order)> OfPairs(StudyData data, Func<double, double, double, double> rate, ref string why)
    {
        var sides = s_pairs.Select(pair => data.Series(LogQuantity.Voltage, pair)).OfType<StudySeries>().ToArray();
        if (sides.Length < 3)
        {
            why = Say.Of("judged.the-three-voltages-between-lines", "the three voltages between lines are not in the record");
            return [];
        }

        var values = new double[data.Log.Count];
        var standings = new Standing[values.Length];
        for (var row = 0; row < values.Length; row++)
        {
            // A size below zero is no rms value: whatever wrote it, nothing follows from it.
            var isThere = Array.TrueForAll(sides, side => side.Values[row] >= 0 && side.IsKnown(row));
            values[row] = isThere ? 100 * rate(sides[0].Values[row], sides[1].Values[row], sides[2].Values[row]) : double.NaN;
            standings[row] = isThere ? sides.Max(side => side.StandingOf(row)) : Standing.Lost;
        }

        return [(new StudySeries(data.Log.Starts, data.Log.IntervalSeconds, values, standings), LogPlace.Whole, 0)];
    }

    // Plt as logged, else twelve Pst of ten minutes by the clock (IEC 61000-4-15: the cube root of the mean cube).
    private static List<(StudySeries Series, LogPlace Place, int Order)> Flicker(StudyData data)
    {
        LogPlace[] places = [.. StudyData.Phases, .. s_pairs];
        if (Math.Abs(data.Log.IntervalSeconds - 7200) < 1) return Simple(data, LogQuantity.LongTermFlicker, places);
        var found = new List<(StudySeries, LogPlace, int)>();
        if (Math.Abs(data.Log.IntervalSeconds - 600) > 1) return found;
        foreach (var (series, place, _) in Simple(data, LogQuantity.ShortTermFlicker, places))
        {
            var (starts, values, standings) = (new List<long>(), new List<double>(), new List<Standing>());
            const long Length = 2 * TimeSpan.TicksPerHour;
            for (var row = 0; row < series.Count;)
            {
                var tick = series.TickOf(series.Starts.Span[row], Length);
                var (sum, count, weakest) = (0.0, 0, Standing.Measured);
                for (; row < series.Count && series.TickOf(series.Starts.Span[row], Length) == tick; row++)
                {
                    if (!series.IsSound(row)) continue;
                    sum += Math.Pow(series.Values[row], 3);
                    count++;
                    if (series.StandingOf(row) > weakest) weakest = series.StandingOf(row);
                }

                starts.Add(tick * Length);
                values.Add(count == 12 ? Math.Cbrt(sum / 12) : double.NaN);
                standings.Add(count == 12 ? weakest : Standing.Lost);
            }

            found.Add((new StudySeries(starts.ToArray(), 7200, [.. values], standings.ToArray()), place, 0));
        }

        return found;
    }

    private static List<(StudySeries Series, LogPlace Place, int Order)> Harmonics(StudyData data, LogQuantity quantity, LimitRule rule)
    {
        var found = new List<(StudySeries, LogPlace, int)>();
        for (var column = 0; column < data.Log.Columns.Length; column++)
        {
            var head = data.Log.Columns[column];
            if (head.Quantity == quantity && head.Statistic is LogStatistic.Mean or LogStatistic.Instant && head.Order >= 2 && rule.Covers(head.Order))
                found.Add((data.Series(column), head.Place, head.Order));
        }

        return found;
    }

    // Recorders log harmonics of currents in percent of the fundamental at hand; the limits are percent of the demand current.
    private static List<(StudySeries Series, LogPlace Place, int Order)> Currents(StudyData data, LimitRule rule, LimitSite site, ref string why)
    {
        if (double.IsNaN(site.DemandAmperes))
        {
            why = Say.Of("judged.the-maximum-demand-current-is", "the maximum demand current is not stated (the mean of twelve months' highest)");
            return [];
        }

        var raw = rule.Quantity == LimitQuantity.CurrentHarmonic
            ? Harmonics(data, LogQuantity.CurrentHarmonic, rule)
            : Simple(data, LogQuantity.CurrentDistortion, StudyData.Phases);
        var found = new List<(StudySeries, LogPlace, int)>();
        foreach (var (series, place, order) in raw)
        {
            if (data.Series(LogQuantity.Current, place) is not { } rms) continue;
            var distortion = data.Series(LogQuantity.CurrentDistortion, place);
            var values = new double[series.Count];
            var standings = new Standing[series.Count];
            for (var row = 0; row < values.Length; row++)
            {
                var share = distortion?.Values[row] / 100 ?? 0;
                values[row] = series.Values[row] * rms.Values[row] / Math.Sqrt(1 + (share * share)) / site.DemandAmperes;
                standings[row] = (Standing)Math.Max((byte)series.StandingOf(row), (byte)rms.StandingOf(row));
            }

            found.Add((new StudySeries(series.Starts, series.IntervalSeconds, values, standings), place, order));
        }

        return found;
    }
}
