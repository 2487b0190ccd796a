using Leadwright.Core.Integrity.Chains;
using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Integrity.Recorder;

/// <summary>Finds a clamp's ratio that was set wrong for half a day or more by its current alone: small, middle and large values are multiplied by one usual ratio, and it begins and ends with a leap of that size that no other line makes.</summary>
/// <remarks>Where it lasts for most of a recording it may be the rest that is wrong: what stands farther from the other lines is.</remarks>
internal static class CourseRatio
{
    // Of what reads ten times too much most is above.
    private const double Idle = 2e-4;
    private const double LeastOdds = 20;
    private const double OverRivals = 6;
    private const int Reach = 3;
    private const double LeapNear = 0.15;
    private const double OfOthers = 0.3;
    private const int MostLeaps = 8;
    private const double OfLeap = 0.25;
    private const double Most = 0.45;
    private const double Apart = 0.3;

    /// <summary>Puts what is found into the histories of the clamps.</summary>
    public static void Override(GuardFrame frame, VoltageHistory voltages, AngleHistory?[] angles, CurrentHistory?[] currents, CancellationToken cancellation)
    {
        // By day on a site with generation the net current is no load's.
        if (frame.Options.Check.MayExport) return;
        for (var clamp = 0; clamp < frame.Lines; clamp++)
        {
            cancellation.ThrowIfCancellationRequested();
            // What is told already needs no second witness.
            if (currents[clamp] is not { } current) continue;
            if (current.Rows.AsSpan().ContainsAnyExcept((byte)0))
            {
                Turn(frame, clamp, current);
                continue;
            }

            var isUsable = new bool[frame.Count];
            for (var row = 0; row < isUsable.Length; row++) isUsable[row] = voltages.At(row).Kind is VoltageStateKind.Sound or VoltageStateKind.Leads && !Array.Exists(angles, angle => angle is not null && angle.Rows[row] > 0);
            if (CourseWindows.Of(frame, clamp, isUsable, Idle) is not { } windows) continue;
            var fit = new CourseFit(windows);
            (double Worth, int From, int End, double Scale)? best = null;
            foreach (var scale in current.Scales)
            {
                if (scale is 0 or 1) continue;
                List<int> begins = [0, .. LeapsBy(frame, clamp, Math.Log(scale))], ends = [frame.Count, .. LeapsBy(frame, clamp, -Math.Log(scale))];
                foreach (var from in begins)
                {
                    foreach (var end in ends)
                    {
                        if (end <= from || (from == 0 && end == frame.Count)) continue;
                        var last = end == frame.Count ? windows.Count : end / windows.Rows;
                        if (fit.Leap((from + windows.Rows - 1) / windows.Rows, last, scale) is not { } leap || leap.Odds < LeastOdds || leap.Odds < leap.Rival + OverRivals) continue;
                        if (best is null || leap.Odds > best.Value.Worth) best = (leap.Odds, from, end, scale);
                    }
                }
            }

            if (best is not var (_, first, behind, ratio)) continue;
            Put(frame, clamp, current, first, behind, ratio);
            DropEchoes(currents, clamp, first, behind);
        }
    }

    /// <summary>What other clamps seem to do over the same rows is this one's doing.</summary>
    private static void DropEchoes(CurrentHistory?[] currents, int clamp, int from, int end)
    {
        for (var other = 0; other < 3; other++)
        {
            if (other == clamp || currents[other] is not { } beside) continue;
            for (var row = from; row < end; row++)
            {
                if (beside.Scales[beside.Rows[row]] is not (0 or 1)) beside.Rows[row] = 0;
            }
        }
    }

    /// <summary>The rows from which on the current stands leapt by a ratio while no other does, the nearest to it.</summary>
    private static IEnumerable<int> LeapsBy(GuardFrame frame, int clamp, double log)
    {
        var amperes = frame.Amperes[clamp]!;
        var beside = BesideOthers(frame, clamp);
        var leaps = new List<(double Off, int Row)>();
        var off = new double[frame.Count];
        for (var row = Reach; row < off.Length; row++)
        {
            // The interval in which the change fell is left out.
            off[row] = Math.Min(Math.Min(Off(LeapAt(amperes, row, 0)), Off(LeapAt(amperes, row, 1))), Math.Min(Off(LeapAt(beside, row, 0)), Off(LeapAt(beside, row, 1))));
        }

        double Off(double leap) => double.IsNaN(leap) ? double.PositiveInfinity : Math.Abs(leap - log);
        for (var row = Reach; row + Reach < off.Length; row++)
        {
            if (!(off[row] < LeapNear * Math.Abs(log)) || off[row - 1] <= off[row] || off[row + 1] < off[row]) continue;
            var isAlone = true;
            for (var other = 0; other < frame.Lines; other++) isAlone &= other == clamp || frame.Amperes[other] is not { } column || !(LeapAt(column, row, 1) / log > OfOthers);
            if (isAlone) leaps.Add((off[row], FirstInside(Off(LeapAt(beside, row, 1)) < Off(LeapAt(amperes, row, 1)) ? beside : amperes, row, log)));
        }

        return leaps.OrderBy(leap => leap.Off).Take(MostLeaps).Select(leap => leap.Row);
    }

    /// <summary>About a leap the first row that is not as those before it.</summary>
    private static int FirstInside(double[] amperes, int row, double log)
    {
        var outside = Math.Log(Robust.Median(amperes.AsSpan(Math.Max(0, row - 1 - Reach), Reach)));
        for (var at = Math.Max(1, row - 1); at < row + 2; at++)
        {
            if (Math.Abs(Math.Log(amperes[at]) - outside) > OfLeap * Math.Abs(log)) return at;
        }

        return row + 1;
    }

    /// <summary>The current over the mean of the others, so that what runs on all lines is no leap; the current itself where there is no other.</summary>
    private static double[] BesideOthers(GuardFrame frame, int clamp)
    {
        var ratios = new double[frame.Count];
        for (var row = 0; row < ratios.Length; row++) ratios[row] = FromOthers(frame, clamp, row) is var off && double.IsNaN(off) ? frame.Amperes[clamp]![row] : Math.Exp(off);
        return ratios;
    }

    private static double FromOthers(GuardFrame frame, int clamp, int row)
    {
        var (sum, lines) = (0.0, 0);
        for (var other = 0; other < frame.Lines; other++)
        {
            if (other == clamp || frame.Amperes[other] is not { } beside) continue;
            (sum, lines) = (sum + Math.Log(beside[row]), lines + 1);
        }

        return lines == 0 ? double.NaN : Math.Log(frame.Amperes[clamp]![row]) - (sum / lines);
    }

    /// <summary>Logarithm of the middle of three values from a row on, over that of the three before.</summary>
    private static double LeapAt(double[] amperes, int row, int mixed) => row + mixed + Reach > amperes.Length ? double.NaN
        : Math.Log(Robust.Median(amperes.AsSpan(row + mixed, Reach)) / Robust.Median(amperes.AsSpan(row - Reach, Reach)));

    /// <summary>Of a ratio that holds from the first row, or to the last, it may be the rest that is wrong.</summary>
    private static void Turn(GuardFrame frame, int clamp, CurrentHistory current)
    {
        var rows = current.Rows;
        var (from, end) = (rows[0] != 0 ? 0 : Array.FindIndex(rows, state => state != 0), rows[0] != 0 ? Array.FindIndex(rows, state => state == 0) : rows.Length);
        if (end < 0 || rows[from] == 0 || current.Scales[rows[from]] == 0 || rows.AsSpan(from, end - from).ContainsAnyExcept(rows[from]) || rows.AsSpan(end).ContainsAnyExcept((byte)0)) return;
        var scale = current.Scales[rows[from]];
        if (!(FromOthersWithin(frame, clamp, from, end, true) < FromOthersWithin(frame, clamp, from, end, false) - (Apart * Math.Abs(Math.Log(scale))))) return;
        Array.Clear(rows);
        current.IsAbsolute = true;
        PutInverse(frame, current, from, end, scale);
    }

    /// <summary>How far the clamp usually stands from the other lines within a stretch or outside it.</summary>
    private static double FromOthersWithin(GuardFrame frame, int clamp, int from, int end, bool isWithin) => Math.Abs(FromOthers(frame, clamp, row => (row >= from && row < end) == isWithin));

    private static void PutInverse(GuardFrame frame, CurrentHistory current, int from, int end, double scale)
    {
        var inverse = (byte)Array.FindIndex(current.Scales, entry => Math.Abs((entry * scale) - 1) < 1e-9);
        Array.Fill(current.Rows, inverse, 0, from);
        Array.Fill(current.Rows, inverse, end, frame.Count - end);
    }

    private static void Put(GuardFrame frame, int clamp, CurrentHistory current, int from, int end, double scale)
    {
        var isMost = end - from > Most * frame.Count;
        // Between two edges of a small part it is that part which is otherwise; else what stands farther from the other lines.
        var toOthers = isMost || from == 0 || end == frame.Count ? FromOthersWithin(frame, clamp, from, end, true) - FromOthersWithin(frame, clamp, from, end, false) : double.NaN;
        var isClear = Math.Abs(toOthers) > Apart * Math.Abs(Math.Log(scale));
        current.IsAbsolute = isClear;
        if (isClear && toOthers < 0) PutInverse(frame, current, from, end, scale);
        else if (isClear || !isMost) Array.Fill(current.Rows, (byte)Array.IndexOf(current.Scales, scale), from, end - from);
    }

    /// <summary>By how much the clamp usually stands above the other lines in some rows, logarithm; NaN where there are none.</summary>
    private static double FromOthers(GuardFrame frame, int clamp, Func<int, bool> isAsked)
    {
        var offs = new List<double>();
        for (var row = 0; row < frame.Count; row++)
        {
            if (!isAsked(row)) continue;
            var off = FromOthers(frame, clamp, row);
            if (double.IsFinite(off)) offs.Add(off);
        }

        return Robust.Median([.. offs]);
    }
}
