using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity;
using Leadwright.Core.Integrity.Chains;
using Leadwright.Core.Integrity.Relations;
using Leadwright.Core.Logs;

namespace Leadwright.Core.Tests.Integrity.Parts;

/// <summary>A log of a few columns given by hand, for one part of the guard at a time.</summary>
internal sealed class PartLog(ServiceKind service = ServiceKind.Wye, double seconds = 600)
{
    private readonly List<LogColumn> _columns = [];
    private readonly List<double[]> _values = [];

    public static DateTime Start { get; } = new(2026, 3, 2);

    public NominalVoltage? Nominal { get; init; }

    public bool MayExport { get; init; }

    /// <summary>Rows that are not there.</summary>
    public Func<int, bool> IsMissing { get; init; } = _ => false;

    /// <summary>By how much later a row starts than the interval has it, seconds.</summary>
    public Func<int, double> Late { get; init; } = _ => 0;

    public ClockStep[] ClockSteps { get; init; } = [];

    public PartLog With(LogQuantity quantity, LogPlace place, double[] values, LogStatistic statistic = LogStatistic.Mean)
    {
        _columns.Add(new LogColumn($"{quantity}{place}{statistic}", quantity, place, statistic));
        _values.Add(values);
        return this;
    }

    public PartLog Volts(int line, double[] values) => With(LogQuantity.Voltage, LogPlace.Phase1 + line, values);

    public PartLog Pair(int pair, double[] values) => With(LogQuantity.Voltage, LogPlace.Pair12 + pair, values);

    public PartLog Amperes(int line, double[] values) => With(LogQuantity.Current, LogPlace.Phase1 + line, values);

    public PartLog Watts(int line, double[] values) => With(LogQuantity.ActivePower, LogPlace.Phase1 + line, values);

    public PartLog Vars(int line, double[] values) => With(LogQuantity.ReactivePower, LogPlace.Phase1 + line, values);

    public IntervalLog ToLog()
    {
        var kept = Enumerable.Range(0, _values[0].Length).Where(row => !IsMissing(row)).ToArray();
        return new IntervalLog(
            [.. _columns], [.. kept.Select(row => Start.AddSeconds((row * seconds) + Late(row)).Ticks)], [.. _values.Select(column => Array.ConvertAll(kept, row => column[row]))], seconds)
        { ClockSteps = [.. ClockSteps] };
    }

    public GuardFrame ToFrame() => GuardFrame.Of(ToLog(), new GuardOptions { Service = service, Nominal = Nominal, Check = new CheckOptions { MayExport = MayExport } });

    /// <summary>The time at which a row starts.</summary>
    public DateTime At(int row) => Start.AddSeconds(row * seconds);

    /// <summary>As many rows of one value.</summary>
    public static double[] Steady(int rows, double value) => Rows(rows, _ => value);

    public static double[] Rows(int rows, Func<int, double> value) => [.. Enumerable.Range(0, rows).Select(value)];

    /// <summary>Voltages that were sound in every row, and clamps that show nothing below a twentieth of an ampere.</summary>
    public static VoltageHistory Sound(GuardFrame frame) => new(VoltageStates.Of(frame), new byte[frame.Count], [1, 1, 1], [0.05, 0.05, 0.05, 0.05]);
}
