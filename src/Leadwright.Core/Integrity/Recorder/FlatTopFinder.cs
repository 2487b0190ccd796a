using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Integrity.Recorder;

/// <summary>Finds clamps that stood at the end of their range: the largest values pile up where they should thin out.</summary>
internal static class FlatTopFinder
{
    private const double LeastBand = 0.0008;
    private static readonly double[] s_widths = [LeastBand, 0.002, 0.004];
    private const int LeastRows = 4;
    private const double LeastOdds = 12;

    public static void Find(GuardFrame frame, List<GuardSpan> spans)
    {
        var tops = new double[4];
        for (var clamp = 0; clamp < 4; clamp++)
        {
            if (frame.Amperes[clamp] is { } column) tops[clamp] = column.Where(value => !double.IsNaN(value)).DefaultIfEmpty(0).Max();
        }

        var found = new (double Band, int At, double Odds)?[4];
        for (var clamp = 0; clamp < 4; clamp++)
        {
            if (frame.Amperes[clamp] is not { } column || !(tops[clamp] > 0)) continue;
            var top = tops[clamp];
            var (band, at, odds) = Weigh(column, top);
            // Two clamps that end at one value end at their range.
            if (Enumerable.Range(0, 4).Any(other => other != clamp && tops[other] > 0 && Math.Abs((tops[other] / top) - 1) < 0.0015)) odds += 5;
            found[clamp] = (band, at, odds);
        }

        for (var clamp = 0; clamp < 4; clamp++)
        {
            if (found[clamp] is not { } top) continue;
            var isFlat = top.At >= LeastRows && top.Odds >= LeastOdds;
            // Clamps of one kind end at one range: where that is known, a single interval at it counts.
            var isAtKnownRange = Enumerable.Range(0, 4).Any(other => other != clamp && found[other] is { At: >= LeastRows, Odds: >= LeastOdds }
                && Math.Abs((tops[other] / tops[clamp]) - 1) < 0.0015);
            if (!isFlat && !isAtKnownRange) continue;
            var odds = isFlat ? top.Odds : LeastOdds;
            foreach (var (from, to) in Rows(frame.Amperes[clamp]!, tops[clamp] * (1 - top.Band)))
            {
                spans.Add(new GuardSpan(
                    SpanKind.OverRange, [], [(Clamp)clamp], frame.From(from), frame.To(to), Math.Min(0.99, 1 - Math.Exp(-odds / 4)),
                    new SpanFinding(SpanRelation.ValuesPileUp, odds) { Within = tops[clamp], Intervals = top.At }));
            }
        }
    }

    /// <summary>How far the largest values pile up, in the band of a few widths that shows it best.</summary>
    private static (double Band, int At, double Odds) Weigh(double[] column, double top)
    {
        (double Band, int At, double Odds) best = (LeastBand, 0, 0);
        var step = 0.6 * Step(column) / top;
        foreach (var width in s_widths)
        {
            var band = Math.Max(width, step);
            var at = Count(column, top * (1 - band), top * 1.0001);

            // A smooth course dwells at its crest: the crest of a sine holds four times what the nine bands below hold each. More is a flat top.
            var below = Count(column, top * (1 - (10 * band)), top * (1 - band)) / 9.0;
            var expected = Math.Max(1.0, 4.2 * below);
            var odds = at > expected ? (at * Math.Log(at / expected)) - (at - expected) : 0;
            if (odds > best.Odds + 1) best = (band, at, odds);
        }

        return best;
    }

    /// <summary>The step in which values are written: the smallest that stands between two neighbouring values.</summary>
    private static double Step(double[] column)
    {
        var sorted = column.Where(value => !double.IsNaN(value)).ToArray();
        if (sorted.Length > 20000) sorted = sorted[..20000];
        Array.Sort(sorted);
        var step = double.PositiveInfinity;
        for (var index = 1; index < sorted.Length; index++)
        {
            var off = sorted[index] - sorted[index - 1];
            if (off > 1e-9) step = Math.Min(step, off);
        }

        return double.IsInfinity(step) ? 0 : step;
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

    private static IEnumerable<(int From, int To)> Rows(double[] column, double least)
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
