using Leadwright.Core.Integrity.Chains;

namespace Leadwright.Core.Integrity.Relations;

/// <summary>How the voltages of all lines answer to an ampere in each, and what that says of a clamp that shows more or less than what flows.</summary>
/// <remarks>
/// The conductors of a service are of one kind and one length, so that each line's own answer is as strong as another's: a clamp that shows g times its current has an answer of 1/g. The phases of a wye service
/// answer to the current of another line as well, one more than the other by what the neutral's own impedance turns: these differences do not hang on the line's conductor, and stand at 1/g all the same. Four numbers
/// of each clamp, own and turned, for currents in phase and across, are held against the other two clamps'. On a split service the legs' difference has the own ones alone. Derivation: docs/methods/guard.md.
/// </remarks>
internal sealed class SupplyMatrix
{
    private const int MostTeachers = 30000;
    private const int LeastRows = 60;
    private const double Beyond = 4;
    private const double KnownSharp = 5;

    /// <summary>Conductors of one kind have joints, fuses and places of their own (common practice, no source).</summary>
    private const double LinesDiffer = 0.1;

    /// <summary>What a number of few rows may be off by beside its own error.</summary>
    private const double ErrorsAre = 1.5;
    private const double Grid = 0.02;
    private const double MostGain = 2.6;
    private readonly double[][] _values;
    private readonly double[][] _errors;

    private SupplyMatrix(double[][] values, double[][] errors) => (_values, _errors) = (values, errors);

    /// <summary>How many clamps there are.</summary>
    public int Lines => _values.Length;

    /// <summary>The answer of a line's own voltage to an ampere in phase, per unit: below nought for a sound hook-up.</summary>
    public double Own(int clamp) => _values[clamp][0];

    /// <summary>Learns from some rows; null where there are too few, or the powers of a line are not known with their signs.</summary>
    /// <param name="frame">The recording.</param>
    /// <param name="voltages">What the voltages did.</param>
    /// <param name="isAsked">True for the rows that teach.</param>
    public static SupplyMatrix? Learn(GuardFrame frame, VoltageHistory voltages, Func<int, bool> isAsked)
    {
        var lines = frame.Lines;
        if (frame.IsPairs || lines < 2 || frame.Service.Kind is not (Circuits.ServiceKind.Wye or Circuits.ServiceKind.Split)) return null;
        if (Enumerable.Range(0, lines).Any(line => frame.Volts[line] is null || frame.Amperes[line] is null || frame.Watts[line] is null || frame.Vars[line] is null)) return null;
        var currents = VoltageAnswer.Regressors(frame, 0, out var own);
        if (own != 2 || currents.Count != 2 * lines) return null;
        var teaches = VoltageAnswer.WithSteps(frame, currents);
        var dips = SupplyDips.Rows(frame);
        bool IsWhole(int row) => isAsked(row) && voltages.At(row).Kind == VoltageStateKind.Sound && (dips.Length == 0 || !dips[row]);
        int[] rows = [.. Enumerable.Range(1, Math.Max(0, frame.Count - 1)).Where(row => teaches?[row] != false && IsWhole(row) && IsWhole(row - 1)
            && frame.Starts[row] - frame.Starts[row - 1] < 1.5 * frame.Log.IntervalTicks)];
        if (rows.Length > MostTeachers) rows = [.. rows.Where((_, index) => index % ((rows.Length / MostTeachers) + 1) == 0)];
        if (rows.Length < LeastRows) return null;
        var equations = lines == 3 ? 3 : 1;
        var weights = new double[equations][];
        var errors = new double[equations][];
        for (var line = 0; line < equations; line++)
        {
            if (Fit(frame, currents, rows, line) is not { } fitted) return null;
            (weights[line], errors[line]) = fitted;
        }

        return lines == 3
            ? new SupplyMatrix(
                [.. Enumerable.Range(0, 3).Select(clamp => new[] { weights[clamp][2 * clamp], Turned(clamp, 0), weights[clamp][(2 * clamp) + 1], Turned(clamp, 1) })],
                [.. Enumerable.Range(0, 3).Select(clamp => new[] { errors[clamp][2 * clamp], ErrorOfTurned(clamp, 0), errors[clamp][(2 * clamp) + 1], ErrorOfTurned(clamp, 1) })])
            : new SupplyMatrix([[weights[0][0], weights[0][1]], [-weights[0][2], -weights[0][3]]], [[errors[0][0], errors[0][1]], [errors[0][2], errors[0][3]]]);

        double Turned(int clamp, int part) => weights[(clamp + 1) % 3][(2 * clamp) + part] - weights[(clamp + 2) % 3][(2 * clamp) + part];
        double ErrorOfTurned(int clamp, int part) => Math.Sqrt(Square(errors[(clamp + 1) % 3][(2 * clamp) + part]) + Square(errors[(clamp + 2) % 3][(2 * clamp) + part]));
    }

    /// <summary>By what a clamp shows more than flows, judged by the others, with the log-odds over its showing what flows; null where they do not agree, or nothing is known.</summary>
    /// <param name="clamp">The clamp.</param>
    public SupplyGain? GainOf(int clamp)
    {
        int[] others = [.. Enumerable.Range(0, Lines).Where(line => line != clamp)];
        if (!Enumerable.Range(0, Lines).All(line => _values[line][0] < 0 && _values[line][0] < -KnownSharp * _errors[line][0])) return null;
        // Of three lines two must be alike, or no one of them can be blamed.
        if (others.Length == 2 && Math.Abs(Math.Log(_values[others[0]][0] / _values[others[1]][0])) > 2 * LinesDiffer) return null;
        double none = Say(clamp, others, 1), most = double.NegativeInfinity, best = 1;
        for (var log = -MostGain; log <= MostGain; log += Grid)
        {
            var gain = Math.Exp(log);
            var say = Say(clamp, others, gain);
            if (say > most) (most, best) = (say, gain);
        }

        return new SupplyGain(best, most - none, most);
    }

    /// <summary>Log-odds that a clamp shows one gain over another.</summary>
    public double Odds(int clamp, double gain, double over)
    {
        int[] others = [.. Enumerable.Range(0, Lines).Where(line => line != clamp)];
        return Say(clamp, others, gain) - Say(clamp, others, over);
    }

    private double Say(int clamp, int[] others, double gain)
    {
        double log = 0;
        for (var kind = 0; kind < _values[clamp].Length; kind++)
        {
            var middle = others.Average(line => _values[line][kind]);
            var error = Math.Sqrt(others.Sum(line => Square(_errors[line][kind]))) / others.Length;
            var apart = others.Length == 2 ? 0.5 * (_values[others[0]][kind] - _values[others[1]][kind]) : 0;
            var square = Square(ErrorsAre * gain * _errors[clamp][kind]) + Square(ErrorsAre * error) + Square(apart) + Square(LinesDiffer * _values[others[0]][0]);
            log += (-0.5 * Square((gain * _values[clamp][kind]) - middle) / square) - (0.5 * Math.Log(square));
        }

        return log;
    }

    private static (double[] Weights, double[] Errors)? Fit(GuardFrame frame, List<double[]> currents, int[] rows, int line)
    {
        var steps = new double[currents.Count];
        double[]? weights = null;
        var spread = double.PositiveInfinity;
        NormalEquations? sums = null;
        for (var pass = 0; pass < 4; pass++)
        {
            sums = new NormalEquations(steps.Length);
            foreach (var row in rows)
            {
                if (weights is not null && !(Math.Abs(Rest(row)) < Beyond * spread)) continue;
                for (var index = 0; index < steps.Length; index++) steps[index] = Step(index, row);
                var moved = Moved(row);
                if (!double.IsNaN(moved)) sums.Add(steps, moved);
            }

            weights = sums.Solve();
            if (weights is null) return null;
            spread = Math.Max(1e-7, Robust.Deviation([.. rows.Select(Rest)]));
        }

        return (weights!, [.. Enumerable.Range(0, steps.Length).Select(index => spread * sums!.ErrorOf(index))]);

        double Step(int index, int row) => currents[index][row] - currents[index][row - 1];
        double Moved(int row) => Height(row) - Height(row - 1);
        double Height(int row) => frame.Lines == 3 ? VoltageAnswer.Relative(frame, line, row) : frame.Volts[0]![row] - frame.Volts[1]![row];
        double Rest(int row)
        {
            var rest = Moved(row);
            for (var index = 0; index < steps.Length; index++) rest -= weights![index] * Step(index, row);
            return rest;
        }
    }

    private static double Square(double value) => value * value;
}

/// <summary>What the voltages say of a clamp's gain.</summary>
/// <param name="Gain">What it shows over what flows.</param>
/// <param name="Odds">Log-odds over a gain of one.</param>
/// <param name="Fit">Log-likelihood of the gain itself.</param>
internal readonly record struct SupplyGain(double Gain, double Odds, double Fit);
