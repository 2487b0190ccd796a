using Leadwright.Core.Integrity.Pieces;
using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Integrity.Recorder;

/// <summary>Finds a clamp that opens slowly by its current alone: small and large values lose the same share, hour by hour, against those of like hours in which the other lines carry as much.</summary>
/// <remarks>The fall of the gain, straight from 1 to a rest and steady from there or ended, is weighed against none by what is left, n/2 ln(S0/S1), n the number of windows that say
/// something of their own: fewer, the more a window's rest is that of the one before. A leap to any ratio, and a load that goes bit by bit or at once, must explain it less well.</remarks>
internal static class CourseDrift
{
    /// <summary>People live another way at the week's end: what begins there must say more.</summary>
    private const double OfWeekend = 8;
    private const double HoursBefore = 8;
    private const double LeastOdds = 20;
    private const double OverRivals = 4;
    private const int LeastOutside = 10;
    private const int LeastWindows = 6;
    private const int Stride = 2;
    // Three values of a window are no three witnesses.
    private const double Floor = 0.0004;
    private const double OfOwn = 1.5;
    private static readonly double[] s_rests = [0.02, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6];
    private static readonly int[] s_falls = [6, 8, 10, 12, 15, 18, 22, 28, 36];

    public static Drift? Fit(Chained chained, int clamp, bool[] isUsable)
    {
        if (CourseWindows.Of(chained, clamp, isUsable) is not { } windows) return null;
        var fit = new Fitting(windows);
        if (fit.Best() is not { } best) { return null; }
        var odds = best.Odds;
        var frame = chained.Frame;
       
        // A week's end begins on the evening before.
        if (frame.From(best.Onset * windows.Rows).AddHours(HoursBefore).DayOfWeek is DayOfWeek.Saturday or DayOfWeek.Sunday) odds -= OfWeekend;
        if (odds < LeastOdds || best.Odds < best.Rival + OverRivals) return null;
        var to = best.To == windows.Count ? frame.Count - 1 : Math.Min(frame.Count, best.To * windows.Rows) - 1;
        return new Drift(best.Onset * windows.Rows, to, best.Rest, Math.Min(40, odds - LeastOdds + 6)) { IsByCourse = true };
    }

    /// <summary>A fall that was tried.</summary>
    /// <param name="Onset">First window.</param>
    /// <param name="Fall">Windows that it takes.</param>
    /// <param name="To">Window after the last that reads too little.</param>
    /// <param name="Rest">The gain at its end.</param>
    /// <param name="Odds">Log-odds over none.</param>
    /// <param name="Rival">Those of the best leap or load in its place.</param>
    /// <param name="Own">How many windows speak for themselves.</param>
    private sealed record Found(int Onset, int Fall, int To, double Rest, double Odds, double Rival, double Own);

    private sealed class Fitting(CourseWindows windows)
    {
        private readonly double[][] _expected = Fresh(windows);
        private readonly double[][] _weights = Fresh(windows);
        private readonly double[][] _without = Fresh(windows);
        private readonly double[][] _rests = Fresh(windows);

        public Found? Best()
        {
            Squares();
            Found? best = null;
            for (var onset = 0; onset + LeastWindows <= windows.Count; onset += Stride)
            {
                for (var to = onset + LeastWindows; to <= windows.Count; to += to == windows.Count - 1 ? 1 : Stride)
                {
                    if (windows.Count - (to - onset) < LeastOutside || !Expect(onset, to)) continue;
                    foreach (var fall in s_falls)
                    {
                        if (fall > to - onset) break;
                        foreach (var rest in s_rests)
                        {
                            var left = Left(onset, to, Shape.Fall, fall, rest);
                            var odds = Odds(left, 1);
                            if (best is null || odds > best.Odds) best = new Found(onset, fall, to, rest, odds, 0, 1);
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

            return best with { Odds = Odds(rests, own), Rival = rival, Own = own };
        }

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

                var odds = 0.5 * own * OfOwn / left.Length * Math.Log(((none / known) + Floor) / left[kind]);
                (sum, least) = (sum + odds, Math.Min(least, odds));
            }

            return isWeakest ? Math.Min(sum, 6 * least) : sum;
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
            Expect(0, 0);
            for (var kind = 0; kind < _without.Length; kind++)
            {
                for (var window = 0; window < windows.Count; window++) _without[kind][window] = windows.Value(kind, window) - _expected[kind][window];
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
                        expected = shape == Shape.Load
                            ? Less(expected, done, load)
                            : Math.Max(windows.Least, expected + Math.Log(1 - (done * (1 - rest))));
                    }

                    _rests[kind][window] = value - expected;
                    sum += _weights[kind][window] * _rests[kind][window] * _rests[kind][window];
                    known += _weights[kind][window];
                }

                left[kind] = (sum / known) + Floor;
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
}
