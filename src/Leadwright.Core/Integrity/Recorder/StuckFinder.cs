using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Integrity.Recorder;

/// <summary>Finds values that repeat while what they measure moved.</summary>
/// <remarks>A run of equal values is chance where the recorder rounds coarsely: the share of equal neighbours in the recording says how likely a
/// run of that length is anywhere in it. And other channels must have moved meanwhile.</remarks>
internal static class StuckFinder
{
    private const double MostChance = 1e-6;
    private const int Shortest = 5;
    private const int MostStuck = 3;

    public static void Find(GuardFrame frame, List<GuardSpan> spans)
    {
        for (var index = 0; index < frame.Lines; index++)
        {
            if (frame.Volts[index] is not { } column) continue;
            foreach (var span in Runs(frame, column, Others(frame.Volts, index, frame.Lines), 0.05, (from, to) => Span(frame, [(Lead)index], [], column, from, to)))
                spans.Add(span);
        }

        for (var index = 0; index < 4; index++)
        {
            if (frame.Amperes[index] is not { } column) continue;
            var high = Robust.Quantile(column, 0.95);
            double[][] others = [.. Others(frame.Amperes, index, 4), .. index < frame.Lines && frame.Volts[index] is { } own ? [own] : Array.Empty<double[]>()];
            var watts = index < 3 ? frame.Watts[index] : null;
            foreach (var span in Runs(frame, column, others, 0.01 * high, (from, to) => Span(frame, [], [(Clamp)index], column, from, to)))
            {
                // A load may draw alike for a while; its watts move with the voltage all the same.
                if (watts is null || span.Finding.Intervals >= 400 || !Moves(frame, watts, span)) spans.Add(span);
            }
        }
    }

    private static bool Moves(GuardFrame frame, double[] values, GuardSpan span)
    {
        int moves = 0, pairs = 0;
        for (var row = 1; row < values.Length; row++)
        {
            if (frame.From(row - 1) < span.From || frame.To(row) > span.To) continue;
            pairs++;
            if (values[row] != values[row - 1]) moves++;
        }

        return 4 * moves > pairs;
    }

    private static double[][] Others(double[]?[] columns, int own, int count)
    {
        var others = new List<double[]>();
        for (var index = 0; index < count; index++)
        {
            if (index != own && columns[index] is { } column) others.Add(column);
        }

        return [.. others];
    }

    private static GuardSpan Span(GuardFrame frame, Lead[] leads, Clamp[] clamps, double[] column, int from, int to) => new(
        SpanKind.Stuck, [.. leads], [.. clamps], frame.From(from), frame.To(to), 0.97,
        new SpanFinding(SpanRelation.ValueRepeated, 8) { Within = column[from] * (leads.Length > 0 ? frame.UnitVolts : 1), Intervals = to - from + 1 });

    private static IEnumerable<GuardSpan> Runs(GuardFrame frame, double[] column, double[][] others, double least, Func<int, int, GuardSpan> span)
    {
        // The longest runs are left out of the share, or they would excuse themselves and each other.
        int equal = 0, pairs = 0, run = 0;
        var runs = new List<int>();
        for (var row = 1; row < column.Length; row++)
        {
            if (double.IsNaN(column[row]) || double.IsNaN(column[row - 1]) || !(column[row] > least)) continue;
            pairs++;
            if (column[row] == column[row - 1])
            {
                equal++;
                run++;
            }
            else
            {
                if (run > 0) runs.Add(run);
                run = 0;
            }
        }

        if (run > 0) runs.Add(run);
        runs.Sort((one, other) => other.CompareTo(one));
        var longest = runs.FirstOrDefault();
        var usual = runs.Count > MostStuck ? runs[MostStuck] : 0;
        var left = runs.Take(MostStuck).Where((length, place) => place == 0 || length > 2 * usual).Sum();

        // At the end of its range a channel repeats too, and is no less alive.
        var top = column.Where(value => !double.IsNaN(value)).DefaultIfEmpty(0).Max() * 0.994;
        var share = (double)(equal - left + 1) / Math.Max(1, pairs - left + 1);
        for (var row = 0; row < column.Length; row++)
        {
            if (!(column[row] > least)) continue;
            var last = row;
            while (last + 1 < column.Length && column[last + 1] == column[row]) last++;
            var length = last - row + 1;
            if (length >= Math.Max(Shortest, Math.Min(longest, 2 * usual)) && (column[row] < top || least < 0.051) && column.Length * Math.Pow(share, length - 1) < MostChance
                // The only voltage there is answers to its current.
                && (OthersMoved(others, row, last) || (others.Length == 0 && OthersMoved(Others(frame.Amperes, -1, frame.Lines), row, last))))
                yield return span(row + 1 < column.Length ? row : row, last);
            row = last;
        }
    }

    private static bool OthersMoved(double[][] others, int from, int to)
    {
        if (others.Length == 0) return to - from >= 20;
        return Array.Exists(others, other =>
        {
            var moves = 0;
            for (var row = from + 1; row <= to; row++)
            {
                if (other[row] != other[row - 1]) moves++;
            }

            return moves > 0.4 * (to - from);
        });
    }
}
