using System.Collections.Immutable;
using Leadwright.Core.Circuits;
using Leadwright.Core.Integrity;
using Leadwright.Core.Logs;
using Leadwright.Core.Panels;

namespace Leadwright.Core.Tests.Integrity;

/// <summary>Three days of ten-minute values on a wye service of 230/400 V, to be changed by arithmetic: volts, amperes, watts and vars.</summary>
internal sealed class MadeLog
{
    public const int Rows = 432;
    private const double Ohms = 0.06;

    public MadeLog()
    {
        var random = new SeededRandom(11);
        var level = new double[3];
        for (var row = 0; row < Rows; row++)
        {
            var hour = row % 144 / 6.0;
            var common = 230 + (1.5 * Math.Sin(row / 40.0)) + (0.15 * random.Gaussian());
            for (var phase = 0; phase < 3; phase++)
            {
                // Loads that come and go, each phase for itself, on top of a working day.
                if (random.Chance(0.25)) level[phase] = random.Uniform(0, 12);
                Amperes[phase][row] = 6 + (2 * phase) + (14 / (1 + Math.Exp(-3 * (5 - Math.Abs(hour - 12.5))))) + level[phase] + (0.2 * random.Gaussian());
            }

            for (var phase = 0; phase < 3; phase++)
            {
                var others = (Amperes[(phase + 1) % 3][row] + Amperes[(phase + 2) % 3][row]) / 2;
                Volts[phase][row] = common + (0.4 * phase) - (Ohms * (Amperes[phase][row] - others)) + (0.03 * random.Gaussian());
                var lag = (15 + (5 * phase) + (2 * random.Gaussian())) * Math.PI / 180;
                Watts[phase][row] = Volts[phase][row] * Amperes[phase][row] * Math.Cos(lag);
                Vars[phase][row] = Volts[phase][row] * Amperes[phase][row] * Math.Sin(lag);
            }
        }

        for (var row = 0; row < Rows; row++) Starts.Add(Start.AddMinutes(10 * row).Ticks);
    }

    public static DateTime Start { get; } = new(2026, 3, 2);

    public double[][] Volts { get; } = [new double[Rows], new double[Rows], new double[Rows]];

    public double[][] Amperes { get; } = [new double[Rows], new double[Rows], new double[Rows]];

    public double[][] Watts { get; } = [new double[Rows], new double[Rows], new double[Rows]];

    public double[][] Vars { get; } = [new double[Rows], new double[Rows], new double[Rows]];

    public List<long> Starts { get; } = [];

    /// <summary>Sets the voltages to per-unit values over some rows; a phase's powers follow its voltage.</summary>
    public MadeLog WithVolts(int from, int to, double first, double second, double third)
    {
        double[] factors = [first, second, third];
        for (var row = from; row < to; row++)
        {
            for (var phase = 0; phase < 3; phase++) Scale(row, phase, factors[phase], Volts);
        }

        return this;
    }

    /// <summary>Multiplies a phase's current, and its powers with it.</summary>
    public MadeLog WithAmperes(int from, int to, int phase, double factor)
    {
        for (var row = from; row < to; row++) Scale(row, phase, factor, Amperes);
        return this;
    }

    /// <summary>Turns a clamp round.</summary>
    public MadeLog WithReversed(int from, int to, int phase)
    {
        for (var row = from; row < to; row++)
        {
            Watts[phase][row] = -Watts[phase][row];
            Vars[phase][row] = -Vars[phase][row];
        }

        return this;
    }

    public IntervalLog ToLog()
    {
        var columns = ImmutableArray.CreateBuilder<LogColumn>();
        var values = new List<double[]>();
        for (var phase = 0; phase < 3; phase++)
        {
            var place = LogPlace.Phase1 + phase;
            columns.Add(new LogColumn($"V{phase + 1}", LogQuantity.Voltage, place));
            columns.Add(new LogColumn($"I{phase + 1}", LogQuantity.Current, place));
            columns.Add(new LogColumn($"P{phase + 1}", LogQuantity.ActivePower, place));
            columns.Add(new LogColumn($"Q{phase + 1}", LogQuantity.ReactivePower, place));
            values.AddRange([Volts[phase], Amperes[phase], Watts[phase], Vars[phase]]);
        }

        return new IntervalLog(columns.ToImmutable(), [.. Starts], [.. values], 600);
    }

    public GuardReport Guard() => IntervalGuard.Judge(
        ToLog(), new GuardOptions { Service = ServiceKind.Wye, Nominal = new NominalVoltage(230, 400) });

    /// <summary>The same values as those of a high-leg service of 240 V, B its high leg.</summary>
    public GuardReport GuardAsHighLeg()
    {
        WithVolts(0, Rows, 120 / 230.0, 120 * Math.Sqrt(3) / 230, 120 / 230.0);
        return IntervalGuard.Judge(ToLog(), new GuardOptions { Service = ServiceKind.HighLeg, Nominal = new NominalVoltage(120, 240) });
    }

    /// <summary>The time at which a row starts.</summary>
    public static DateTime At(int row) => Start.AddMinutes(10 * row);

    private void Scale(int row, int phase, double factor, double[][] quantity)
    {
        quantity[phase][row] *= factor;
        Watts[phase][row] *= factor;
        Vars[phase][row] *= factor;
    }
}
