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
    private const int ShortestOfSeconds = 10;
    private const int MostStuck = 3;
    private const double OfTop = 0.994;
    private const double NearValue = 0.05;
    private const int LeastNear = 20;

    // Within so many times a value others tell how still a current keeps there, if so many were read.
    private const double WideOf = 4;
    private const int LeastSeen = 40;
    private const double LeastChance = 1e-3;
    private const double LongestOfSeconds = 10;

    public static void Find(GuardFrame frame, List<GuardSpan> spans)
    {
        var first = spans.Count;
        WholeRows(frame, spans);
        var whole = spans[first..];
        for (var index = 0; index < frame.Lines; index++)
        {
            if (frame.Volts[index] is not { } column) continue;
            var others = Others(frame.Volts, index, frame.Lines);
            // The only voltage there is answers to its current. In rows of seconds little moves from each row to the next, but in all.
            bool Moved(int from, int to) => IsOfSeconds(frame) && others.Length > 0
                ? StandingLoad.OthersMoved(column, others, from, to)
                : OthersMoved(others, from, to) || (others.Length == 0 && OthersMoved(Others(frame.Amperes, -1, frame.Lines), from, to));
            foreach (var (from, to, _) in Runs(column, 0.05, Moved, others))
            {
                var span = Span(frame, [(Lead)index], [], column, from, to);
                // The only voltage of a two-wire service has no other to move beside it: told once, with the whole row.
                if (!whole.Exists(row => row.From <= span.From && row.To >= span.To)) spans.Add(span);
            }
        }

        for (var index = 0; index < 4; index++)
        {
            if (frame.Amperes[index] is not { } column) continue;
            var high = Robust.Quantile(column, 0.95);
            double[][] others = [.. Others(frame.Amperes, index, 4), .. index < frame.Lines && frame.Volts[index] is { } own ? [own] : Array.Empty<double[]>()];
            var watts = index < 3 ? frame.Watts[index] : null;
            if (IsOfSeconds(frame))
            {
                OfSeconds(frame, index, column, 0.01 * high, spans);
                continue;
            }

            foreach (var (from, to, isByChance) in Runs(column, 0.01 * high, (from, to) => OthersMoved(others, from, to), Others(frame.Amperes, index, frame.Lines)))
            {
                var span = Span(frame, [], [(Clamp)index], column, from, to);
                // A load may draw alike for a while; its watts move with the voltage all the same.
                if (AllStand(frame, index, span)) continue;
                if (IsStuck(frame, index, watts, span, from, to, isByChance)) spans.Add(span);
            }
        }
    }

    /// <summary>In rows of seconds a load stands still for minutes: for how long is no matter of chance, and what the other columns say of it is all there is.</summary>
    private static void OfSeconds(GuardFrame frame, int clamp, double[] column, double least, List<GuardSpan> spans)
    {
        // Watts and vars need no help of chance.
        var isSure = clamp < 3 && frame.Watts[clamp] is not null && frame.Vars[clamp] is not null;
        var runs = isSure ? Standing(column, least) : Runs(column, least, (_, _) => true).Select(run => (run.From, run.To));
        foreach (var (from, to) in runs)
        {
            var span = Span(frame, [], [(Clamp)clamp], column, from, to);
            // Beside a voltage that is stuck itself nothing is known.
            if (clamp < 3 && spans.Exists(other => other.Kind == SpanKind.Stuck && other.Leads.Contains((Lead)clamp) && other.From < span.To && other.To > span.From)) continue;
            if (StandingLoad.Moved(frame, clamp, from, to) && (isSure || !AllStand(frame, clamp, span))) spans.Add(span);
        }
    }

    /// <summary>True where a current that stood still must have moved.</summary>
    private static bool IsStuck(GuardFrame frame, int clamp, double[]? watts, GuardSpan span, int from, int to, bool isByChance)
    {
        if (watts is not null && IsMoreThanItCarries(frame, clamp, watts, span)) return true;
        // A mean over minutes wanders by itself, if it does so elsewhere: there chance is enough. Else the other columns must say that it moved.
        if (!isByChance && !StandingLoad.Moved(frame, clamp, from, to)) return false;
        return watts is null || !Moves(frame, watts, span) || !AreItsOwn(frame, clamp, watts, span);
    }

    private static bool IsOfSeconds(GuardFrame frame) => frame.Log.IntervalSeconds <= LongestOfSeconds;

    /// <summary>Rows that repeat as a whole: the recorder itself stood still.</summary>
    private static void WholeRows(GuardFrame frame, List<GuardSpan> spans)
    {
        double[][] columns = [.. frame.Volts.Concat(frame.Amperes).Concat(frame.Watts).Concat(frame.Vars).OfType<double[]>()];
        if (columns.Length < 2 || frame.Volts[0] is not { } volts) return;
        var runs = new List<(int From, int To)>();
        bool AreSame(int one, int other) => Array.TrueForAll(columns, column => column[one] == column[other]);
        var equal = 0;
        for (var row = 0; row < frame.Count; row++)
        {
            var last = row;
            while (last + 1 < frame.Count && AreSame(last + 1, row)) last++;
            if (last > row) runs.Add((row, last));
            equal += last - row;
            row = last;
        }

        runs.Sort((one, other) => (other.To - other.From).CompareTo(one.To - one.From));
        foreach (var (from, to) in runs.Take(MostStuck))
        {
            var length = to - from + 1;
            var share = (double)(equal - length + 2) / Math.Max(1, frame.Count - length);
            var isElsewhere = runs.Exists(other => other.From != from && 3 * (other.To - other.From + 1) >= length && AreSame(other.From, from));
            if (length < Shortest || isElsewhere || !(volts[from] > 0.05) || !(share < 1) || frame.Count * Math.Pow(share, length - 1) >= MostChance) continue;
            if (runs.Exists(other => other.From != from && other.To - other.From < to - from && 2 * (other.To - other.From + 1) > length)) continue;
            spans.Add(Span(frame, [.. frame.Service.Leads.Where(lead => lead != Lead.VN)], [.. Enumerable.Range(0, 4).Where(clamp => frame.Amperes[clamp] is not null).Select(clamp => (Clamp)clamp)], volts, from, to));
        }
    }

    /// <summary>True where the other currents stand still over the same rows to the edges as well: the site was left alone.</summary>
    private static bool AllStand(GuardFrame frame, int clamp, GuardSpan span)
    {
        var others = 0;
        for (var other = 0; other < 3; other++)
        {
            if (other == clamp || frame.Amperes[other] is not { } column) continue;
            others++;
            for (var row = 1; row < column.Length; row++)
            {
                if (frame.From(row - 1) >= span.From && frame.To(row) <= span.To && column[row] != column[row - 1]) return false;
            }
        }

        return others > 0;
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

    /// <summary>True where the watts go on as this current and its voltage make them: those of a current that stands still while the load moves do not.</summary>
    private static bool AreItsOwn(GuardFrame frame, int clamp, double[] watts, GuardSpan span)
    {
        if (frame.Amperes[clamp] is not { } amperes) return true;
        var rounding = Robust.Step(amperes) / span.Finding.Within;
        var volts = VoltsOf(frame, clamp);
        // A clamp on nothing shows powers of nothing; and coarse amperes stand still beside finer watts.
        if (!(span.Finding.Within > 0.15 * Robust.Quantile(amperes, 0.95))) return true;
        List<double> within = [], outside = [];
        double last = double.NaN;
        for (var row = 0; row < watts.Length; row++)
        {
            var now = Math.Log(Math.Abs(watts[row]) / amperes[row] / (volts?[row] ?? 1));
            if (!double.IsFinite(now)) now = double.NaN;
            var isWithin = frame.From(row) >= span.From && frame.To(row) <= span.To;
            if (!double.IsNaN(now) && !double.IsNaN(last)) (isWithin ? within : outside).Add(Math.Abs(now - last));
            last = now;
        }

        double usual = Robust.Quantile([.. outside], 0.9), moved = Robust.Quantile([.. within], 0.9);
        return !(moved > Math.Max(Math.Max(0.004, 2 * rounding), 2 * usual));
    }

    /// <summary>True where the watts are more than this current ever gave at its voltage: it was another's.</summary>
    private static bool IsMoreThanItCarries(GuardFrame frame, int clamp, double[] watts, GuardSpan span)
    {
        if (frame.Amperes[clamp] is not { } amperes) return false;
        var rounding = Robust.Step(amperes) / span.Finding.Within;
        var volts = VoltsOf(frame, clamp);
        List<double> within = [], outside = [];
        for (var row = 0; row < watts.Length; row++)
        {
            var factor = Math.Abs(watts[row]) / amperes[row] / (volts?[row] ?? 1);
            if (!double.IsFinite(factor)) continue;
            (frame.From(row) >= span.From && frame.To(row) <= span.To ? within : outside).Add(factor);
        }

        return within.Count >= Shortest && outside.Count >= Shortest && Robust.Median([.. within]) > 1.3 * (1 + rounding) * Robust.Quantile([.. outside], 0.98);
    }

    private static double[]? VoltsOf(GuardFrame frame, int clamp) => frame.Volts[frame.IsTwoElement && clamp == 2 ? 1 : clamp];

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

    /// <summary>All runs that are no end of a range.</summary>
    private static IEnumerable<(int From, int To)> Standing(double[] column, double least)
    {
        var top = column.Where(value => !double.IsNaN(value)).DefaultIfEmpty(0).Max() * OfTop;
        for (var row = 0; row < column.Length; row++)
        {
            var last = row;
            while (last + 1 < column.Length && column[last + 1] == column[row]) last++;
            if (last - row + 1 >= ShortestOfSeconds && column[row] > least && column[row] < top) yield return (row, last);
            row = last;
        }
    }

    /// <summary>Runs longer than chance makes while others moved, and whether the rest of the recording is as chance has it: where values near this one were seen and other runs are no longer than their share.</summary>
    private static IEnumerable<(int From, int To, bool IsByChance)> Runs(double[] column, double least, Func<int, int, bool> moved, double[][]? like = null)
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
        var top = column.Where(value => !double.IsNaN(value)).DefaultIfEmpty(0).Max() * OfTop;
        var share = (double)(equal - left + 1) / Math.Max(1, pairs - left + 1);
        // One that stood from first to last has nothing of its own to be held against: the others of its kind have.
        if (pairs - left < LeastSeen && like is { Length: > 0 }) share = like.Max(other => (double)Enumerable.Range(1, other.Length - 1).Count(row => other[row] == other[row - 1]) / Math.Max(1, other.Length - 1));
        for (var row = 0; row < column.Length; row++)
        {
            if (!(column[row] > least)) continue;
            var last = row;
            while (last + 1 < column.Length && column[last + 1] == column[row]) last++;
            var length = last - row + 1;
            if (length >= Math.Max(Math.Max(Shortest, 1.3 * usual), Math.Min(longest, 2 * usual)) && (column[row] < top || least < 0.051) && column.Length * Math.Pow(Math.Max(share, ShareNear(column, row, last)), length - 1) < MostChance
                && moved(row, last))
            {
                // A value that comes back and stays again is the load's own.
                if (!Returns(column, row, last)) yield return (row, last, IsByChance(column, row, last, share, usual));
            }

            row = last;
        }
    }

    /// <summary>False where little else was read near a run's value, or other runs are longer than equal neighbours make them: there loads stand still, and chance says nothing.</summary>
    private static bool IsByChance(double[] column, int from, int to, double share, int usual)
    {
        int near = 0, value = 0;
        for (var row = 0; row < column.Length; row++)
        {
            if (row >= from && row <= to) continue;
            if (column[row] > column[from] / WideOf && column[row] < column[from] * WideOf) near++;
            if (column[row] == column[from]) value++;
        }

        return near - value >= LeastSeen && column.Length * Math.Pow(share, Math.Max(0, usual - 1)) >= LeastChance;
    }

    /// <summary>The share of equal neighbours among the other rows near a run's value: a load that idles at one value repeats there, whatever it does else. Zero where there are too few.</summary>
    private static double ShareNear(double[] column, int from, int to)
    {
        int equal = 0, pairs = 0;
        for (var row = 1; row < column.Length; row++)
        {
            if ((row >= from && row <= to + 1) || !(Math.Abs(column[row - 1] - column[from]) < NearValue * column[from])) continue;
            pairs++;
            if (column[row] == column[row - 1]) equal++;
        }

        return pairs < LeastNear ? 0 : (double)equal / pairs;
    }

    private static bool Returns(double[] column, int from, int to)
    {
        var rows = 0;
        for (var row = 0; row < column.Length; row++)
        {
            if (column[row] != column[from] || row == from) continue;
            var last = row;
            while (last + 1 < column.Length && column[last + 1] == column[row]) last++;
            if (last - row + 1 >= Shortest && (row > to || last < from))
            {
                // One long return, or several that come to as much.
                rows += last - row + 1;
                if (3 * (last - row + 1) >= to - from + 1 || rows >= to - from + 1) return true;
            }

            row = last;
        }

        return false;
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
