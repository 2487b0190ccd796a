using System.Collections.Immutable;
using Leadwright.Core.Circuits;

namespace Leadwright.Core.Panels;

/// <summary>Something connected to the panel.</summary>
/// <remarks>
/// Powers are those of the whole load, watts and vars; vars are positive when the load lags. A power factor is that of
/// displacement, above 0 up to 1. Loads of <see cref="Linear"/>, <see cref="SinglePhase"/>, <see cref="LineToLine"/> and
/// <see cref="CapacitorBank"/> are constant impedances that take their stated power at the nominal voltage; all others take
/// their stated power at whatever voltage there is.
/// </remarks>
public sealed class PanelLoad
{
    private PanelLoad(string name, ImmutableArray<LoadPart> parts, LoadSchedule schedule)
    {
        Name = name;
        Parts = parts;
        Schedule = schedule;
        foreach (var part in parts) OrderMask |= part.OrderMask;
    }

    /// <summary>What it is, for a list of loads.</summary>
    public string Name { get; }

    /// <summary>When it is on.</summary>
    public LoadSchedule Schedule { get; }

    /// <summary>Its elements.</summary>
    internal ImmutableArray<LoadPart> Parts { get; }

    /// <summary>Bit n is set where it makes harmonic n.</summary>
    internal ulong OrderMask { get; }

    /// <summary>The same load, switched.</summary>
    public PanelLoad Switched(LoadSchedule schedule)
    {
        ArgumentNullException.ThrowIfNull(schedule);
        return new PanelLoad(Name, Parts, schedule);
    }

    /// <summary>A balanced three-phase load: between the lines and neutral on a wye service, between the lines on
    /// three-wire and high-leg ones.</summary>
    /// <exception cref="ArgumentException">The service isn't three-phase, or a value is out of range.</exception>
    public static PanelLoad Linear(
        ServiceKind service, NominalVoltage nominal, double watts, double powerFactor, PowerFactorSide side = PowerFactorSide.Lagging)
    {
        ArgumentNullException.ThrowIfNull(nominal);
        RequirePower(watts);
        return Balanced("Three-phase load", service, nominal, watts, VarsOf(watts, powerFactor, side));
    }

    /// <summary>A balanced three-phase impedance given by watts (zero or more) and vars.</summary>
    /// <exception cref="ArgumentException">The service isn't three-phase, or a value is out of range.</exception>
    public static PanelLoad Balanced(string name, ServiceKind service, NominalVoltage nominal, double watts, double vars)
    {
        ArgumentNullException.ThrowIfNull(nominal);
        RequireFinite(watts, vars);
        ArgumentOutOfRangeException.ThrowIfNegative(watts);
        if (watts == 0 && vars == 0) throw new ArgumentException("A load needs watts or vars other than zero.", nameof(watts));
        return Make(name, [.. BranchesOf(service).Select(branch => (LoadPart)new ImpedancePart(
            branch.From, branch.To, watts / 3, vars / 3, VoltsAcross(service, nominal, branch.From, branch.To)))]);
    }

    /// <summary>Induction motors on three wires.</summary>
    /// <exception cref="ArgumentException">A value is out of range.</exception>
    public static PanelLoad Motor(NominalVoltage nominal, double watts, double powerFactor)
    {
        ArgumentNullException.ThrowIfNull(nominal);
        RequirePower(watts);
        return Make("Motor", [new MotorPart(
            watts, VarsOf(watts, powerFactor, PowerFactorSide.Lagging), LineToCentreVolts(nominal))]);
    }

    /// <summary>A load between a line and neutral.</summary>
    /// <exception cref="ArgumentException">A value is out of range.</exception>
    public static PanelLoad SinglePhase(
        NominalVoltage nominal, Conductor line, double watts, double powerFactor, PowerFactorSide side = PowerFactorSide.Lagging)
    {
        RequirePower(watts);
        return Between("Single-phase load", nominal, line, Conductor.N, watts, VarsOf(watts, powerFactor, side));
    }

    /// <summary>A load between two lines.</summary>
    /// <param name="service">The service: says how far the lines are apart.</param>
    /// <param name="nominal">Nominal voltages.</param>
    /// <param name="from">One line.</param>
    /// <param name="to">The other line.</param>
    /// <param name="watts">Power; above zero.</param>
    /// <param name="powerFactor">Power factor of displacement, above 0 up to 1.</param>
    /// <param name="side">Whether it lags or leads.</param>
    /// <exception cref="ArgumentException">A value is out of range.</exception>
    public static PanelLoad LineToLine(
        ServiceKind service, NominalVoltage nominal, Conductor from, Conductor to, double watts, double powerFactor,
        PowerFactorSide side = PowerFactorSide.Lagging)
    {
        ArgumentNullException.ThrowIfNull(nominal);
        RequirePower(watts);
        return Make("Line-to-line load", [new ImpedancePart(
            from, to, watts, VarsOf(watts, powerFactor, side), VoltsAcross(service, nominal, from, to))]);
    }

    /// <summary>An impedance between two conductors given by watts (zero or more) and vars at the nominal voltage across it.</summary>
    /// <exception cref="ArgumentException">A value is out of range.</exception>
    public static PanelLoad Between(
        string name, NominalVoltage nominal, Conductor from, Conductor to, double watts, double vars)
    {
        ArgumentNullException.ThrowIfNull(nominal);
        RequireFinite(watts, vars);
        ArgumentOutOfRangeException.ThrowIfNegative(watts);
        if (watts == 0 && vars == 0) throw new ArgumentException("A load needs watts or vars other than zero.", nameof(watts));
        var volts = from == Conductor.N || to == Conductor.N ? nominal.LineToNeutralVolts : nominal.LineToLineVolts;
        return Make(name, [new ImpedancePart(from, to, watts, vars, volts)]);
    }

    /// <summary>Single-phase electronics: a rectifier between two conductors, with a third harmonic that crests with the voltage.</summary>
    /// <param name="from">A line.</param>
    /// <param name="to">Neutral, or another line.</param>
    /// <param name="watts">Power of the fundamental; above zero.</param>
    /// <param name="leadDegrees">By how much the pulse comes before the crest of the voltage; −45 to 45. Default 5.</param>
    /// <param name="spectrum">Its harmonics; default <see cref="Spectrum.CapacitorRectifier"/>.</param>
    /// <exception cref="ArgumentException">A value is out of range.</exception>
    public static PanelLoad Rectifier(
        Conductor from, Conductor to, double watts, double leadDegrees = 5, Spectrum? spectrum = null)
    {
        RequirePower(watts);
        RequireAngle(leadDegrees, nameof(leadDegrees));
        return Make("Rectifier", [new RectifierPart(from, to, watts, leadDegrees, spectrum ?? Spectrum.CapacitorRectifier)]);
    }

    /// <summary>A three-phase variable-speed drive.</summary>
    /// <param name="watts">Power of the fundamental; above zero.</param>
    /// <param name="lagDegrees">Displacement of the fundamental, positive when it lags; −45 to 45. Default 8.</param>
    /// <param name="spectrum">Its harmonics; default <see cref="Spectrum.SixPulse"/>.</param>
    /// <exception cref="ArgumentException">A value is out of range.</exception>
    public static PanelLoad Drive(double watts, double lagDegrees = 8, Spectrum? spectrum = null)
    {
        RequirePower(watts);
        RequireAngle(lagDegrees, nameof(lagDegrees));
        return Make("Drive", [new DrivePart(watts, lagDegrees, spectrum ?? Spectrum.SixPulse)]);
    }

    /// <summary>A balanced capacitor bank.</summary>
    /// <param name="service">A three-phase service: star on a wye service, delta on a three-wire one.</param>
    /// <param name="nominal">Nominal voltages.</param>
    /// <param name="vars">What it gives, as a number above zero.</param>
    /// <exception cref="ArgumentException">The service isn't three-phase, or the vars are not above zero.</exception>
    public static PanelLoad CapacitorBank(ServiceKind service, NominalVoltage nominal, double vars)
    {
        RequirePower(vars);
        return Balanced("Capacitor bank", service, nominal, 0, -vars);
    }

    /// <summary>Balanced three-phase generation through an inverter.</summary>
    /// <param name="service">A three-phase service.</param>
    /// <param name="watts">What it gives, as a number above zero.</param>
    /// <param name="vars">What it takes in vars; negative when it gives vars too. Default 0.</param>
    /// <exception cref="ArgumentException">The service isn't three-phase, or the watts are not above zero.</exception>
    public static PanelLoad Generation(ServiceKind service, double watts, double vars = 0)
    {
        RequirePower(watts);
        return Make("Generation", [.. BranchesOf(service).Select(branch =>
            (LoadPart)new PowerPart(branch.From, branch.To, -watts / 3, vars / 3))]);
    }

    /// <summary>Generation through an inverter between two conductors.</summary>
    /// <param name="from">A line.</param>
    /// <param name="to">Neutral, or another line.</param>
    /// <param name="watts">What it gives, as a number above zero.</param>
    /// <param name="vars">What it takes in vars; negative when it gives vars too. Default 0.</param>
    /// <exception cref="ArgumentException">The watts are not above zero.</exception>
    public static PanelLoad Generation(Conductor from, Conductor to, double watts, double vars = 0)
    {
        RequirePower(watts);
        return Make("Generation", [new PowerPart(from, to, -watts, vars)]);
    }

    /// <summary>Name, for lists.</summary>
    public override string ToString() => Name;

    /// <summary>The places of a balanced three-phase load.</summary>
    internal static ImmutableArray<(Conductor From, Conductor To)> BranchesOf(ServiceKind service) => service switch
    {
        ServiceKind.Wye => [(Conductor.A, Conductor.N), (Conductor.B, Conductor.N), (Conductor.C, Conductor.N)],
        ServiceKind.Delta or ServiceKind.DeltaTwoClamp or ServiceKind.HighLeg =>
            [(Conductor.A, Conductor.B), (Conductor.B, Conductor.C), (Conductor.C, Conductor.A)],
        _ => throw new ArgumentException($"A three-phase load needs a three-phase service; found {service}.", nameof(service)),
    };

    /// <summary>Vars of a load of some watts at a power factor.</summary>
    internal static double VarsOf(double watts, double powerFactor, PowerFactorSide side)
    {
        if (!(powerFactor > 0 && powerFactor <= 1))
        {
            throw new ArgumentOutOfRangeException(
                nameof(powerFactor), powerFactor, "A power factor lies above 0 up to 1; give vars for a purely reactive load.");
        }

        var vars = watts * Math.Sqrt(1 - (powerFactor * powerFactor)) / powerFactor;
        return side == PowerFactorSide.Leading ? -vars : vars;
    }

    private static double VoltsAcross(ServiceKind service, NominalVoltage nominal, Conductor from, Conductor to) =>
        from == Conductor.N || to == Conductor.N || service == ServiceKind.Single
            ? nominal.LineToNeutralVolts
            : nominal.LineToNeutralVolts * NominalVoltage.LineRatio(service);

    /// <summary>Volts from a line to the centre of three lines; a high-leg service's neutral is not that centre.</summary>
    private static double LineToCentreVolts(NominalVoltage nominal) => nominal.LineToLineVolts > 1.9 * nominal.LineToNeutralVolts
        ? nominal.LineToLineVolts / Math.Sqrt(3)
        : nominal.LineToNeutralVolts;

    private static PanelLoad Make(string name, ImmutableArray<LoadPart> parts) => new(name, parts, LoadSchedule.AlwaysOn);

    private static void RequirePower(double value)
    {
        if (!double.IsFinite(value) || value <= 0)
        {
            throw new ArgumentOutOfRangeException(nameof(value), value, "The power of a load is a finite number above zero.");
        }
    }

    private static void RequireFinite(double watts, double vars)
    {
        if (!double.IsFinite(watts) || !double.IsFinite(vars))
        {
            throw new ArgumentException($"Watts and vars must be finite; found {watts} W, {vars} var.", nameof(watts));
        }
    }

    private static void RequireAngle(double degrees, string name)
    {
        if (!(Math.Abs(degrees) <= 45))
            throw new ArgumentOutOfRangeException(name, degrees, "The displacement of a rectifier lies between -45 and 45 degrees.");
    }
}
