using System.Collections.Immutable;
using System.Runtime.InteropServices;
using Leadwright.Core.Circuits;
using Leadwright.Core.Logs;
using Leadwright.Core.Wording;

namespace Leadwright.Core.Studies.Limits;

/// <summary>Judges a log by a table of limits.</summary>
/// <remarks>
/// <para>Values in which a dip, swell or interruption lasted are left out (flagged, IEC 61000-4-30 clause 4.7); values that are only estimated count as missing.
/// A period counts as whole when 98 % of its values are there (our choice; no standard gives a figure).</para>
/// <para>A limit fails as soon as more values lie outside than a whole period allows, whole or not; it passes only over a whole period. Periods follow
/// each other from the first value on; the worst is shown. See docs/methods/limits.md.</para>
/// <para>Each channel is judged by itself. The line of a rule is that of its worst channel among those that could be judged; the others, and why they could not, stand with it:
/// one lost lead does not hide what the other leads measured.</para>
/// </remarks>
public static class LimitCheck
{
    private const double LeastCoverage = 0.98;

    /// <summary>Judges.</summary>
    /// <param name="data">The log.</param>
    /// <param name="table">The limits.</param>
    /// <param name="site">The place.</param>
    /// <returns>One line for each rule that applies, in the order of the table.</returns>
    public static ImmutableArray<LimitLine> Judge(StudyData data, LimitTable table, LimitSite site)
    {
        ArgumentNullException.ThrowIfNull(data);
        ArgumentNullException.ThrowIfNull(table);
        ArgumentNullException.ThrowIfNull(site);
        data = Flagged(data) with { Others = [.. data.Others.Select(Flagged)] };
        var lines = ImmutableArray.CreateBuilder<LimitLine>();
        var open = new HashSet<LimitQuantity>();
        foreach (var rule in table.Rules)
        {
            var applies = rule.Scope is null ? true : rule.Scope.Applies(site);
            if (applies is true) lines.Add(Judge(data, rule, site));
            // Which of the table's rows applies is not known: one line says so.
            else if (applies is null && open.Add(rule.Quantity))
                lines.Add(IsThere(data, rule, site, out var why) ? Nothing(rule, Say.Of("judged.which-row-of-the-table", "which row of the table applies is not known: {missing}", ("missing", Missing(rule.Scope!, site)))) : Nothing(rule, why));
        }

        return lines.ToImmutable();
    }

    // Where no waveform was seen, the intervals without supply are looked for once.
    private static StudyData Flagged(StudyData data)
    {
        if (!data.Flagged.IsEmpty) return data;
        var gone = LoggedInterruptions.Of(data);
        return data with { Flagged = gone.Length > 0 ? gone : new bool[data.Log.Count] };
    }

    private static bool IsThere(StudyData data, LimitRule rule, LimitSite site, out string why) =>
        LimitSamples.Of(data, rule, site, out why).Count > 0 || data.Others.Any(other => LimitSamples.Of(other, rule, site, out _).Count > 0);

    private static LimitLine Nothing(LimitRule rule, string why) => new(rule, LogPlace.Whole, rule.OrderFrom, LimitVerdict.NotEnoughData)
    {
        Least = rule.Least * rule.Factor, Most = rule.Most * rule.Factor, Unit = UnitOf(rule), Why = why,
    };

    private static string Missing(LimitScope scope, LimitSite site)
    {
        var missing = new List<string>();
        if (!double.IsNaN(scope.Hertz) && site.NominalHertz <= 0) missing.Add(Say.Of("judged.the-nominal-frequency", "the nominal frequency"));
        if ((!double.IsNaN(scope.VoltsAbove) || !double.IsNaN(scope.VoltsUpTo)) && double.IsNaN(site.LineVolts)) missing.Add(Say.Of("judged.the-nominal-voltage", "the nominal voltage"));
        if ((!double.IsNaN(scope.RatioFrom) || !double.IsNaN(scope.RatioBelow)) && double.IsNaN(site.CurrentRatio)) missing.Add(Say.Of("judged.the-ratio-of-short-circuit", "the ratio of short-circuit to demand current"));
        if (scope.System is not null && site.System is null) missing.Add(Say.Of("judged.the-nominal-system", "the nominal system"));
        var list = missing.Count == 0 ? "" : missing.Aggregate((first, second) => Say.Of("judged.and", "{first} and {second}", ("first", first), ("second", second)));
        return missing.Count > 1 ? Say.Of("judged.are-not-stated", "{list} are not stated", ("list", list)) : Say.Of("judged.is-not-stated", "{list} is not stated", ("list", list));
    }

    private static LimitLine Judge(StudyData data, LimitRule rule, LimitSite site)
    {
        if (rule.IsOfNominal && data.Nominal is null) return Nothing(rule, Say.Of("judged.the-nominal-voltage-is-not", "the nominal voltage is not stated"));
        var samples = LimitSamples.Of(data, rule, site, out var why);
        foreach (var other in data.Others)
        {
            if (samples.Count == 0) samples = LimitSamples.Of(other, rule, site, out _);
        }

        var channels = new List<LimitLine>();
        foreach (var sample in samples)
        {
            var line = Judge(data, rule, sample);
            var at = channels.FindIndex(known => known.Place == line.Place);
            if (at < 0) channels.Add(line);
            else channels[at] = WorseOf(channels[at], line);
        }

        return channels.Count == 0 ? Nothing(rule, why) : Together(channels);
    }

    private static LimitLine Together(List<LimitLine> channels)
    {
        channels.Sort((left, right) => left.Place.CompareTo(right.Place));
        if (channels.Count == 1) return channels[0];
        var worst = channels.Aggregate(WorseOf);
        var left = worst.Verdict == LimitVerdict.NotEnoughData ? [] : channels.Where(line => line.Verdict == LimitVerdict.NotEnoughData).ToList();
        return worst with { Channels = [.. channels], Why = string.Join("; ", left.Select(line => Say.Of("judged.not-judged", "{channel} not judged: {why}", ("channel", NameOf(line)), ("why", line.Why)))) };
    }

    private static string NameOf(LimitLine line) =>
        (line.Rule.Quantity is LimitQuantity.CurrentHarmonic or LimitQuantity.CurrentDistortion ? "I" : "V") + line.Place.Suffix();

    // Of two, the worse one that could be judged.
    private static LimitLine WorseOf(LimitLine known, LimitLine line)
    {
        var isKnownJudged = known.Verdict != LimitVerdict.NotEnoughData;
        if (isKnownJudged != (line.Verdict != LimitVerdict.NotEnoughData)) return isKnownJudged ? known : line;
        return IsWorse(line, known) ? line : known;
    }

    private static bool IsWorse(LimitLine line, LimitLine than)
    {
        if (line.Verdict != than.Verdict) return Rank(line.Verdict) > Rank(than.Verdict);
        // Among alike, the one nearer to its bound.
        return Use(line) > Use(than);
    }

    private static int Rank(LimitVerdict verdict) => verdict switch { LimitVerdict.Fail => 2, LimitVerdict.NotEnoughData => 1, _ => 0 };

    private static double Use(LimitLine line)
    {
        if (double.IsNaN(line.Measured)) return double.NegativeInfinity;
        var middle = double.IsNaN(line.Least) || double.IsNaN(line.Most) ? 0 : (line.Least + line.Most) / 2;
        return double.IsNaN(line.Most) ? line.Least / line.Measured : Math.Abs(line.Measured - middle) / (line.Most - middle);
    }

    private static LimitLine Judge(StudyData data, LimitRule rule, LimitSamples samples)
    {
        var scale = rule.IsOfNominal ? NominalOf(data, samples.Place) / 100 : 1;
        var (least, most) = (rule.Least * rule.Factor * scale, rule.Most * rule.Factor * scale);
        var series = samples.Series;
        LimitLine? worst = null;
        var hasPass = false;
        for (var row = 0; row < series.Count;)
        {
            var from = series.Starts.Span[row];
            var end = rule.PeriodDays > 0 ? from + (long)(rule.PeriodDays * TimeSpan.TicksPerDay) : long.MaxValue;
            var first = row;
            while (row < series.Count && series.Starts.Span[row] < end) row++;
            var line = JudgePeriod(rule, samples, first, row, least, most);
            if (line.Verdict == LimitVerdict.Pass) hasPass = true;
            // A last, short period that could not be judged does not undo the whole ones before it.
            if (worst is null || (worst.Verdict == LimitVerdict.NotEnoughData && line.Verdict != LimitVerdict.NotEnoughData)
                || (line.Verdict != LimitVerdict.NotEnoughData && IsWorse(line, worst)) || (!hasPass && IsWorse(line, worst))) worst = line;
        }

        return worst ?? Nothing(rule, Say.Of("judged.no-value-in-the-record", "no value in the record"));
    }

    private static LimitLine JudgePeriod(LimitRule rule, LimitSamples samples, int first, int end, double least, double most)
    {
        var series = samples.Series;
        var (values, outside, flagged, weakest) = (new List<double>(end - first), 0, 0, Standing.Measured);
        for (var row = first; row < end; row++)
        {
            if (samples.FlaggedStarts.Contains(series.Starts.Span[row]))
            {
                flagged++;
                continue;
            }

            if (!series.IsSound(row)) continue;
            var value = series.Values[row];
            values.Add(value);
            if (value < least || value > most) outside++;
            if (series.StandingOf(row) > weakest) weakest = series.StandingOf(row);
        }

        var expected = rule.PeriodDays > 0 ? (int)Math.Round(rule.PeriodDays * 86400 / series.IntervalSeconds) : end - first;
        var judged = Math.Max(expected - flagged, 0);
        var allowed = (100 - rule.SharePercent) / 100;
        var isEnough = values.Count > 0 && values.Count >= LeastCoverage * judged;
        // With nearly all values there, their own share decides; before that, only more than a whole period allows is certain.
        var verdict = outside > (allowed * (isEnough ? values.Count : judged)) + 1e-9 ? LimitVerdict.Fail
            : isEnough ? LimitVerdict.Pass : LimitVerdict.NotEnoughData;
        return new LimitLine(rule, samples.Place, samples.Order, verdict)
        {
            Least = least, Most = most, Unit = UnitOf(rule),
            Measured = Statistic(values, rule.SharePercent, least, most),
            WithinPercent = values.Count > 0 ? 100.0 * (values.Count - outside) / values.Count : double.NaN,
            Count = values.Count, NeededCount = rule.PeriodDays > 0 ? judged : 0, FlaggedCount = flagged,
            From = new DateTime(series.Starts.Span[first]), Weakest = values.Count > 0 ? weakest : Standing.Lost,
            Why = verdict == LimitVerdict.NotEnoughData
                ? values.Count == 0 ? Say.Of("judged.no-value-in-the-record", "no value in the record") : Say.Of("judged.values-of-that-holds", "{count} values of {all} that {period} holds", ("count", values.Count), ("all", judged), ("period", PeriodWords(rule.PeriodDays))) : "",
        };
    }

    private static string PeriodWords(double days) => days switch { 0 => Say.Of("judged.the-record", "the record"), 1 => Say.Of("judged.a-day", "a day"), 7 => Say.Of("judged.a-week", "a week"), > 364 and < 367 => Say.Of("judged.a-year", "a year"), _ => Say.Of("judged.days", "{days} days", ("days", Say.Number(days, "0.#"))) };

    // The value beyond which the allowed share lies, at the side that is nearer to its bound.
    private static double Statistic(List<double> found, double share, double least, double most)
    {
        if (found.Count == 0) return double.NaN;
        var values = CollectionsMarshal.AsSpan(found);
        if (double.IsNaN(least)) return Percentile.OfUnsorted(values, share);
        var low = Percentile.OfUnsorted(values, 100 - share);
        if (double.IsNaN(most)) return low;
        var high = Percentile.OfUnsorted(values, share);
        var middle = (least + most) / 2;
        return (high - middle) / (most - middle) >= (middle - low) / (middle - least) ? high : low;
    }

    private static double NominalOf(StudyData data, LogPlace place)
    {
        var nominal = data.Nominal!;
        if (place is LogPlace.Pair12 or LogPlace.Pair23 or LogPlace.Pair31) return nominal.LineToLineVolts;
        return data.Service == ServiceKind.HighLeg && place == LogPlace.Phase2 ? Math.Sqrt(3) * nominal.LineToNeutralVolts : nominal.LineToNeutralVolts;
    }

    private static string UnitOf(LimitRule rule) => rule.Quantity switch
    {
        LimitQuantity.Frequency => "Hz",
        LimitQuantity.Voltage or LimitQuantity.VoltageToNeutral or LimitQuantity.VoltageBetweenLines => "V",
        LimitQuantity.LongTermFlicker or LimitQuantity.ShortTermFlicker => "",
        _ => "%",
    };
}
