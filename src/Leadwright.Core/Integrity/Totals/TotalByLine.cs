using Leadwright.Core.Circuits;
using Leadwright.Core.Integrity.Chains;
using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Integrity.Totals;

/// <summary>The total of each row as what every clamp adds to it: its share of the volt-amperes that were read, turned by the angle of the load on its line and by what the hook-up turns it.</summary>
/// <remarks>Σ U·I* over the elements, over Σ |U| I: y = Σ w(k) g(k) e^{jφ(on k)}, w(k) the share of clamp k, g(k) = ± e^{j(arg U − arg E)} with U the voltage of the element's leads and E that of the conductor the clamp
/// is on. Of watts alone only the real part is known; then the shares, which change from row to row, tell which clamp goes the wrong way.</remarks>
internal sealed class TotalByLine
{
    private const double LeastShare = 0.01;
    private const double LeastTeaching = 0.03;

    // The spread of a value rounded to a step, 1/√12.
    private const double OfStep = 0.3;
    private readonly GuardFrame _frame;

    private TotalByLine(GuardFrame frame, int[] clamps)
    {
        (_frame, Clamps) = (frame, clamps);
        HasVars = frame.TotalVars is not null;
        Shares = new double[]?[frame.Count];
        Values = new Phasor[frame.Count];
        Sizes = new double[frame.Count];
        Steps = new double[frame.Count];
        Teaches = new bool[frame.Count];
    }

    /// <summary>The clamps whose currents were written.</summary>
    public int[] Clamps { get; }

    /// <summary>True when vars were written with their sign.</summary>
    public bool HasVars { get; }

    /// <summary>Share of each clamp in the volt-amperes of a row; null where a row does not tell.</summary>
    public double[]?[] Shares { get; }

    /// <summary>Watts and vars of each row over its volt-amperes; no vars where none were written.</summary>
    public Phasor[] Values { get; }

    /// <summary>True for rows that teach what the loads draw: the few volt-amperes of a night's idle motors and supplies stand at angles of their own, and hardly count in the energy.</summary>
    public bool[] Teaches { get; }

    /// <summary>Volt-amperes of each row.</summary>
    public double[] Sizes { get; }

    /// <summary>What the steps in which total and currents are written may make of a row, over its volt-amperes.</summary>
    public double[] Steps { get; }

    /// <summary>Takes the total of a log that has no power by phase; null where it has, or where voltages or currents are missing.</summary>
    public static TotalByLine? Of(GuardFrame frame, VoltageHistory voltages)
    {
        if (frame.TotalWatts is not { } watts || frame.HasWatts || frame.Lines < 2 || frame.Nominal is null) return null;
        if (Enumerable.Range(0, frame.Lines).Any(line => frame.Volts[line] is null)) return null;
        int[] clamps = frame.IsTwoElement ? [0, 2] : [.. Enumerable.Range(0, frame.Lines)];
        if (Array.Exists(clamps, clamp => frame.Amperes[clamp] is null)) return null;
        var total = new TotalByLine(frame, clamps);
        var sizes = total.Sizes;
        var own = new double[clamps.Length];
        for (var row = 0; row < sizes.Length; row++) sizes[row] = total.Sum(row, own);
        var large = Robust.Quantile(sizes, 0.95);
        var least = LeastShare * large;
        var step = Robust.Step(watts);
        double[] amperes = [.. clamps.Select(clamp => Robust.Step(frame.Amperes[clamp]!))];
        for (var row = 0; row < sizes.Length; row++)
        {
            var size = total.Sum(row, own);
            var vars = frame.TotalVars?[row] ?? 0;
            if (!(size > least) || voltages.At(row).Kind != VoltageStateKind.Sound || !double.IsFinite(watts[row]) || !double.IsFinite(vars)) continue;
            total.Teaches[row] = size > LeastTeaching * large;
            total.Shares[row] = Array.ConvertAll(own, value => value / size);
            total.Values[row] = new Phasor(watts[row] / size, vars / size);
            var variance = step / size * (step / size);
            for (var index = 0; index < own.Length; index++) variance += Square(own[index] / size * amperes[index] / frame.Amperes[clamps[index]]![row]);
            total.Steps[row] = OfStep * Math.Sqrt(variance);
        }

        return total;

        // A current of nothing has no share.
        static double Square(double value) => double.IsNaN(value) ? 0 : value * value;
    }

    /// <summary>What a hook-up turns each clamp's power by.</summary>
    public Phasor[] Turns(TotalHookup hookup) => Array.ConvertAll(Clamps, clamp =>
    {
        var (on, sign) = hookup.Clamps[clamp];
        return Phasor.FromDegrees(sign, Element(clamp, hookup.Leads).AngleDegrees - _frame.Ideal[on].AngleDegrees);
    });

    private Phasor Element(int clamp, int[] leads)
    {
        var own = _frame.Ideal[leads[clamp]];
        if (_frame.IsTwoElement) return own - _frame.Ideal[leads[1]];
        return _frame.Service.IsThreeWire ? own - ((_frame.Ideal[leads[0]] + _frame.Ideal[leads[1]] + _frame.Ideal[leads[2]]) / 3) : own;
    }

    /// <summary>Volt-amperes of each clamp with its element's leads; returns their sum.</summary>
    private double Sum(int row, double[] own)
    {
        var unit = _frame.Nominal is null ? double.NaN : _frame.UnitVolts;
        double sum = 0, mean = 0;
        for (var line = 0; line < _frame.Lines; line++) mean += _frame.Volts[line]![row] / _frame.Lines;
        for (var index = 0; index < own.Length; index++)
        {
            var clamp = Clamps[index];
            var volts = !_frame.IsPairs ? (_frame.IsTwoElement ? Math.Sqrt(3) * mean : _frame.Volts[clamp]![row])
                : _frame.IsTwoElement ? _frame.Volts[clamp == 0 ? 0 : 1]![row] : mean / Math.Sqrt(3);
            own[index] = volts * unit * _frame.Amperes[clamp]![row];
            sum += own[index];
        }

        return sum;
    }
}
