using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Integrity.Recorder;

/// <summary>A fall that was tried.</summary>
/// <param name="Onset">First window.</param>
/// <param name="Fall">Windows that it takes.</param>
/// <param name="To">Window after the last that reads too little.</param>
/// <param name="Rest">The gain at its end.</param>
/// <param name="Odds">Log-odds over none.</param>
/// <param name="Rival">Those of the best leap or load in its place.</param>
internal sealed record CourseFall(int Onset, int Fall, int To, double Rest, double Odds, double Rival);

/// <summary>A leap to a ratio that was tried.</summary>
/// <param name="Odds">Log-odds over none.</param>
/// <param name="Rival">Those of the best load in its place.</param>
internal readonly record struct CourseLeap(double Odds, double Rival);

/// <summary>Weighs what may have been done to a clamp's current over some of its windows: a fall of its gain, another ratio, or a load that came or went.</summary>
/// <remarks>All are held against nothing by n/2 ln(S0/S1) for each of a window's small, middle and large values, and a fall or a ratio must be borne out by each of the three; a window whose like ones differ among themselves counts for less.</remarks>
internal sealed class CourseFit(CourseWindows windows)
{
    private const int LeastOutside = 10;
    private const int LeastWindows = 6;
    private const int Stride = 2;
    private const int LeastOfLeap = 3;
    private const int Finely = 4;
    private const double OfRest = 0.02;

    // By so much of its logarithm a ratio may be missed by each of the three values.
    private const double NearRatio = 0.15;
    private const double AllNearRatio = 0.4;
    private const int Beside = 4;

    // Three values of a window are no three witnesses.
    private const double OfOwn = 1.5;
    private const double Weakest = 6;
    private const double LeastSquare = 0.0004;
    private static readonly double s_nothing = Math.Log(0.05);
    private static readonly double s_low = Math.Log(2.0 / 3);
    private static readonly double[] s_rests = [0.02, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6];
    private static readonly int[] s_falls = [6, 8, 10, 12, 15, 18, 22, 28, 36];
    private readonly double[][] _expected = Fresh(windows);
    private readonly double[][] _weights = Fresh(windows);
    private readonly double[][] _without = Fresh(windows);
    private readonly double[][] _rests = Fresh(windows);
    private bool _isLearned;

    /// <summary>The best fall; null where there are too few windows.</summary>
    public CourseFall? BestFall()
    {
        Squares();
        CourseFall? best = null;
        for (var onset = 0; onset + LeastWindows <= windows.Count; onset += Stride)
        {
            for (var to = onset + LeastWindows; to <= windows.Count; to += to == windows.Count - 1 ? 1 : Stride)
            {
                if (windows.Count - (to - onset) < LeastOutside || !Expect(onset, to) || !IsLow(onset, to)) continue;
                foreach (var fall in s_falls)
                {
                    if (fall > to - onset) break;
                    foreach (var rest in s_rests)
                    {
                        var left = Left(onset, to, Shape.Fall, fall, rest);
                        var odds = Odds(left, 1);
                        if (best is null || odds > best.Odds) best = new CourseFall(onset, fall, to, rest, odds, 0);
                    }
                }
            }
        }

        if (best is null) return null;
        Expect(best.Onset, best.To);
        var rests = Left(best.Onset, best.To, Shape.Fall, best.Fall, best.Rest);
        var own = Own();
        var rival = 0.0;
        // What came or went at once, or as a load: anywhere about the same windows.
        for (var onset = Math.Max(0, best.Onset - 2); onset <= Math.Min(windows.Count - 2, best.Onset + best.Fall + 1); onset++)
        {
            for (var to = Math.Max(onset + 2, best.To - 2); to <= Math.Min(windows.Count, best.To + 2); to++)
            {
                if (!Expect(onset, to)) continue;
                foreach (var rest in s_rests) rival = Math.Max(rival, Odds(Left(onset, to, Shape.Leap, 1, rest), own, false));
                for (var part = 1; part <= 12; part++)
                {
                    rival = Math.Max(rival, Odds(Left(onset, to, Shape.Load, 1, part / 12.0), own, false));
                    rival = Math.Max(rival, Odds(Left(onset, to, Shape.Load, Math.Min(best.Fall, to - onset), part / 12.0), own, false));
                }
            }
        }

        var believed = Odds(rests, own);
        Expect(best.Onset, best.To);
        return Finer(best) with { Odds = believed, Rival = rival };
    }

    /// <summary>The same fall with the length and the rest that fit best about it: energy is mended by them. What it is believed by stays that of the few that were tried.</summary>
    private CourseFall Finer(CourseFall best)
    {
        var finest = best;
        for (var fall = Math.Max(LeastWindows, best.Fall - Finely); fall <= Math.Min(best.To - best.Onset, best.Fall + Finely); fall++)
        {
            for (var step = -Finely; step <= Finely; step++)
            {
                var rest = best.Rest + (step * OfRest);
                if (rest < s_rests[0] || rest > s_rests[^1]) continue;
                var odds = Odds(Left(best.Onset, best.To, Shape.Fall, fall, rest), 1);
                if (odds > finest.Odds) finest = best with { Fall = fall, Rest = rest, Odds = odds };
            }
        }

        return finest;
    }

    /// <summary>What speaks for a ratio over some windows; null where their values are not near it, or too few windows are left.</summary>
    /// <param name="from">First window.</param>
    /// <param name="to">Window after the last.</param>
    /// <param name="scale">The ratio.</param>
    public CourseLeap? Leap(int from, int to, double scale)
    {
        if (to - from < LeastOfLeap || windows.Count - (to - from) < LeastOutside) return null;
        if (!_isLearned) Squares();
        if (!Expect(from, to)) return null;
        var log = Math.Log(scale);
        Left(from, to, Shape.Leap, 1, 1);
        for (var kind = 0; kind < CourseWindows.Kinds; kind++)
        {
            if (!(Math.Abs(Within(kind, from, to, 0.5) - log) < NearRatio * Math.Abs(log))) return null;
            // By day as by night: a load that went leaves the others as they were.
            if (!(Math.Abs(Within(kind, from, to, 0.2) - log) < AllNearRatio * Math.Abs(log)) || !(Math.Abs(Within(kind, from, to, 0.8) - log) < AllNearRatio * Math.Abs(log))) return null;
        }

        var left = Left(from, to, Shape.Leap, 1, scale);
        // It is a leap, and no end of a fall: beside it all is as it was.
        if (IsOff(from - Beside, from) || IsOff(to, to + Beside)) return null;
        bool IsOff(int first, int behind) => first >= 0 && behind <= windows.Count && Math.Abs(Within(1, first, behind, 0.5)) > AllNearRatio * Math.Abs(log);
        var own = Own();
        var rival = 0.0;
        for (var part = -24; part <= 12; part++)
        {
            if (part != 0) rival = Math.Max(rival, Odds(Left(from, to, Shape.Load, 1, part / 12.0), own, false));
        }

        return new CourseLeap(Odds(left, own), rival);
    }

    /// <summary>False where the second half of some windows is not less than expected by a third: no fall that is looked for.</summary>
    private bool IsLow(int from, int to)
    {
        var (sum, known) = (0.0, 0);
        for (var window = (from + to) / 2; window < to; window++)
        {
            var rest = windows.Value(1, window) - _expected[1][window];
            if (double.IsNaN(rest)) continue;
            (sum, known) = (sum + rest, known + 1);
        }

        return known > 0 && sum / known < s_low;
    }

    /// <summary>What is left of a value within some windows: the middle, or another share.</summary>
    private double Within(int kind, int from, int to, double share) => Robust.Quantile(_rests[kind].AsSpan(from, to - from), share);

    private enum Shape
    {
        Fall,
        Leap,
        Load,
    }

    /// <summary>Half the sum over the three values of n ln(S0/S1).</summary>
    private double Odds(double[] left, double own, bool isWeakest = true)
    {
        double sum = 0, least = double.PositiveInfinity;
        for (var kind = 0; kind < left.Length; kind++)
        {
            var none = 0.0;
            var known = 0.0;
            for (var window = 0; window < windows.Count; window++)
            {
                var rest = _without[kind][window];
                if (double.IsNaN(rest)) continue;
                none += _weights[kind][window] * rest * rest;
                known += _weights[kind][window];
            }

            var odds = 0.5 * own * OfOwn / left.Length * Math.Log(((none / known) + LeastSquare) / left[kind]);
            (sum, least) = (sum + odds, Math.Min(least, odds));
        }

        return isWeakest ? Math.Min(sum, Weakest * least) : sum;
    }

    private bool Expect(int from, int to)
    {
        for (var kind = 0; kind < CourseWindows.Kinds; kind++)
        {
            for (var window = 0; window < windows.Count; window++)
            {
                var expected = windows.Expected(kind, window, from, to, out var spread);
                if (double.IsNaN(expected) && !double.IsNaN(windows.Value(kind, window))) return false;
                _expected[kind][window] = expected;
                _weights[kind][window] = spread;
            }

            var usual = Math.Max(0.03, Robust.Median(_weights[kind]));
            for (var window = 0; window < windows.Count; window++) _weights[kind][window] = 1 / (1 + (_weights[kind][window] * _weights[kind][window] / (usual * usual)));
        }

        return true;
    }

    /// <summary>What is left where nothing happened.</summary>
    private void Squares()
    {
        _isLearned = true;
        Expect(0, 0);
        for (var kind = 0; kind < _without.Length; kind++)
        {
            for (var window = 0; window < windows.Count; window++) _without[kind][window] = Math.Max(s_nothing, windows.Value(kind, window) - _expected[kind][window]);
        }
    }

    /// <summary>The mean square that is left of each value.</summary>
    private double[] Left(int from, int to, Shape shape, int fall, double rest)
    {
        var left = new double[CourseWindows.Kinds];
        for (var kind = 0; kind < left.Length; kind++)
        {
            // By so many amperes a load is less that draws a part of the middle of what there is.
            var load = 0.0;
            if (shape == Shape.Load)
            {
                var middle = double.NegativeInfinity;
                for (var window = from; window < to; window++) middle = _expected[1][window] > middle ? _expected[1][window] : middle;
                load = rest * Math.Exp(middle);
            }

            var (sum, known) = (0.0, 0.0);
            for (var window = 0; window < windows.Count; window++)
            {
                var value = windows.Value(kind, window);
                if (double.IsNaN(value)) continue;
                var expected = _expected[kind][window];
                if (window >= from && window < to)
                {
                    var done = shape == Shape.Leap ? 1 : Math.Min(1, (window + 0.5 - from) / fall);
                    // How little a twentieth and less is, nobody reads off an opening jaw.
                    var least = expected + s_nothing;
                    value = Math.Max(value, least);
                    expected = Math.Max(least, shape == Shape.Load ? Less(expected, done, load) : Math.Max(windows.Least, expected + Math.Log(1 - (done * (1 - rest)))));
                }

                _rests[kind][window] = value - expected;
                sum += _weights[kind][window] * _rests[kind][window] * _rests[kind][window];
                known += _weights[kind][window];
            }

            left[kind] = (sum / known) + LeastSquare;
        }

        return left;
    }

    /// <summary>Without a part of a load; where less than the load was drawn it did not run.</summary>
    private static double Less(double expected, double done, double load)
    {
        var amperes = Math.Exp(expected);
        return load < 0.97 * amperes ? Math.Log(amperes - (done * load)) : expected;
    }

    /// <summary>How many of the rests say something of their own.</summary>
    private double Own()
    {
        double product = 0, square = 0;
        var known = 0;
        for (var window = 1; window < windows.Count; window++)
        {
            double before = Mean(window - 1), now = Mean(window);
            if (double.IsNaN(before) || double.IsNaN(now)) continue;
            known++;
            product += now * before;
            square += now * now;
        }

        var alike = square > 0 ? Math.Clamp(product / square, 0, 0.95) : 0;
        return Math.Max(1, known - 12) * (1 - alike) / (1 + alike);
    }

    private double Mean(int window)
    {
        double sum = 0;
        for (var kind = 0; kind < _rests.Length; kind++) sum += double.IsNaN(windows.Value(kind, window)) ? double.NaN : _rests[kind][window] / _rests.Length;
        return sum;
    }

    private static double[][] Fresh(CourseWindows windows)
    {
        var fresh = new double[CourseWindows.Kinds][];
        for (var kind = 0; kind < fresh.Length; kind++) fresh[kind] = new double[windows.Count];
        return fresh;
    }
}
