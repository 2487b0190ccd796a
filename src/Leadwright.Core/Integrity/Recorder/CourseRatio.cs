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
            var (fit, leaps) = (new CourseFit(windows), new Leaps(frame, clamp));
            (double Worth, int From, int End, double Scale)? best = null;
            foreach (var scale in current.Scales)
            {
                if (scale is 0 or 1) continue;
                List<int> begins = [0, .. leaps.By(Math.Log(scale))], ends = [frame.Count, .. leaps.By(-Math.Log(scale))];
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
            if (Put(frame, clamp, current, first, behind, ratio)) DropEchoes(currents, clamp);
        }
    }

    /// <summary>What other clamps seem to do over the same rows is this one's doing.</summary>
    private static void DropEchoes(CurrentHistory?[] currents, int clamp)
    {
        var rows = currents[clamp]!.Rows;
        for (var other = 0; other < 3; other++)
        {
            if (other == clamp || currents[other] is not { } beside) continue;
            for (var row = 0; row < rows.Length; row++)
            {
                if (rows[row] != 0 && beside.Scales[beside.Rows[row]] is not (0 or 1)) beside.Rows[row] = 0;
            }
        }
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

    /// <summary>Writes a ratio down; false where it is open which part of the recording is the wrong one.</summary>
    private static bool Put(GuardFrame frame, int clamp, CurrentHistory current, int from, int end, double scale)
    {
        var isMost = end - from > Most * frame.Count;
        // Between two edges of a small part it is that part which is otherwise; else what stands farther from the other lines.
        var toOthers = isMost || from == 0 || end == frame.Count ? FromOthersWithin(frame, clamp, from, end, true) - FromOthersWithin(frame, clamp, from, end, false) : double.NaN;
        var isClear = Math.Abs(toOthers) > Apart * Math.Abs(Math.Log(scale));
        current.IsAbsolute = isClear;
        if (!isClear && isMost) return false;
        if (isClear && toOthers < 0) PutInverse(frame, current, from, end, scale);
        else Array.Fill(current.Rows, (byte)Array.IndexOf(current.Scales, scale), from, end - from);
        return true;
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

    /// <summary>Where the current leaps by a ratio and no other does.</summary>
    private sealed class Leaps
    {
        private readonly double[] _amperes;
        private readonly double[] _beside;
        private readonly double[] _own;
        private readonly double[] _relative;
        private readonly List<double[]> _others = [];

        public Leaps(GuardFrame frame, int clamp)
        {
            (_amperes, _beside) = (frame.Amperes[clamp]!, BesideOthers(frame, clamp));
            (_own, _relative) = (Middles(_amperes), Middles(_beside));
            for (var other = 0; other < frame.Lines; other++)
            {
                if (other != clamp && frame.Amperes[other] is { } column) _others.Add(Middles(column));
            }
        }

        /// <summary>The rows from which on it stands leapt by a ratio's logarithm, the nearest to it first.</summary>
        public IEnumerable<int> By(double log)
        {
            var found = new List<(double Off, int Row)>();
            var off = new double[_amperes.Length];
            for (var row = Reach; row < off.Length; row++) off[row] = Math.Min(Off(_own, row, log), Off(_relative, row, log));
            for (var row = Reach; row + Reach < off.Length; row++)
            {
                if (!(off[row] < LeapNear * Math.Abs(log)) || off[row - 1] <= off[row] || off[row + 1] < off[row]) continue;
                if (_others.TrueForAll(other => !((other[Math.Min(row + 1, other.Length - 1)] - other[row - Reach]) / log > OfOthers)))
                    found.Add((off[row], FirstInside(Off(_relative, row, log) < Off(_own, row, log) ? _beside : _amperes, row, log)));
            }

            return found.OrderBy(leap => leap.Off).Take(MostLeaps).Select(leap => leap.Row);
        }

        /// <summary>By how much the leap at a row misses a ratio's; the interval in which the change fell may be left out.</summary>
        private static double Off(double[] middles, int row, double log)
        {
            double now = Math.Abs(middles[row] - middles[row - Reach] - log), next = row + 1 < middles.Length ? Math.Abs(middles[row + 1] - middles[row - Reach] - log) : double.NaN;
            return double.IsNaN(now) ? (double.IsNaN(next) ? double.PositiveInfinity : next) : next < now ? next : now;
        }

        /// <summary>Logarithm of the middle of three values from each row on; NaN at the end.</summary>
        private static double[] Middles(double[] column)
        {
            var middles = new double[column.Length];
            for (var row = 0; row < middles.Length; row++) middles[row] = row + Reach > column.Length ? double.NaN : Math.Log(Robust.Median(column.AsSpan(row, Reach)));
            return middles;
        }
    }
}
