using Leadwright.Core.Circuits;
using Leadwright.Core.Integrity.Chains;

namespace Leadwright.Core.Integrity.Relations;

/// <summary>What Kirchhoff's current law says of each clamp, row by row: on a three-wire service the currents add up to nothing, elsewhere to what the neutral's clamp reads.</summary>
/// <remarks>
/// With watts and vars of every phase each current is a phasor, whichever line its clamp is on: the conjugate of its power over the voltage that made
/// it. |Σ J/s| over the largest of them is as small as the clamps agree only while every scale s and every direction is right; means over an interval
/// add up as the currents do. What one clamp is said to do is weighed with the others doing the likeliest of what they may. All of them turned round, or at one
/// wrong scale, is not seen. Of a neutral's current the size alone is written, and on three lines it carries the triplens of all: anything from |Σ J| to √(|Σ J|² + (t Σ |J|)²), t being what most rows keep within. Derivation: docs/methods/guard.md.
/// </remarks>
internal sealed class CurrentSum
{
    private const double Wild = 0.03;
    private const double OtherIsOff = 4;
    private const double OtherIsTurned = 5;
    private const double OfAnyNeutral = -0.2;
    private const double LeastOfNeutral = 0.015;
    private const double LeastOfStar = 0.03;
    private const double MostOfNeutral = 0.12;
    private const double MostTriplens = 0.4;
    private const double MostRows = 0.75;
    private const double LeastFollowed = 0.25;
    private const double LeastOfUsual = 0.3;

    // A clamp at ten times its size in most rows makes the usual row none of the right ones.
    private const double Quarter = 0.25;
    private static readonly double[] s_scales = [1, 10, 0.1, 2, 0.5, 5, 0.2];
    private readonly double[][] _real;
    private readonly double[][] _imaginary;
    private readonly int _lines;
    private readonly double[]? _neutral;
    private double _triplens;
    private double _spread;
    private double _least;

    private CurrentSum(GuardFrame frame, double[]? neutral = null)
    {
        (_lines, _neutral) = (frame.Lines, neutral);
        _real = [.. Enumerable.Range(0, _lines).Select(_ => new double[frame.Count])];
        _imaginary = [.. Enumerable.Range(0, _lines).Select(_ => new double[frame.Count])];
    }

    /// <summary>Learns it; null where the service, the columns, or the readings give none.</summary>
    public static CurrentSum? Learn(GuardFrame frame, VoltageHistory voltages)
    {
        if (!frame.Service.IsThreeWire || frame.IsTwoElement) return null;
        for (var line = 0; line < frame.Lines; line++)
        {
            if (frame.Watts[line] is null || frame.Vars[line] is null || frame.Volts[line] is null) return null;
        }

        CurrentSum? best = null;
        // The lines may come in either order.
        foreach (var way in new[] { 1, -1 })
        {
            var sum = new CurrentSum(frame);
            sum.Fill(frame, voltages, way);
            if (sum.LearnSpread() && (best is null || sum._spread < best._spread)) best = sum;
        }

        return best;
    }

    /// <summary>Learns what the neutral's clamp says; null where the service has no neutral, no such clamp is there, powers are missing, or it does not follow.</summary>
    public static CurrentSum? OfNeutral(GuardFrame frame, VoltageHistory voltages)
    {
        if (frame.IsPairs || frame.Service.Kind is not (ServiceKind.Wye or ServiceKind.Split) || frame.Amperes[3] is not { } neutral) return null;
        for (var line = 0; line < frame.Lines; line++)
        {
            if (frame.Watts[line] is null || frame.Vars[line] is null || frame.Volts[line] is null || frame.Amperes[line] is null) return null;
        }

        CurrentSum? best = null;
        foreach (var way in frame.Lines == 2 ? [1] : new[] { 1, -1 })
        {
            var sum = new CurrentSum(frame, neutral);
            sum.Fill(frame, voltages, way);
            if (sum.LearnNeutral() && (best is null || sum._spread < best._spread)) best = sum;
        }

        return best;
    }

    /// <summary>True where it is the neutral's clamp that tells.</summary>
    public bool IsOfNeutral => _neutral is not null;

    /// <summary>Log-likelihood of a row with a clamp at a scale, 0 for one on nothing; clamp 3 is the neutral's.</summary>
    public double Say(int row, int clamp, double scale)
    {
        // A neutral's clamp on nothing leaves nothing to hold the lines against, which is no sign of it.
        if (scale == 0) return Say(row, clamp, clamp == 3 ? 1 : 0, 1, OtherIsTurned);
        return Math.Max(Say(row, clamp, scale, 1, OtherIsTurned), Say(row, clamp, scale, -1, OtherIsTurned) - OtherIsTurned);
    }

    /// <summary>Log-likelihood of a row with every clamp at a scale of its own, 0 for one on nothing; 0 where the row does not tell.</summary>
    public double Say(int row, ReadOnlySpan<double> scales)
    {
        if (!Tells(row)) return 0;
        double real = 0, imaginary = 0, most = 0, all = 0;
        for (var line = 0; line < _lines; line++)
        {
            if (scales[line] == 0) return _neutral is null ? 0.2 : OfAnyNeutral;
            double one = _real[line][row] / scales[line], two = _imaginary[line][row] / scales[line], square = (one * one) + (two * two);
            (real, imaginary, most, all) = (real + one, imaginary + two, Math.Max(most, square), all + Math.Sqrt(square));
        }

        if (_neutral is null) return Density(Math.Sqrt(((real * real) + (imaginary * imaginary)) / most));
        if (scales[3] == 0) return OfAnyNeutral;
        return Density(OffNeutral(real, imaginary, most, all, _neutral[row] / scales[3]));
    }

    /// <summary>By how much a row speaks for a clamp that is turned round, in nats.</summary>
    public double SayTurned(int row, int clamp) => Math.Clamp(Say(row, clamp, 1, -1, 3) - Say(row, clamp, 1, 1, 3), -4, 4);

    /// <summary>What the other currents say the clamp's own should be, in its direction, and what it is; NaN where they don't.</summary>
    public (double Own, double Wanted, double Size) Gain(int row, int clamp)
    {
        if (!Tells(row)) return (double.NaN, double.NaN, double.NaN);
        var own = Math.Sqrt(Square(_real[clamp][row]) + Square(_imaginary[clamp][row]));
        double real = 0, imaginary = 0, most = own;
        for (var line = 0; line < _lines; line++)
        {
            if (line == clamp) continue;
            real -= _real[line][row];
            imaginary -= _imaginary[line][row];
            most = Math.Max(most, Math.Sqrt(Square(_real[line][row]) + Square(_imaginary[line][row])));
        }

        // What is missing of a clamp lies in its own direction; what does not is another's, or a lead's.
        var aside = ((imaginary * _real[clamp][row]) - (real * _imaginary[clamp][row])) / Math.Max(own, 1e-9);
        if (Math.Abs(aside) > Math.Max(0.06, 4 * _spread) * most) return (double.NaN, double.NaN, double.NaN);
        return (own, ((real * _real[clamp][row]) + (imaginary * _imaginary[clamp][row])) / Math.Max(own, 1e-9), most);
    }

    private void Fill(GuardFrame frame, VoltageHistory voltages, int way)
    {
        var angles = new double[3];
        for (var line = 0; line < _lines; line++) angles[line] = way * frame.Ideal[line].AngleRadians;
        for (var row = 0; row < frame.Count; row++)
        {
            var isSound = voltages.At(row).Kind == VoltageStateKind.Sound;
            for (var line = 0; line < _lines; line++)
            {
                // Star voltages of three wires: near enough a third of what both pairs of the line make.
                var volts = frame.IsPairs
                    ? (frame.Volts[line]![row] + frame.Volts[(line + 2) % 3]![row]) / 2 * frame.UnitVolts / Math.Sqrt(3)
                    : frame.Volts[line]![row] * frame.UnitVolts;
                var (sine, cosine) = Math.SinCos(angles[line]);
                double watts = frame.Watts[line]![row], vars = frame.Vars[line]![row];
                // (P + jQ) / U, conjugate, U at its angle.
                _real[line][row] = isSound ? ((watts * cosine) + (vars * sine)) / volts : double.NaN;
                _imaginary[line][row] = isSound ? ((watts * sine) - (vars * cosine)) / volts : double.NaN;
            }
        }

        var sizes = new double[frame.Count];
        for (var row = 0; row < sizes.Length; row++) sizes[row] = Enumerable.Range(0, _lines).Max(line => Math.Sqrt(Square(_real[line][row]) + Square(_imaginary[line][row])));
        _least = _neutral is null ? 0.05 * Robust.Quantile(sizes, 0.9) : LeastOfUsual * Robust.Quantile(sizes, Quarter);
    }

    /// <summary>How near the neutral's clamp usually comes to the sum, with the likeliest of what clamps may be doing; false where it seldom does.</summary>
    private bool LearnNeutral()
    {
        var rows = Enumerable.Range(0, _neutral!.Length).Where(Tells).ToArray();
        if (rows.Length < 30) return false;
        var step = Math.Max(1, rows.Length / 4000);
        int[] some = [.. rows.Where((_, index) => index % step == 0)];
        if (_lines > 2) _triplens = Math.Min(MostTriplens, Robust.Quantile(Array.ConvertAll(some, TriplensOf), MostRows));
        _spread = Math.Max(_lines > 2 ? LeastOfStar : LeastOfNeutral, 1.3 * Robust.Median(Array.ConvertAll(some, Nearest)) / 0.674);
        return _spread < MostOfNeutral && some.Count(row => Off(row, -1, 1, 1) < 3 * _spread) > LeastFollowed * some.Length;
    }

    /// <summary>The share of the lines' currents that comes back as triplens, where these alone make up what the sum lacks.</summary>
    private double TriplensOf(int row)
    {
        double real = 0, imaginary = 0, all = 0;
        for (var line = 0; line < _lines; line++)
        {
            double one = _real[line][row], two = _imaginary[line][row];
            (real, imaginary, all) = (real + one, imaginary + two, all + Math.Sqrt((one * one) + (two * two)));
        }

        return Math.Sqrt(Math.Max(0, Square(_neutral![row]) - (real * real) - (imaginary * imaginary))) / all;
    }

    /// <summary>How near the currents usually come to the law, with the likeliest of what clamps may be doing; false where they never do.</summary>
    private bool LearnSpread()
    {
        var rows = Enumerable.Range(0, _real[0].Length).Where(Tells).ToArray();
        if (rows.Length < 30) return false;
        var step = Math.Max(1, rows.Length / 4000);
        int[] some = [.. rows.Where((_, index) => index % step == 0)];
        _spread = Math.Max(0.008, 1.3 * Robust.Median(Array.ConvertAll(some, Nearest)) / 1.177);
        return _spread < 0.1;
    }

    private bool Tells(int row)
    {
        if (_neutral is not null && double.IsNaN(_neutral[row])) return false;
        double most = 0;
        for (var line = 0; line < _lines; line++)
        {
            var square = Square(_real[line][row]) + Square(_imaginary[line][row]);
            if (double.IsNaN(square)) return false;
            most = Math.Max(most, square);
        }

        return most > _least * _least;
    }

    private double Nearest(int row)
    {
        var nearest = Off(row, -1, 1, 1);
        for (var line = 0; line < _lines + (_neutral is null ? 0 : 1); line++)
        {
            if (line < _lines) nearest = Math.Min(nearest, Off(row, line, 1, -1));
            for (var index = 1; index < s_scales.Length; index++) nearest = Math.Min(nearest, Off(row, line, s_scales[index], 1));
        }

        return nearest;
    }

    private double Say(int row, int clamp, double scale, int sign, double costOfTurn)
    {
        if (!Tells(row)) return 0;
        // With one clamp on nothing the law asks nothing of the others: every sum is as likely.
        if (scale == 0) return _neutral is null ? 0.2 : OfAnyNeutral;
        var best = Density(Off(row, clamp, scale, sign));
        // Where all agree as they are nothing else need be asked.
        var asTheyAre = Off(row, -1, 1, 1);
        // At one wrong scale all of them, the neutral's clamp too, agree as well.
        if (asTheyAre < 2.5 * _spread) return _neutral is null ? best : Math.Max(best, Density(asTheyAre));
        for (var other = 0; other < _lines + (_neutral is null ? 0 : 1); other++)
        {
            if (other == clamp) continue;
            if (other < _lines) best = Math.Max(best, Density(Off(row, clamp, scale, sign, other, 1, -1)) - costOfTurn);
            for (var index = 1; index < s_scales.Length; index++)
                best = Math.Max(best, Density(Off(row, clamp, scale, sign, other, s_scales[index], 1)) - OtherIsOff);
        }

        return best;
    }

    /// <summary>Natural logarithm of the density: narrow with a wide foot.</summary>
    private double Density(double off) => _neutral is not null
        ? Math.Log(((1 - Wild) * Math.Exp(-off * off / (2 * _spread * _spread)) / (1.2533 * _spread)) + Wild)
        : Math.Log(((1 - Wild) * Math.Exp(-off * off / (2 * _spread * _spread)) / (2 * Math.PI * _spread * _spread)) + (Wild / Math.PI));

    private double Off(int row, int clamp, double scale, int sign, int other = -1, double otherScale = 1, int otherSign = 1)
    {
        double real = 0, imaginary = 0, most = 0, all = 0;
        for (var line = 0; line < _lines; line++)
        {
            var factor = line == clamp ? sign / scale : line == other ? otherSign / otherScale : 1;
            double one = factor * _real[line][row], two = factor * _imaginary[line][row];
            real += one;
            imaginary += two;
            var square = (one * one) + (two * two);
            most = Math.Max(most, square);
            if (_neutral is not null) all += Math.Sqrt(square);
        }

        if (_neutral is not null)
        {
            var shown = _neutral[row] / (clamp == 3 ? scale : other == 3 ? otherScale : 1);
            return OffNeutral(real, imaginary, most, all, shown);
        }

        return Math.Sqrt(((real * real) + (imaginary * imaginary)) / most);
    }

    private double OffNeutral(double real, double imaginary, double most, double all, double shown)
    {
        double square = (real * real) + (imaginary * imaginary), least = Math.Sqrt(square), large = Math.Sqrt(square + (_triplens * _triplens * all * all));
        return Math.Max(0, Math.Max(least - shown, shown - large)) / Math.Max(Math.Sqrt(most), shown);
    }

    private static double Square(double value) => value * value;
}
