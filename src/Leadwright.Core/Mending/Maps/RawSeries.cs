using Leadwright.Core.Circuits;
using Leadwright.Core.Logs;

namespace Leadwright.Core.Mending.Maps;

/// <summary>The readings of a recording by slot: what each channel wrote.</summary>
internal sealed class RawSeries
{
    public RawSeries(IntervalLog log, SlotGrid grid, ServiceKind service)
    {
        IsThreeWire = service is ServiceKind.Delta or ServiceKind.DeltaTwoClamp;
        Lines = service switch { ServiceKind.Single => 1, ServiceKind.Split or ServiceKind.Network => 2, _ => 3 };
        Elements = service == ServiceKind.DeltaTwoClamp ? [0, 2] : [.. Enumerable.Range(0, Lines)];
        Grid = grid;
        // A power that was written, be it the whole's alone, goes before one that is worked out.
        var isWritten = log.Columns.Any(column => column.Quantity is LogQuantity.ActivePower or LogQuantity.ActiveEnergy);
        for (var line = 0; line < 3; line++)
        {
            var place = LogPlace.Phase1 + line;
            var isByFactor = isWritten && !log.Columns.Any(column => column.Quantity is LogQuantity.ActivePower or LogQuantity.ActiveEnergy && column.Place == place);
            var volts = Column(log, LogQuantity.Voltage, IsThreeWire ? LogPlace.Pair12 + line : place);
            Volts[line] = volts;
            Amperes[line] = Column(log, LogQuantity.Current, place);
            Watts[line] = isByFactor ? null : Spread(LogSeries.ActivePower(log, place));
            Vars[line] = Spread(LogSeries.ReactivePower(log, place));
        }

        // A log of one phase may give its values no number.
        if (Lines == 1)
        {
            Volts[0] ??= Column(log, LogQuantity.Voltage, LogPlace.Whole);
            Amperes[0] ??= Column(log, LogQuantity.Current, LogPlace.Whole);
            Watts[0] ??= Spread(LogSeries.ActivePower(log, LogPlace.Whole));
            Vars[0] ??= Spread(LogSeries.ReactivePower(log, LogPlace.Whole));
        }

        Amperes[3] = Column(log, LogQuantity.Current, LogPlace.Neutral);
        NeutralDegrees = Column(log, LogQuantity.CurrentAngle, LogPlace.Neutral);
        VoltageDegrees = Column(log, LogQuantity.VoltageAngle, LogPlace.Phase1);
        TotalWatts = Spread(LogSeries.ActivePower(log, LogPlace.Whole));
        TotalVars = Spread(LogSeries.ReactivePower(log, LogPlace.Whole));
        IsByFactor = !isWritten;
        HasPhases = Elements.All(element => Watts[element] is not null);
        if (HasPhases || TotalWatts is null) return;
        // Totals only: they are taken for one element, whatever the hook-up was.
        TotalClamps = [.. Elements.Where(clamp => Amperes[clamp] is not null)];
        (Elements, IsTotal) = ([0], true);
        (Watts[0], Vars[0]) = (TotalWatts, TotalVars);
    }

    public SlotGrid Grid { get; }

    public bool IsThreeWire { get; }

    public int Lines { get; }

    /// <summary>The channels that have a power: all lines, or clamps 1 and 3.</summary>
    public int[] Elements { get; }

    /// <summary>True when no power was written, but voltage, current and power factor.</summary>
    public bool IsByFactor { get; }

    /// <summary>True when only the total power was written.</summary>
    public bool IsTotal { get; }

    /// <summary>Where only the total was written: the clamps whose currents were too.</summary>
    public int[] TotalClamps { get; } = [];

    /// <summary>True when there is a power to mend.</summary>
    public bool HasPower => HasPhases || IsTotal;

    /// <summary>True when each element has its watts.</summary>
    public bool HasPhases { get; }

    /// <summary>By lead; on three wires lead against the next.</summary>
    public double[]?[] Volts { get; } = new double[]?[3];

    /// <summary>By clamp, the neutral last.</summary>
    public double[]?[] Amperes { get; } = new double[]?[4];

    public double[]?[] Watts { get; } = new double[]?[3];

    public double[]?[] Vars { get; } = new double[]?[3];

    public double[]? NeutralDegrees { get; }

    public double[]? VoltageDegrees { get; }

    public double[]? TotalWatts { get; }

    public double[]? TotalVars { get; }

    public static double At(double[]? series, int slot) => series is null ? double.NaN : series[slot];

    private double[]? Column(IntervalLog log, LogQuantity quantity, LogPlace place) =>
        log.IndexOf(quantity, place) is >= 0 and var index ? Grid.Spread(log.Values(index)) : null;

    private double[]? Spread(double[]? rows) => rows is null ? null : Grid.Spread(rows);
}
