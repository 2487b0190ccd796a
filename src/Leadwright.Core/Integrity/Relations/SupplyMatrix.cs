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

    /// <summary>Conductors of one kind have joints, fuses and places of their own (common practice, no source); without vars, and still more by amperes alone, the loads' own angles part the answers too (our choice).</summary>
    private const double LinesDiffer = 0.1;
    private const double WithoutVars = 0.14;
    private const double WithoutWatts = 0.22;

    /// <summary>What a number of few rows may be off by beside its own error.</summary>
    private const double ErrorsAre = 1.5;
    private const double Grid = 0.02;
    private const double MostGain = 2.6;

    /// <summary>Above the second clamp that the same answers might blame.</summary>
    private const double OverOthers = 5;

    /// <summary>Into so many parts a recording is cut to see whether something holds in all of it.</summary>
    public const int Parts = 8;
    private readonly double[][] _values;
    private readonly double[][] _errors;
    private readonly double _differ;

    private SupplyMatrix(double[][] values, double[][] errors, double differ) => (_values, _errors, _differ) = (values, errors, differ);

    /// <summary>How many clamps there are.</summary>
    public int Lines => _values.Length;

    /// <summary>The answer of a line's own voltage to an ampere in phase, per unit: below nought for a sound hook-up.</summary>
    public double Own(int clamp) => _values[clamp][0];

    /// <summary>Learns from some rows; null where there are too few, or columns are missing.</summary>
    /// <param name="frame">The recording.</param>
    /// <param name="voltages">What the voltages did.</param>
    /// <param name="isAsked">True for the rows that teach.</param>
    public static SupplyMatrix? Learn(GuardFrame frame, VoltageHistory voltages, Func<int, bool> isAsked)
    {
        var lines = frame.Lines;
        if (frame.IsPairs || lines < 2 || frame.Service.Kind is not (Circuits.ServiceKind.Wye or Circuits.ServiceKind.Split)) return null;
        if (Enumerable.Range(0, lines).Any(line => frame.Volts[line] is null || frame.Amperes[line] is null)) return null;
        var currents = VoltageAnswer.Regressors(frame, 0, out var parts);
        if (currents.Count != parts * lines) return null;
        var hasVars = parts == 2 && Enumerable.Range(0, lines).All(line => frame.Vars[line] is not null);
        // By day on a site with generation a current without its angle may flow either way.
        if (!hasVars && frame.Options.Check.MayExport) return null;
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

        var differ = hasVars ? LinesDiffer : parts == 2 ? WithoutVars : WithoutWatts;
        // Without vars the sign of what lies across is not known.
        var kinds = hasVars ? 2 : 1;
        var values = new double[lines][];
        var errorsOf = new double[lines][];
        for (var clamp = 0; clamp < lines; clamp++)
        {
            values[clamp] = [.. Enumerable.Range(0, kinds).SelectMany(part => lines == 3 ? [weights[clamp][At(clamp, part)], Turned(clamp, part)] : new[] { (clamp == 0 ? 1 : -1) * weights[0][At(clamp, part)] })];
            errorsOf[clamp] = [.. Enumerable.Range(0, kinds).SelectMany(part => lines == 3 ? [errors[clamp][At(clamp, part)], ErrorOfTurned(clamp, part)] : new[] { errors[0][At(clamp, part)] })];
        }

        return new SupplyMatrix(values, errorsOf, differ);

        int At(int clamp, int part) => (parts * clamp) + part;
        double Turned(int clamp, int part) => weights[(clamp + 1) % 3][At(clamp, part)] - weights[(clamp + 2) % 3][At(clamp, part)];
        double ErrorOfTurned(int clamp, int part) => Math.Sqrt(Square(errors[(clamp + 1) % 3][At(clamp, part)]) + Square(errors[(clamp + 2) % 3][At(clamp, part)]));
    }

    /// <summary>By what a clamp shows more than flows, judged by the others, with the log-odds over its showing what flows; null where they do not agree, or nothing is known.</summary>
    /// <param name="clamp">The clamp.</param>
    public SupplyGain? GainOf(int clamp)
    {
        int[] others = [.. Enumerable.Range(0, Lines).Where(line => line != clamp)];
        if (!Enumerable.Range(0, Lines).All(line => _values[line][0] < 0 && _values[line][0] < -KnownSharp * _errors[line][0])) return null;
        // Of three lines two must be alike, or no one of them can be blamed.
        if (others.Length == 2 && Math.Abs(Math.Log(_values[others[0]][0] / _values[others[1]][0])) > 2 * _differ) return null;
        double none = Say(clamp, others, 1), most = double.NegativeInfinity, best = 1;
        for (var log = -MostGain; log <= MostGain; log += Grid)
        {
            var gain = Math.Exp(log);
            var say = Say(clamp, others, gain);
            if (say > most) (most, best) = (say, gain);
        }

        return new SupplyGain(best, most - none);
    }

    /// <summary>The clamp that is blamed by far before the others, with its gain and the log-odds over none; null where none stands out by so many nats.</summary>
    /// <param name="leastOdds">Log-odds at the least.</param>
    public (int Clamp, double Gain, double Odds)? Blamed(double leastOdds)
    {
        var (found, second) = ((Clamp: -1, Gain: 1.0, Odds: 0.0), 0.0);
        for (var clamp = 0; clamp < Lines; clamp++)
        {
            if (GainOf(clamp) is not { } of) continue;
            if (of.Odds > found.Odds) (second, found) = (found.Odds, (clamp, of.Gain, of.Odds));
            else second = Math.Max(second, of.Odds);
        }

        return found.Odds >= Math.Max(leastOdds, second + OverOthers) ? found : null;
    }

    /// <summary>Log-odds that a clamp shows one gain over another.</summary>
    public double Odds(int clamp, double gain, double over)
    {
        int[] others = [.. Enumerable.Range(0, Lines).Where(line => line != clamp)];
        return Say(clamp, others, gain) - Say(clamp, others, over);
    }

    /// <summary>The row from which on no part of the recording by itself is better told without a gain: 0 where it holds in all, the number of rows where it does not hold in the last.</summary>
    public static int HoldsFrom(GuardFrame frame, VoltageHistory voltages, Func<int, bool> isAsked, int clamp, double gain)
    {
        for (var part = Parts - 1; part >= 0; part--)
        {
            int from = frame.Count * part / Parts, end = frame.Count * (part + 1) / Parts;
            if (Learn(frame, voltages, row => row >= from && row < end && isAsked(row)) is { } matrix && matrix.Odds(clamp, gain, 1) < 0) return end;
        }

        return 0;
    }

    private double Say(int clamp, int[] others, double gain)
    {
        double log = 0;
        for (var kind = 0; kind < _values[clamp].Length; kind++)
        {
            var middle = others.Average(line => _values[line][kind]);
            var error = Math.Sqrt(others.Sum(line => Square(_errors[line][kind]))) / others.Length;
            var apart = others.Length == 2 ? 0.5 * (_values[others[0]][kind] - _values[others[1]][kind]) : 0;
            var square = Square(ErrorsAre * gain * _errors[clamp][kind]) + Square(ErrorsAre * error) + Square(apart) + Square(_differ * _values[others[0]][0]);
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
internal readonly record struct SupplyGain(double Gain, double Odds);
