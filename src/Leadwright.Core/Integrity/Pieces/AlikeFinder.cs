using Leadwright.Core.Circuits;
using Leadwright.Core.Integrity.Chains;
using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Integrity.Pieces;

/// <summary>A stretch of rows in which two leads, or two clamps, were on one conductor.</summary>
/// <param name="From">First row.</param>
/// <param name="To">Last row.</param>
/// <param name="Moved">Number of the lead or clamp that was moved.</param>
/// <param name="On">Number of the one whose conductor it was moved to.</param>
/// <param name="IsLead">True for leads.</param>
/// <param name="Odds">Log-odds that the rows speak for it.</param>
internal sealed record AlikeStretch(int From, int To, int Moved, int On, bool IsLead, double Odds);

/// <summary>Finds, from the readings of two channels of a kind alone, when they read one conductor: where the angles of the powers tell nothing, by day on a
/// site with generation or where no power was written.</summary>
/// <remarks>
/// Two inputs on one conductor stand in one fixed ratio, that of their gains, near one; on two conductors the ratio goes with the loads. Each row says how
/// likely its ratio, and the change of its ratio, is in both cases; the likeliest history is taken at a cost for every change. All three alike is a load on three
/// lines; with vars, so is a pair whose powers stand at one angle.
/// </remarks>
internal static class AlikeFinder
{
    private const double Enter = 12;
    private const double Leave = 4;
    private const double LeastOdds = 12;
    private const int LeastRows = 4;

    // Spreads of inputs on one conductor that nine in ten rows keep within; set on the false and the true stretches of one outside maker.
    private const double Nearly = 0.9;
    private const double Parted = 5;
    private const int Windows = 24;
    // Rows on either side that say how two powers usually stand.
    private const int Beside = 12;

    public static List<AlikeStretch> Find(GuardFrame frame, VoltageHistory voltages)
    {
        var found = new List<AlikeStretch>();
        // On split and high-leg services two legs read alike for another reason too: the neutral lead is off.
        if (!frame.IsPairs && frame.Service.Kind is ServiceKind.Wye or ServiceKind.Network) OfKind(frame, voltages, frame.Volts, true, found);
        // Three wires feed what draws on all of them: alike for hours, and without powers nothing tells that from two clamps on one.
        if (!frame.Service.IsThreeWire || frame.HasWatts) OfKind(frame, voltages, frame.Amperes, false, found);
        return found;
    }

    private static void OfKind(GuardFrame frame, VoltageHistory voltages, double[]?[] columns, bool isLead, List<AlikeStretch> found)
    {
        var pairs = new List<Pair>();
        for (var one = 0; one < frame.Lines; one++)
        {
            for (var other = one + 1; other < frame.Lines; other++)
            {
                if (columns[one] is { } first && columns[other] is { } second) pairs.Add(new Pair(frame, voltages, first, second, one, other, isLead));
            }
        }

        foreach (var pair in pairs)
        {
            if (!pair.Tells) continue;
            foreach (var (from, to) in pair.Stretches())
            {
                var odds = pair.Odds(from, to);
                if (to - from + 1 < LeastRows || odds < LeastOdds || !pair.IsStillest(from, to) || pair.Strays(from, to)) continue;
                if (pairs.Exists(beside => beside != pair && beside.Odds(from, to) > 0.3 * odds)) continue;
                if (!isLead && IsOneLoad(frame, pair.One, pair.Other, from, to)) continue;
                var (moved, on) = isLead && AngleLeaps(frame, pair.One, pair.Other, from, to) is { } told ? told : pair.Leaps(from, to);
                found.Add(new AlikeStretch(from, to, moved, on, isLead, odds));
            }
        }
    }

    /// <summary>Of two leads the one whose power's angle leaps more at the edges was moved; null without vars.</summary>
    private static (int Moved, int On)? AngleLeaps(GuardFrame frame, int one, int other, int from, int to)
    {
        if (frame.Watts[one] is not { } firstWatts || frame.Watts[other] is not { } secondWatts || frame.Vars[one] is not { } firstVars || frame.Vars[other] is not { } secondVars) return null;
        double first = Turned(firstWatts, firstVars, from, to), second = Turned(secondWatts, secondVars, from, to);
        return Math.Abs(first - second) < 20 ? null : first > second ? (one, other) : (other, one);
    }

    /// <summary>Degrees by which the angle of a power turns at the edges of a stretch, the mixed rows left out, on the mean.</summary>
    private static double Turned(double[] watts, double[] vars, int from, int to)
    {
        var (sum, edges) = (0.0, 0);
        foreach (var (outside, inside) in new[] { (from - 2, from + 1), (to + 2, to - 1) })
        {
            if (outside < 0 || outside >= watts.Length) continue;
            var turn = (Math.Atan2(vars[inside], watts[inside]) - Math.Atan2(vars[outside], watts[outside])) * 180 / Math.PI;
            if (double.IsNaN(turn)) continue;
            sum += Math.Abs(Angle.WrapDegrees(turn));
            edges++;
        }

        return edges == 0 ? 0 : sum / edges;
    }

    /// <summary>The powers of two clamps on one conductor stand apart by what lies between their leads; those of a load on both lines do not.</summary>
    /// <remarks>With two elements on three wires equal currents in both lines stand sixty degrees apart as well (arg V12 I1* is φ + 30°, arg V32 I3* is φ − 30°), but the other
    /// way: there the powers must turn against each other where the stretch begins and ends.</remarks>
    private static bool IsOneLoad(GuardFrame frame, int one, int other, int from, int to)
    {
        if (frame.Watts[one] is not { } firstWatts || frame.Watts[other] is not { } secondWatts || frame.Vars[one] is not { } firstVars || frame.Vars[other] is not { } secondVars) return false;
        double Apart(int row) => Angle.WrapDegrees((Math.Atan2(firstVars[row], firstWatts[row]) - Math.Atan2(secondVars[row], secondWatts[row])) * 180 / Math.PI);
        if (!frame.IsTwoElement) return Robust.Median([.. Enumerable.Range(from, to - from + 1).Select(row => Math.Abs(Apart(row)))]) < 40;
        double inside = MeanDegrees(from, to + 1), beside = MeanDegrees(Math.Max(0, from - Beside), from, to + 1, Math.Min(frame.Count, to + 1 + Beside));
        return Math.Abs(Angle.WrapDegrees(inside - beside)) < 60;

        // The angle of the mean direction: sixty degrees either way lie across no seam, but a row of noise may.
        double MeanDegrees(params ReadOnlySpan<int> bounds)
        {
            double along = 0, across = 0;
            for (var part = 0; part < bounds.Length; part += 2)
            {
                for (var row = bounds[part]; row < bounds[part + 1]; row++)
                {
                    var apart = Apart(row) * Math.PI / 180;
                    if (double.IsNaN(apart)) continue;
                    (along, across) = (along + Math.Cos(apart), across + Math.Sin(apart));
                }
            }

            return Math.Atan2(across, along) * 180 / Math.PI;
        }
    }

    /// <summary>Two channels and what their ratio usually does.</summary>
    private sealed class Pair
    {
        private readonly GuardFrame _frame;
        private readonly double[] _first;
        private readonly double[] _second;
        private readonly double[] _ratios;
        private readonly double[] _usual = new double[24];
        private readonly double _alike;
        private readonly double _near;
        private readonly double _levelWeight;
        private readonly double _middle;
        private readonly double _spread;

        public Pair(GuardFrame frame, VoltageHistory voltages, double[] first, double[] second, int one, int other, bool isLead)
        {
            (_frame, _first, _second, One, Other) = (frame, first, second, one, other);
            _ratios = new double[frame.Count];
            double firstLeast = isLead ? 0.3 : 3 * voltages.Floors[one], secondLeast = isLead ? 0.3 : 3 * voltages.Floors[other];
            for (var row = 0; row < _ratios.Length; row++)
            {
                var isSound = voltages.At(row).Kind is VoltageStateKind.Sound || (voltages.At(row).Kind is VoltageStateKind.Leads && voltages.At(row).Line == 3);
                _ratios[row] = isSound && first[row] > firstLeast && second[row] > secondLeast ? Math.Log(first[row] / second[row]) : double.NaN;
            }

            // Volts are written to a step, and a ratio moves by it.
            _alike = isLead ? Math.Max(2.5e-4, 0.6 * Step(first)) : 0.006;
            _near = isLead ? 0.002 : 0.015;
            _levelWeight = 0.5 * Math.Min(1, Math.Sqrt(frame.Log.IntervalSeconds / 600));
            _middle = Robust.Median(_ratios);
            _spread = Math.Max(2 * _near, 1.2 * Robust.Deviation(_ratios));
            var hours = new List<double>[24];
            for (var hour = 0; hour < 24; hour++) hours[hour] = [];
            var step = Math.Max(1, _ratios.Length / 40000);
            for (var row = 1; row < _ratios.Length; row += step)
            {
                if (!double.IsNaN(_ratios[row] - _ratios[row - 1])) hours[frame.From(row).Hour].Add(_ratios[row] - _ratios[row - 1]);
            }

            for (var hour = 0; hour < 24; hour++) _usual[hour] = Robust.Deviation([.. hours[(hour + 23) % 24], .. hours[hour], .. hours[(hour + 1) % 24]]);
        }

        public int One { get; }

        public int Other { get; }

        /// <summary>False where the two are usually so near, and so still, that likeness is nothing.</summary>
        public bool Tells => Math.Abs(_middle) > 3 * _near || _spread > 2.5 * _near || Robust.Median(_usual) > 3 * _alike;

        public double Odds(int from, int to)
        {
            double odds = 0;
            for (var row = from + 1; row <= to; row++) odds += SayChange(row) + SayLevel(row);
            return odds;
        }

        /// <summary>True when in no other stretch of the length the ratio keeps as still: a week shows by itself how often that happens by chance.</summary>
        public bool IsStillest(int from, int to)
        {
            // The mixed rows at the ends left out; a long stretch is held against others by parts of it, so that there are enough of them.
            int first = Math.Min(from + 1, to), length = Math.Max(3, Math.Min(to - first, _ratios.Length / Windows)), step = Math.Max(1, length / 2);
            var inside = new List<double>();
            for (var start = first; start + length <= Math.Max(to, first + length); start += step) inside.Add(Still(start, length));
            var own = Robust.Median([.. inside]);
            if (!(own < 2 * _alike)) return false;
            var windows = 0;
            for (var start = 0; start + length <= _ratios.Length; start += step)
            {
                if (start + length > from - step && start < to + step) continue;
                var still = Still(start, length);
                if (double.IsNaN(still)) continue;
                windows++;
                if (still < 1.6 * Math.Max(own, 0.25 * _alike)) return false;
            }

            return windows >= 8;
        }

        /// <summary>True when the ratio leaps away in more than a few of a stretch's rows: two inputs on one conductor never part.</summary>
        public bool Strays(int from, int to)
        {
            var ratios = _ratios[Math.Min(from + 1, to)..Math.Max(from + 1, to)].Where(double.IsFinite).ToArray();
            if (ratios.Length < LeastRows) return false;
            var middle = Robust.Median(ratios);
            return Robust.Quantile([.. ratios.Select(ratio => Math.Abs(ratio - middle))], Nearly) > Parted * _alike;
        }

        /// <summary>How far the ratio strays over a stretch.</summary>
        private double Still(int from, int length)
        {
            var ratios = _ratios.AsSpan(from, length);
            var missing = 0;
            foreach (var ratio in ratios) missing += double.IsNaN(ratio) ? 1 : 0;
            return 2 * missing > length ? double.NaN : Robust.Deviation(ratios);
        }

        public IEnumerable<(int From, int To)> Stretches()
        {
            var more = Math.Max(0, Math.Log(_ratios.Length / 1000.0));
            double apart = 0, alike = -Enter - more;
            var from = new byte[2 * _ratios.Length];
            for (var row = 0; row < _ratios.Length; row++)
            {
                double level = SayLevel(row), change = row > 0 ? SayChange(row) : 0;
                var (stays, comes, leaves) = (alike + change, apart - Enter - more, alike - Leave);
                from[2 * row] = (byte)(leaves > apart ? 1 : 0);
                from[(2 * row) + 1] = (byte)(row == 0 || stays >= comes ? 1 : 0);
                var next = row == 0 ? alike : Math.Max(stays, comes);
                apart = row == 0 ? apart : Math.Max(apart, leaves);
                alike = next + level;
            }

            var state = alike > apart ? 1 : 0;
            var history = new bool[_ratios.Length];
            for (var row = _ratios.Length - 1; row >= 0; row--)
            {
                history[row] = state == 1;
                state = from[(2 * row) + state];
            }

            for (var row = 0; row < history.Length; row++)
            {
                if (!history[row]) continue;
                var last = row;
                while (last + 1 < history.Length && history[last + 1]) last++;
                yield return (row, last);
                row = last;
            }
        }

        /// <summary>The one whose own reading leaps more at the edges was moved.</summary>
        public (int Moved, int On) Leaps(int from, int to) => EdgeMoves.More(_first, _second, from, to) >= 0 ? (One, Other) : (Other, One);

        private double SayChange(int row)
        {
            var change = _ratios[row] - _ratios[row - 1];
            var usual = _usual[_frame.From(row).Hour];
            return double.IsNaN(change) || !(usual > 1.5 * _alike) ? 0 : 0.5 * Math.Clamp(Say(change, _alike) - Say(change, usual), -6, 4);
        }

        // Rows close in time stand where they stood.
        private double SayLevel(int row) =>
            double.IsNaN(_ratios[row]) ? 0 : _levelWeight * Math.Clamp(Say(_ratios[row], _near) - Say(_ratios[row] - _middle, _spread), -6, 4);

        private static double Say(double off, double spread) => -Math.Log(spread) - (2.5 * Math.Log(1 + (off * off / (4 * spread * spread))));

        /// <summary>The smallest step between neighbouring values, per unit.</summary>
        private static double Step(double[] column)
        {
            var step = double.PositiveInfinity;
            for (var row = 1; row < Math.Min(column.Length, 5000); row++)
            {
                var off = Math.Abs(column[row] - column[row - 1]);
                if (off > 1e-7) step = Math.Min(step, off);
            }

            return double.IsInfinity(step) ? 0 : step;
        }
    }
}
