using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Integrity.Recorder;

/// <summary>Finds the hours in which a clamp stood at the end of a range that was set too low for a while: one value, to the last digit, again and again, none above it, and more before and behind.</summary>
/// <remarks>
/// In such hours all of the current that goes beyond the end reads as the end. Rows next below it thin out as in any course: a crest of a sine holds 4.2 times what its nine bands below hold each
/// (see <see cref="FlatTopFinder"/>), with bands as wide as the step in which values are written. A steady load that is now and then less than itself looks alike inside, but before it runs and behind there is
/// less; and a value that does not change once is stuck.
/// </remarks>
internal static class HeldTop
{
    private const int LeastHeld = 8;
    private const int LeastBelow = 3;
    private const double LeastShare = 0.3;
    private const double LeastOdds = 12;
    private const double OfCrest = 4.2;
    private const int Bands = 9;
    private const int Beside = 6;
    private const double LeastAbove = 0.6;
    private const double MostInOneRun = 0.85;

    /// <summary>A load's own size moves with its voltage: what comes back to the last digit in so many runs, with next to nothing beside it, is the end of a range however seldom it is reached.</summary>
    private const int LeastRuns = 5;
    private const double LeastOfRuns = 25;

    /// <summary>Written more coarsely a load's own size stays within a step or two.</summary>
    private const double FineStep = 0.001;
    private const double OfAbove = 1.1;
    private const double OftenHeld = 0.2;

    /// <summary>What was found of one clamp.</summary>
    internal sealed record Held(int Clamp, int From, int To, double Value, double Odds, List<(int From, int To)> Runs);

    public static List<Held> Find(GuardFrame frame)
    {
        var found = new List<Held>();
        for (var clamp = 0; clamp < 4; clamp++)
        {
            if (frame.Amperes[clamp] is { } column) OfClamp(clamp, column, found);
        }

        return found;
    }

    /// <summary>Puts what was found among the spans, in place of values that seemed stuck there.</summary>
    public static void Put(GuardFrame frame, List<Held> found, List<GuardSpan> spans)
    {
        foreach (var held in found)
        {
            var clamp = (Clamp)held.Clamp;
            DateTime from = frame.From(held.From), to = frame.To(held.To);
            spans.RemoveAll(span => span.Kind == SpanKind.Stuck && span.Leads.IsEmpty && span.Clamps.Length == 1 && span.Clamps[0] == clamp && span.From >= from && span.To <= to);
            foreach (var run in held.Runs)
            {
                spans.Add(new GuardSpan(
                    SpanKind.OverRange, [], [clamp], frame.From(run.From), frame.To(run.To), Math.Min(0.99, 1 - Math.Exp(-held.Odds / 4)),
                    new SpanFinding(SpanRelation.ValuesPileUp, held.Odds) { Within = held.Value, Intervals = held.Runs.Sum(each => each.To - each.From + 1) }));
            }
        }
    }

    private static void OfClamp(int clamp, double[] column, List<Held> found)
    {
        var step = Robust.Step(column);
        var least = 0.05 * Robust.Quantile(column, 0.95);
        if (!(least > 0)) return;
        var places = new Dictionary<double, List<int>>();
        for (var row = 0; row < column.Length; row++)
        {
            if (!(column[row] > least)) continue;
            if (!places.TryGetValue(column[row], out var rows)) places[column[row]] = rows = [];
            rows.Add(row);
        }

        var above = NextAbove(column);
        foreach (var (value, rows) in places)
        {
            for (var first = 0; first < rows.Count;)
            {
                var last = first;
                while (last + 1 < rows.Count && above[rows[last]] > rows[last + 1]) last++;
                if (last - first + 1 >= LeastHeld && !IsOneRun(rows, first, last) && Weigh(column, value, rows, first, last, step) is { } odds)
                    found.Add(new Held(clamp, rows[first], rows[last], value, odds, Runs(rows, first, last)));
                first = last + 1;
            }
        }
    }

    /// <summary>Log-odds that the rows are held at a value; null where something speaks against it.</summary>
    private static double? Weigh(double[] column, double value, List<int> rows, int first, int last, double step)
    {
        int from = rows[first], to = rows[last], held = last - first + 1, known = 0, near = 0, still = 0;
        // What comes back at other times as well is a load's own size.
        if (rows.Count - held > Math.Max(2, held / 50)) return null;
        var others = new Dictionary<double, int>();
        for (var row = from; row <= to; row++)
        {
            if (!(column[row] >= 0)) continue;
            known++;
            if (column[row] == value) continue;
            others[column[row]] = others.GetValueOrDefault(column[row]) + 1;
            if (column[row] >= value - ((Bands + 1) * step) - 1e-9) near++;
        }

        var expected = Math.Max(1, OfCrest * near / Bands);
        var odds = held > expected ? (held * Math.Log(held / expected)) - (held - expected) : 0;
        if (odds > LeastOfRuns && step < FineStep * value && Runs(rows, first, last).Count >= LeastRuns && column.Count(amperes => amperes > OfAbove * value) >= LeastHeld && !IsStill(column, value, from, to, 0.5 * OftenHeld)) return odds;
        if (known - held < LeastBelow || others.Count < LeastBelow || held < LeastShare * known || held < 3 * others.Values.Max()) return null;
        if (!ComesFromAbove(column, value, from, to)) return null;
        // A current that keeps still at other times too is written coarsely, or steady.
        int outside = 0;
        for (var row = 1; row < column.Length; row++)
        {
            if (row >= from && row <= to + 1) continue;
            outside++;
            still += column[row] == column[row - 1] && column[row] > 0 ? 1 : 0;
        }

        if (still > 0.3 * held / known * outside) return null;
        return odds < LeastOdds ? null : odds;
    }

    /// <summary>True where large values elsewhere keep still from one row to the next more often than a share: written coarsely, or of loads that are steady.</summary>
    private static bool IsStill(double[] column, double value, int from, int to, double share)
    {
        int rows = 0, still = 0;
        for (var row = 1; row < column.Length; row++)
        {
            if ((row >= from && row <= to + 1) || !(column[row] > 0.5 * value)) continue;
            rows++;
            still += column[row] == column[row - 1] ? 1 : 0;
        }

        return still > share * rows;
    }

    /// <summary>True where most of the rows before and behind lie above the value.</summary>
    private static bool ComesFromAbove(double[] column, double value, int from, int to)
    {
        int above = 0, known = 0;
        for (var off = 1; off <= Beside; off++)
        {
            foreach (var row in new[] { from - off, to + off })
            {
                if (row < 0 || row >= column.Length || double.IsNaN(column[row])) continue;
                known++;
                above += column[row] > value ? 1 : 0;
            }
        }

        return known >= 4 && above >= LeastAbove * known;
    }

    /// <summary>True where the value stood in one go: that is stuck, whatever else reads the same once.</summary>
    private static bool IsOneRun(List<int> rows, int first, int last) => Runs(rows, first, last).Max(run => run.To - run.From + 1) > MostInOneRun * (last - first + 1);

    private static List<(int From, int To)> Runs(List<int> rows, int first, int last)
    {
        var runs = new List<(int From, int To)>();
        for (var at = first; at <= last; at++)
        {
            var begin = at;
            while (at < last && rows[at + 1] == rows[at] + 1) at++;
            runs.Add((rows[begin], rows[at]));
        }

        return runs;
    }

    /// <summary>For each row the next one that reads more.</summary>
    private static int[] NextAbove(double[] column)
    {
        var next = new int[column.Length];
        var waiting = new Stack<int>();
        for (var row = 0; row < column.Length; row++)
        {
            next[row] = int.MaxValue;
            if (double.IsNaN(column[row])) continue;
            while (waiting.Count > 0 && column[waiting.Peek()] < column[row]) next[waiting.Pop()] = row;
            waiting.Push(row);
        }

        return next;
    }
}
