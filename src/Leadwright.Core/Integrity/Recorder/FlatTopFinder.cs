using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity.Chains;
using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Integrity.Recorder;

/// <summary>Finds clamps that stood at the end of their range: the largest values pile up where they should thin out.</summary>
internal static class FlatTopFinder
{
    private const double LeastBand = 0.0008;
    private static readonly double[] s_widths = [LeastBand, 0.002, 0.004];
    private static readonly double[] s_shares = [0.5, 0.65, 0.8];
    private const int LeastRows = 4;
    private const double LeastOdds = 12;
    private const double Alike = 0.0015;
    private const int LeastBelow = 3;
    private const double BelowShare = 0.25;

    /// <summary>So near the top the current of a heater lies whatever the voltage does.</summary>
    private const double NearTop = 0.97;
    private const int LeastOfLoad = 8;
    private const double StillAnyway = 0.001;

    /// <summary>No reading of the same end lies higher above it than this.</summary>
    private const double Noise = 0.97;

    /// <summary>Nats that choosing another top than the largest value costs.</summary>
    private const double Choice = 3;
    private const double Apart = 3600;
    private const double Crest = 4.2;
    private const int LeastOccasions = 3;
    private const double LeastProof = 6;
    private const double Doubtful = 0.6;

    /// <param name="frame">The recording.</param>
    /// <param name="spans">Where the spans go.</param>
    /// <param name="currents">What the clamps do, with the voltages' answers: asked in rows of seconds; null where not known.</param>
    public static void Find(GuardFrame frame, List<GuardSpan> spans, CurrentHistory?[]? currents = null)
    {
        var tops = new double[4];
        var piles = new (double Band, int At, double Odds)[4];
        for (var clamp = 0; clamp < 4; clamp++)
        {
            if (frame.Amperes[clamp] is { } column) (tops[clamp], piles[clamp]) = Highest(column, Math.Max(1, (int)(Apart / frame.Log.IntervalSeconds)));
        }

        var found = new (double Band, int At, double Odds)?[4];
        // What else tells in rows of seconds, where loads stand still for minutes.
        var hidden = new (double Odds, bool IsTold)?[4];
        var isOfSeconds = frame.Log.IntervalSeconds <= RangeOfSeconds.Longest;
        for (var clamp = 0; clamp < 4; clamp++)
        {
            if (frame.Amperes[clamp] is not { } column || !(tops[clamp] > 0)) continue;
            var (band, at, odds) = piles[clamp];
            if (currents is not null && isOfSeconds && at >= LeastRows) hidden[clamp] = RangeOfSeconds.Weigh(currents, frame.NeutralSum, column, clamp, tops[clamp], tops[clamp] * (1 - band));
            if (!(hidden[clamp]?.Odds >= LeastOdds) && ((at >= LeastRows && !ComesUpToIt(column, tops[clamp], at)) || IsCrest(frame, column, tops[clamp], band))) continue;
            // Two clamps that end at one value end at their range, unless their lines carry one current, or as much as each other.
            if (Enumerable.Range(0, 4).Any(other => other != clamp && tops[other] > 0 && Math.Abs((tops[other] / tops[clamp]) - 1) < Alike && !AreAlike(column, frame.Amperes[other]!))) odds += 5;
            found[clamp] = (band, at, odds);
        }

        // Rows closer than a minute go on from one another: how they crowd tells of the course, not of the range.
        var (range, ends) = frame.Log.IntervalSeconds >= 60 ? Range(frame, tops, found) : (0, 0);
        for (var clamp = 0; clamp < 4; clamp++)
        {
            if (found[clamp] is not { } top) continue;
            var isFlat = top.At >= LeastRows && top.Odds >= LeastOdds && (hidden[clamp]?.Odds >= LeastOdds || IsCut(frame.Amperes[clamp]!, tops[clamp], top.Band));
            // Clamps of one kind end at one range: where that is known, a single interval at it counts.
            // The neutral's clamp, and rows below a minute: another clamp's flat top at the same value.
            var isAtOther = ends == 0 && Enumerable.Range(0, 4).Any(other => other != clamp && found[other] is { At: >= LeastRows, Odds: >= LeastOdds } && !(hidden[other]?.Odds < LeastProof)
                && Math.Abs((tops[other] / tops[clamp]) - 1) < Alike);
            var isAtRange = ends >= LeastOdds && tops[clamp] >= range * (1 - Alike);
            var isNear = ends >= LeastOdds && clamp < 3 && !isAtRange && tops[clamp] < range && tops[clamp] >= range * (1 - Within(frame.Amperes[clamp]!));
            if (!isFlat && !isAtRange && !isNear && !isAtOther) continue;
            if (clamp < 3 && !(hidden[clamp]?.Odds >= LeastOdds) && GoesWithVoltage(frame, clamp, tops[clamp])) continue;
            if (hidden[clamp] is { Odds: < LeastProof, IsTold: true } && !isAtOther) continue;
            var odds = isFlat ? Math.Max(top.Odds, isAtRange ? ends : 0) : isAtOther ? LeastOdds : ends;
            var end = isAtRange || isNear ? range : tops[clamp];
            var band = isNear ? Within(frame.Amperes[clamp]!) : Math.Max(top.Band, isAtRange ? Alike : 0);
            // Partly beyond it is what an interval is whose mean lies less below the range than values move from one to the next.
            var confidence = isNear ? 0.85 : Math.Min(0.99, 1 - Math.Exp(-odds / 4));
            // Nothing else tells a load that stands still from a range's end.
            if (hidden[clamp] is { Odds: < LeastProof } && !isAtOther) confidence = Math.Min(confidence, Doubtful);
            foreach (var (from, to) in Rows(frame.Amperes[clamp]!, end * (1 - band)))
            {
                if (IsTheLoads(frame, tops, clamp, from, to)) continue;
                spans.Add(new GuardSpan(
                    SpanKind.OverRange, [], [(Clamp)clamp], frame.From(from), frame.To(to), confidence,
                    new SpanFinding(SpanRelation.ValuesPileUp, odds) { Within = end, Intervals = top.At }));
            }
        }
    }

    /// <summary>True where another line's current keeps as still over the same rows, at a value of its own: then the load does.</summary>
    private static bool IsTheLoads(GuardFrame frame, double[] tops, int clamp, int from, int to)
    {
        if (clamp == 3 || to - from + 1 < LeastOfLoad) return false;
        // The rows of the edges may be mixed.
        var own = SpreadOf(frame.Amperes[clamp]!, from + 1, to - 1);
        for (var other = 0; other < frame.Lines; other++)
        {
            if (other == clamp || frame.Amperes[other] is not { } column || Math.Abs((tops[other] / tops[clamp]) - 1) < Alike) continue;
            if (SpreadOf(column, from + 1, to - 1) < (1.5 * own) + StillAnyway) return true;
        }

        return false;
    }

    /// <summary>From the least to the most, over the most.</summary>
    private static double SpreadOf(double[] column, int from, int to)
    {
        var (least, most) = (double.PositiveInfinity, 0.0);
        for (var row = from; row <= to; row++) (least, most) = (Math.Min(least, column[row]), Math.Max(most, column[row]));
        return (most - least) / most;
    }

    /// <summary>True where values lie between half the top and the top as well: a load that goes beyond a range comes up to it, one of a single size stands at its own level.</summary>
    private static bool ComesUpToIt(double[] column, double top, int atTop) => Count(column, 0.5 * top, 0.985 * top) >= Math.Max(LeastBelow, BelowShare * atTop);

    /// <summary>True where most of the largest values lie on smooth crests: as far again beside a crest as it is wide a parabola has sunk by nine times what it sinks
    /// within it, where a course that was cut off has sunk by much more.</summary>
    private static bool IsCrest(GuardFrame frame, double[] column, double top, double band)
    {
        int onCrests = 0, all = 0;
        var step = Robust.Step(column);
        var least = Math.Max(band * top, step);
        double early = 24, late = 0;
        foreach (var (from, to) in Rows(column, top * (1 - band)))
        {
            var length = to - from + 1;
            all += length;
            early = Math.Min(early, frame.From(from).TimeOfDay.TotalHours);
            late = Math.Max(late, frame.From(to).TimeOfDay.TotalHours);
            if (length < 3) continue;
            double sunk = 0, next = 0;
            var sides = 0;
            foreach (var (beside, far) in new[] { (from - 1, from - length), (to + 1, to + length) })
            {
                if (far < 0 || far >= column.Length || double.IsNaN(column[far]) || double.IsNaN(column[beside])) continue;
                sunk += top - column[far];
                next += top - column[beside];
                sides++;
            }

            if (sides > 0 && sunk / sides < 13 * least && next / sides < 3 * least) onCrests += length;
        }

        // Of amperes written coarsely only a crest that comes at its hour of every day is known to be one.
        return all >= LeastRows && 2 * onCrests > all && (step < 0.008 * top || late - early < 3);
    }

    /// <summary>True where the top was reached time and again, or was held to the last digit by a current that never keeps still otherwise: a load at its largest for
    /// once is no end of a range.</summary>
    private static bool IsCut(double[] column, double top, double band)
    {
        var runs = Rows(column, top * (1 - band)).ToList();
        if (runs.Count >= 3) return true;
        int held = 0, inside = 0, still = 0, all = 0;
        for (var row = 1; row < column.Length; row++)
        {
            if (!(column[row] > 0) || !(column[row - 1] > 0)) continue;
            var isSame = Math.Abs(column[row] - column[row - 1]) < 1e-9 * top;
            var isInside = runs.Exists(run => row > run.From && row <= run.To);
            if (isInside) (inside, held) = (inside + 1, held + (isSame ? 1 : 0));
            else (all, still) = (all + 1, still + (isSame ? 1 : 0));
        }

        return inside >= LeastRows && held > 0.7 * inside && (double)still / Math.Max(1, all) < 0.5 * held / inside;
    }

    /// <summary>True where two clamps keep one ratio whatever they carry: a load of three lines alike is one current.</summary>
    private static bool AreOne(double[] one, double[] other)
    {
        var ratios = new double[one.Length];
        for (var row = 0; row < ratios.Length; row++) ratios[row] = one[row] > 0 && other[row] > 0 ? Math.Log(one[row] / other[row]) : double.NaN;
        return Robust.Deviation(ratios) < 0.01 && Math.Abs(Robust.Median(ratios)) < 2 * Alike;
    }

    /// <summary>True where two currents are one, or their middle and larger values are as large as each other, as far as so many rows tell: such lines end at one value by themselves. The
    /// median of n values that spread by half of themselves is known to 0.6/√n; three times that.</summary>
    private static bool AreAlike(double[] one, double[] other)
    {
        var slack = Math.Clamp(2 / Math.Sqrt(one.Length), 0.02, 0.08);
        return AreOne(one, other) || Array.TrueForAll(s_shares, share => Math.Abs(Math.Log(Robust.Quantile(one, share) / Robust.Quantile(other, share))) < slack);
    }

    /// <summary>True where the largest values go with the voltage, as those of a heater do, or against it, as those of a drive; the end of a range does neither.</summary>
    private static bool GoesWithVoltage(GuardFrame frame, int clamp, double top)
    {
        if (frame.IsPairs || frame.Volts[clamp] is not { } volts) return false;
        var column = frame.Amperes[clamp]!;
        var (amperes, ohms, watts) = (new List<double>(), new List<double>(), new List<double>());
        for (var row = 0; row < column.Length; row++)
        {
            if (!(column[row] > NearTop * top) || !(volts[row] > 0.5)) continue;
            amperes.Add(Math.Log(column[row] / top));
            ohms.Add(amperes[^1] - Math.Log(volts[row]));
            watts.Add(amperes[^1] + Math.Log(volts[row]));
        }

        // A few rows whose voltage was read at another place must not hide it.
        return amperes.Count >= 5 && (IsStiller(ohms, amperes) || IsStiller(watts, amperes));
    }

    private static bool IsStiller(List<double> one, List<double> other) => SquaresAboutMean(one) < 0.5 * SquaresAboutMean(other)
        || (other.Count >= 12 && Math.Pow(Robust.Deviation([.. one]), 2) < 0.5 * Math.Pow(Robust.Deviation([.. other]), 2));

    private static double SquaresAboutMean(List<double> values)
    {
        var mean = values.Average();
        return values.Sum(value => (value - mean) * (value - mean));
    }

    /// <summary>The range that the line clamps share, with the log-odds for it: how their largest values crowd, and whether they end at one value.</summary>
    private static (double Range, double Odds) Range(GuardFrame frame, double[] tops, (double Band, int At, double Odds)?[] found)
    {
        var range = tops.Take(3).Max();
        if (!(range > 0)) return (0, 0);
        double odds = 0;
        var members = 0;
        for (var clamp = 0; clamp < 3; clamp++)
        {
            if (found[clamp] is not { } top || tops[clamp] < range * (1 - Alike)) continue;
            // What one current says is not said again by the next line that carries it.
            if (Enumerable.Range(0, clamp).Any(other => found[other] is not null && tops[other] >= range * (1 - Alike) && AreOne(frame.Amperes[clamp]!, frame.Amperes[other]!))) continue;
            odds += Math.Max(Crowd(frame.Amperes[clamp]!, tops[clamp]), Math.Max(0, top.Odds - 5));
            var isLikeAnother = Enumerable.Range(0, clamp).Any(other => found[other] is not null && tops[other] >= range * (1 - Alike) && AreAlike(frame.Amperes[clamp]!, frame.Amperes[other]!));
            if (members++ > 0 && !isLikeAnother) odds += 5;
        }

        return (range, odds);
    }

    /// <summary>Log-odds that the largest values crowd below an end.</summary>
    /// <remarks>In an exponential tail of mean excess τ the k largest of many values lie within b of each other with the probability
    /// (1 − e^(−b/τ))^(k−1) (A. Rényi, Acta Math. Acad. Sci. Hung. 4 (1953) 191, from memory). τ is that of the fortieth largest and above. Values
    /// in a row count once: a course may dwell at its crest. Four nats pay for the choice of k.</remarks>
    private static double Crowd(double[] column, double top)
    {
        const int Tail = 40;
        // The largest of each visit above the tail's foot.
        var sorted = column.Where(value => value > 0).OrderDescending().Take(4 * Tail).ToArray();
        if (sorted.Length < 4 * Tail) return 0;
        var foot = sorted[^1];
        var peaks = new List<double>();
        for (var row = 0; row < column.Length; row++)
        {
            if (!(column[row] >= foot)) continue;
            var most = column[row];
            while (row + 1 < column.Length && column[row + 1] >= 0.98 * most) most = Math.Max(most, column[++row]);
            peaks.Add(most / top);
        }

        peaks.Sort((one, other) => other.CompareTo(one));
        if (peaks.Count < 12) return 0;
        var tail = Math.Min(Tail, peaks.Count);
        // Trimmed of what crowds: the excess of the lower half over the foot, doubled by the halving of an exponential tail.
        var excess = Math.Max(0.004, (peaks[tail / 2] - peaks[tail - 1]) / Math.Log(2));
        var best = 0.0;
        var hasNoTail = Count(column, 0.9 * top, 0.97 * top) > 0.6 * Count(column, 0.8 * top, 0.87 * top);
        // What is written coarsely lies at one value without being held there.
        var least = Math.Max(0.0005, 1.001 * Robust.Step(column) / top);
        for (var count = 3; count <= tail / 2; count++)
        {
            var spread = Math.Max(1 - peaks[count - 1], least);
            if (spread > 0.004) break;
            // A load that draws anything up to a most has no tail at all: what crowds must lie closer than what comes next below it.
            var next = peaks.Count(peak => peak < 1 - spread && peak >= 1 - (2 * spread) - 1e-9);
            // Neither number is a rate that is known: as many in both is what a load without an end would leave.
            var half = (count + next) / 2.0;
            var edge = count > next ? (count * Math.Log(count / half)) + (next == 0 ? 0 : next * Math.Log(next / half)) : 0;
            var crowd = (-(count - 1) * Math.Log(1 - Math.Exp(-spread / excess))) - 4;
            best = Math.Max(best, hasNoTail ? Math.Min(crowd, 1.3 * edge) : crowd);
        }

        return best;
    }

    /// <summary>Half of what a value usually moves from one interval to the next: how far the current wanders within one.</summary>
    private static double Within(double[] column)
    {
        var changes = new List<double>();
        var high = Robust.Quantile(column, 0.5);
        for (var row = 1; row < column.Length; row += Math.Max(1, column.Length / 20000))
        {
            if (column[row] > high && column[row - 1] > high) changes.Add(Math.Log(column[row] / column[row - 1]));
        }

        var spread = Robust.Deviation([.. changes]);
        return double.IsNaN(spread) ? 0 : Math.Min(0.04, 0.5 * spread);
    }

    /// <summary>The largest value, or where the values pile up a little below it: the end of a range is read with some noise, and a few lie above.</summary>
    private static (double Top, (double Band, int At, double Odds) Pile) Highest(double[] column, int apart)
    {
        double[] sorted = [.. column.Where(value => value > 0).OrderDescending()];
        if (sorted.Length == 0) return (0, default);
        var (top, pile) = (sorted[0], Weigh(column, sorted[0], apart));
        // Of amperes written coarsely every value is a pile.
        if (0.6 * Robust.Step(column) > s_widths[^1] * sorted[0]) return (top, pile);
        var bar = pile.Odds + Choice;
        for (var above = 1; above < sorted.Length / 4 && sorted[above] > Noise * sorted[0]; above = Math.Max(above + 1, (int)(1.3 * above)))
        {
            var lower = Weigh(column, sorted[above], apart);
            var most = column.Count(value => value > 1.0001 * sorted[above]);
            if (lower.Odds - Choice <= bar || lower.At < 4 * most || Occasions(column, sorted[above] * (1 - lower.Band), apart) < LeastOccasions) continue;
            (top, pile, bar) = (sorted[above], lower with { Odds = lower.Odds - Choice }, lower.Odds);
        }

        return (top, pile);
    }

    /// <summary>How many times the values came there, hours apart: one load stands at its own level once.</summary>
    private static int Occasions(double[] column, double least, int apart)
    {
        var (count, last) = (0, int.MinValue / 2);
        foreach (var (from, to) in Rows(column, least))
        {
            if (from - last > apart) count++;
            last = to;
        }

        return count;
    }

    /// <summary>How far the largest values pile up, in the band of a few widths that shows it best.</summary>
    private static (double Band, int At, double Odds) Weigh(double[] column, double top, int apart)
    {
        (double Band, int At, double Odds) best = (LeastBand, 0, 0);
        var step = 0.6 * Robust.Step(column) / top;
        foreach (var width in s_widths)
        {
            var band = Math.Max(width, step);
            var at = Count(column, top * (1 - band), top * 1.0001);

            // A smooth course dwells at its crest: the crest of a sine holds four times what the nine bands below hold each. More is a flat top.
            // One that goes in and out from one row to the next does not dwell.
            var dwelling = Occasions(column, top * (1 - band), apart) < LeastOccasions ? Crest : Math.Clamp(at / (double)Rows(column, top * (1 - band)).Count(), 2, Crest);
            var below = Count(column, top * (1 - (10 * band)), top * (1 - band)) / 9.0;
            var expected = Math.Max(1.0, dwelling * below);
            var odds = at > expected ? (at * Math.Log(at / expected)) - (at - expected) : 0;
            if (odds > best.Odds + 1) best = (band, at, odds);
        }

        return best;
    }

    private static int Count(double[] column, double from, double to)
    {
        var count = 0;
        foreach (var value in column)
        {
            if (value >= from && value < to) count++;
        }

        return count;
    }

    /// <summary>The runs of rows that reach a value, those joined that stand no further apart than so many rows.</summary>
    internal static List<(int From, int To)> Stays(double[] column, double least, int apart)
    {
        var stays = new List<(int From, int To)>();
        foreach (var run in Rows(column, least))
        {
            if (stays.Count > 0 && run.From - stays[^1].To <= apart) stays[^1] = (stays[^1].From, run.To);
            else stays.Add(run);
        }

        return stays;
    }

    /// <summary>The runs of rows that reach a value.</summary>
    internal static IEnumerable<(int From, int To)> Rows(double[] column, double least)
    {
        for (var row = 0; row < column.Length; row++)
        {
            if (!(column[row] >= least)) continue;
            var last = row;
            while (last + 1 < column.Length && column[last + 1] >= least) last++;
            yield return (row, last);
            row = last;
        }
    }
}
