using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Integrity.Recorder;

/// <summary>Finds clamps that stood at the end of their range: the largest values pile up where they should thin out.</summary>
internal static class FlatTopFinder
{
    private const double LeastBand = 0.0008;
    private const int LeastRows = 4;
    private const double LeastOdds = 12;

    public static void Find(GuardFrame frame, List<GuardSpan> spans)
    {
        var tops = new double[4];
        for (var clamp = 0; clamp < 4; clamp++)
        {
            if (frame.Amperes[clamp] is { } column) tops[clamp] = column.Where(value => !double.IsNaN(value)).DefaultIfEmpty(0).Max();
        }

        for (var clamp = 0; clamp < 4; clamp++)
        {
            if (frame.Amperes[clamp] is not { } column || !(tops[clamp] > 0)) continue;
            var top = tops[clamp];
            var band = Math.Max(LeastBand, 0.6 * Step(column) / top);
            var at = Count(column, top * (1 - band), top * 1.0001);

            // A smooth course dwells at its crest: the crest of a sine holds four times what the nine bands below hold each. More is a flat top.
            var below = Count(column, top * (1 - (10 * band)), top * (1 - band)) / 9.0;
            var expected = Math.Max(1.0, 4.2 * below);
            var odds = at > expected ? (at * Math.Log(at / expected)) - (at - expected) : 0;
            // Two clamps that end at one value end at their range.
            var shares = Enumerable.Range(0, 4).Any(other => other != clamp && tops[other] > 0 && Math.Abs((tops[other] / top) - 1) < 0.0015);
            if (shares) odds += 5;
            if (at < LeastRows || odds < LeastOdds) continue;
            foreach (var (from, to) in Rows(column, top * (1 - band)))
            {
                spans.Add(new GuardSpan(
                    SpanKind.OverRange, [], [(Clamp)clamp], frame.From(from), frame.To(to), Math.Min(0.99, 1 - Math.Exp(-odds / 4)),
                    new SpanFinding(SpanRelation.ValuesPileUp, odds) { Within = top, Intervals = at }));
            }
        }
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
