using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Hookups.Priors;
using Leadwright.Core.Logs;

namespace Leadwright.Core.Integrity.Relations;

/// <summary>The values of a log by lead, clamp and phase, with what the service says of them.</summary>
internal sealed class GuardFrame
{
    /// <summary>Log-odds that the lines of a supply follow each other the other way about, where nothing is told.</summary>
    public static readonly double LogAcb = Math.Log(new SlipRates().SupplyTurnsAcb / (1 - new SlipRates().SupplyTurnsAcb));

    private Lazy<NeutralSum?> _neutral;

    private GuardFrame(IntervalLog log, GuardOptions options)
    {
        (Log, Options) = (log, options);
        Service = Service.Of(options.Service);
        Starts = log.Starts.ToArray();
        _neutral = Neutral();
    }

    public IntervalLog Log { get; }

    public GuardOptions Options { get; }

    public Service Service { get; }

    public int Count => Log.Count;

    public long[] Starts { get; }

    /// <summary>Number of lines.</summary>
    public int Lines => Service.LineCount;

    /// <summary>True when the voltages are lead to lead.</summary>
    public bool IsPairs { get; private set; }

    /// <summary>True when two elements measure three wires.</summary>
    public bool IsTwoElement => Service.Kind == ServiceKind.DeltaTwoClamp;

    /// <summary>Voltages by channel, per unit of nominal line to neutral (line to line where <see cref="IsPairs"/>); null where there is none.</summary>
    public double[]?[] Volts { get; } = new double[]?[3];

    /// <summary>Currents by clamp, the neutral's last.</summary>
    public double[]?[] Amperes { get; } = new double[]?[4];

    /// <summary>Watts by phase.</summary>
    public double[]?[] Watts { get; } = new double[]?[3];

    /// <summary>Vars by phase.</summary>
    public double[]?[] Vars { get; } = new double[]?[3];

    /// <summary>Total watts.</summary>
    public double[]? TotalWatts { get; private set; }

    /// <summary>Total vars.</summary>
    public double[]? TotalVars { get; private set; }

    /// <summary>Power factor of the total.</summary>
    public double[]? TotalFactor { get; private set; }

    /// <summary>What the neutral's clamp should show; null where nothing tells.</summary>
    public NeutralSum? NeutralSum => _neutral.Value;

    /// <summary>Counter of energy.</summary>
    public double[]? Counter { get; private set; }

    /// <summary>Volts of one unit.</summary>
    public double UnitVolts { get; private set; }

    /// <summary>Nominal voltages as stated or as found.</summary>
    public NominalVoltage? Nominal { get; private set; }

    /// <summary>Potentials of A, B, C, N of the ideal supply, nominal line to neutral = 1.</summary>
    public Phasor[] Ideal { get; } = new Phasor[4];

    /// <summary>The order in which the lines follow each other, as far as it is known or taken to be.</summary>
    public Rotation Rotation { get; private set; } = Rotation.Abc;

    /// <summary>How many rows carry anything at all.</summary>
    public bool[] HasValues { get; private set; } = [];

    public bool HasVolts => Array.Exists(Volts, column => column is not null);

    public bool HasWatts => Array.Exists(Watts, column => column is not null);

    public bool HasAmperes => Array.Exists(Amperes, column => column is not null);

    /// <summary>The time of a row's start.</summary>
    public DateTime From(int row) => new(Starts[row]);

    /// <summary>The time of a row's end.</summary>
    public DateTime To(int row) => new(Starts[row] + Log.IntervalTicks);

    /// <summary>The mean current in phase with its voltage and across it, amperes, from watts, vars and volts; false where these are not there or the voltage is not sound.</summary>
    /// <remarks>The mean drop of a voltage goes with the mean current; the rms of a current that is switched within the interval is larger than that. On sites that export the sizes are
    /// kept: they did better there on virtual weeks.</remarks>
    public bool TryMeanCurrent(int clamp, int row, out double inPhase, out double across)
    {
        (inPhase, across) = (double.NaN, double.NaN);
        if (IsTwoElement || Options.Check.MayExport || Watts[clamp] is not { } watts || Vars[clamp] is not { } vars || Volts[clamp] is not { } volts || !(volts[row] is > 0.8 and < 2)) return false;
        var own = IsPairs ? StarOf(clamp, row) : volts[row];
        if (!(own > 0.4)) return false;
        var each = 1 / (own * UnitVolts);
        if (Amperes[clamp] is { } amperes && Math.Abs((Math.Sqrt((watts[row] * watts[row]) + (vars[row] * vars[row])) * each / amperes[row]) - 1) < (IsPairs ? 0.03 : 0.002))
        {
            // What the middle of the triangle wanders turns the powers as well: with a steady load the amperes serve, at the angle of the rows about.
            double real = 0, imaginary = 0;
            var reach = IsPairs ? 3 : 0;
            for (var at = Math.Max(0, row - reach); at <= Math.Min(watts.Length - 1, row + reach); at++)
            {
                var size = Math.Sqrt((watts[at] * watts[at]) + (vars[at] * vars[at]));
                if (!(size > 0)) continue;
                real += watts[at] / size;
                imaginary += vars[at] / size;
            }

            var length = Math.Sqrt((real * real) + (imaginary * imaginary));
            if (length > 0)
            {
                (inPhase, across) = (amperes[row] * real / length, amperes[row] * imaginary / length);
                return true;
            }
        }

        (inPhase, across) = (watts[row] * each, vars[row] * each);
        return true;
    }

    /// <summary>A line's distance from the middle of the triangle that the three pair voltages make, in their unit: two thirds of its median, s² = (2a² + 2b² − c²)/9. The pair's own
    /// voltage over √3 would put its noise into the current, and seem to be explained by it.</summary>
    private double StarOf(int line, int row)
    {
        double one = Volts[line]![row], other = Volts[(line + 2) % 3]?[row] ?? one, across = Volts[(line + 1) % 3]?[row] ?? one;
        return Math.Sqrt(Math.Max(0, (2 * one * one) + (2 * other * other) - (across * across))) / 3;
    }

    /// <summary>Leaves out what was found to repeat.</summary>
    public void Blank(IEnumerable<GuardSpan> stuck)
    {
        foreach (var span in stuck)
        {
            _neutral = Neutral();
            foreach (var lead in span.Leads) Blank(Volts[(int)lead], span);
            foreach (var clamp in span.Clamps)
            {
                Blank(Amperes[(int)clamp], span);
                if (clamp == Clamp.IN) continue;
                Blank(Watts[(int)clamp], span);
                Blank(Vars[(int)clamp], span);
            }
        }
    }

    private Lazy<NeutralSum?> Neutral() => new(() => NeutralSum.Learn(this));

    private void Blank(double[]? column, GuardSpan span)
    {
        if (column is null) return;
        for (var row = 0; row < column.Length; row++)
        {
            if (Starts[row] >= span.From.Ticks && Starts[row] < span.To.Ticks) column[row] = double.NaN;
        }
    }

    public static GuardFrame Of(IntervalLog log, GuardOptions options)
    {
        var frame = new GuardFrame(log, options);
        frame.Take();
        return frame;
    }

    private void Take()
    {
        FillIdeal();
        IsPairs = Log.IndexOf(LogQuantity.Voltage, LogPlace.Phase1) < 0 && Log.IndexOf(LogQuantity.Voltage, LogPlace.Pair12) >= 0;
        for (var index = 0; index < Lines; index++)
        {
            Volts[index] = Column(LogQuantity.Voltage, (IsPairs ? LogPlace.Pair12 : LogPlace.Phase1) + index);
            Amperes[index] = Column(LogQuantity.Current, LogPlace.Phase1 + index);
            var phase = LogPlace.Phase1 + index;
            // The second element of two is called 2 or 3.
            if (IsTwoElement && index == 2 && Log.IndexOf(LogQuantity.ActivePower, phase) < 0) phase = LogPlace.Phase2;
            if (IsTwoElement && index == 1) continue;
            Watts[index] = Column(LogQuantity.ActivePower, phase) ?? (IsPairs || (Lines == 1 && Log.IndexOf(LogQuantity.ActivePower, LogPlace.Whole) >= 0) ? null : LogSeries.ActivePowerByFactor(Log, phase));
            Vars[index] = Column(LogQuantity.ReactivePower, phase);
        }

        if (!Options.Check.MayExport && Lines == 3 && !IsTwoElement && VarSigns.AreMissing(Watts, Vars)) Array.Clear(Vars);
        if (IsTwoElement) Amperes[1] = null;
        if (Lines == 1)
        {
            Volts[0] ??= Column(LogQuantity.Voltage, LogPlace.Whole);
            Amperes[0] ??= Column(LogQuantity.Current, LogPlace.Whole);
            Watts[0] ??= Column(LogQuantity.ActivePower, LogPlace.Whole) ?? LogSeries.ActivePowerByFactor(Log, LogPlace.Whole);
            Vars[0] ??= Column(LogQuantity.ReactivePower, LogPlace.Whole);
        }

        Amperes[3] = Column(LogQuantity.Current, LogPlace.Neutral);
        TotalWatts = Column(LogQuantity.ActivePower, LogPlace.Whole);
        TotalVars = Column(LogQuantity.ReactivePower, LogPlace.Whole);
        TotalFactor = Column(LogQuantity.PowerFactor, LogPlace.Whole);
        Counter = Column(LogQuantity.ActiveEnergy, LogPlace.Whole, LogStatistic.Counter);
        Nominal = Options.Nominal ?? Guess();
        var ratio = NominalVoltage.LineRatio(Options.Service);
        UnitVolts = Nominal is null ? 1 : IsPairs ? Nominal.LineToNeutralVolts * ratio : Nominal.LineToNeutralVolts;
        foreach (var column in Volts)
        {
            if (column is null) continue;
            for (var row = 0; row < column.Length; row++) column[row] /= UnitVolts;
        }

        HasValues = new bool[Count];
        for (var column = 0; column < Log.Columns.Length; column++)
        {
            var values = Log.Values(column);
            for (var row = 0; row < values.Length; row++) HasValues[row] |= !double.IsNaN(values[row]);
        }
    }

    private NominalVoltage? Guess()
    {
        var volts = Volts.Where(column => column is not null).Select(column => Robust.Median(column!)).Where(value => value > 20).ToArray();
        if (volts.Length == 0) return null;
        var ratio = NominalVoltage.LineRatio(Options.Service);
        var median = Robust.Median(volts) / (IsPairs ? ratio : 1);
        ReadOnlySpan<double> usual = [120, 127, 220, 230, 240, 277, 347, 400, 69.3, 138.6];
        var best = usual[0];
        foreach (var value in usual)
        {
            if (Math.Abs(Math.Log(median / value)) < Math.Abs(Math.Log(median / best))) best = value;
        }

        if (Math.Abs(Math.Log(median / best)) > 0.12) best = median;
        return new NominalVoltage(best, best * ratio);
    }

    /// <summary>Takes the lines to follow each other in this order.</summary>
    public void Take(Rotation rotation)
    {
        Rotation = rotation;
        FillIdeal();
    }

    private void FillIdeal()
    {
        Ideal[0] = new Phasor(1, 0);
        Ideal[1] = Options.Service switch
        {
            ServiceKind.Split => new Phasor(-1, 0),
            ServiceKind.HighLeg => new Phasor(0, -Math.Sqrt(3)),
            _ => Phasor.FromDegrees(1, -120),
        };
        Ideal[2] = Options.Service == ServiceKind.HighLeg ? new Phasor(-1, 0) : Phasor.FromDegrees(1, 120);
        if (Rotation != Rotation.Acb) return;
        for (var line = 1; line < 3; line++) Ideal[line] = Ideal[line].Conjugate;
    }

    private double[]? Column(LogQuantity quantity, LogPlace place, LogStatistic statistic = LogStatistic.Mean)
    {
        var index = Log.IndexOf(quantity, place, statistic);
        return index < 0 ? null : Log.Values(index).ToArray();
    }
}
