using System.Collections.Immutable;
using Leadwright.Core.Circuits;

namespace Leadwright.Core.Hookups;

/// <summary>What a voltage or current channel of a recorder is connected to inside it.</summary>
public enum Channel
{
    /// <summary>Lead 1 against the neutral lead (on three-wire services: against the star point of the inputs).</summary>
    V1,

    /// <summary>Lead 2 against the neutral lead or star point.</summary>
    V2,

    /// <summary>Lead 3 against the neutral lead or star point.</summary>
    V3,

    /// <summary>Lead 1 against lead 2.</summary>
    V12,

    /// <summary>Lead 2 against lead 3.</summary>
    V23,

    /// <summary>Lead 3 against lead 1.</summary>
    V31,

    /// <summary>Clamp 1.</summary>
    I1,

    /// <summary>Clamp 2.</summary>
    I2,

    /// <summary>Clamp 3.</summary>
    I3,

    /// <summary>Neutral clamp.</summary>
    IN,
}

/// <summary>The sign of the angles that a person read or a file holds.</summary>
public enum AngleSign
{
    /// <summary>Not stated: leading positive is taken, and the answer says so when only the other one fits.</summary>
    NotStated,

    /// <summary>A positive angle leads: B of an A-B-C supply stands at −120 (240).</summary>
    LeadPositive,

    /// <summary>A positive angle lags: B of an A-B-C supply stands at +120.</summary>
    LagPositive,
}

/// <summary>What the angle of a current is measured from.</summary>
public enum CurrentAngleReference
{
    /// <summary>Not stated: the common reference is taken, and the answer says so when only the other one fits.</summary>
    NotStated,

    /// <summary>All angles, of voltages and currents, from one reference.</summary>
    Common,

    /// <summary>Each current's angle from the voltage of its own phase.</summary>
    OwnVoltage,
}

/// <summary>The sign of power that flows to the load.</summary>
public enum PowerSign
{
    /// <summary>Not stated: positive for load is taken, and the answer says so when only the other one fits.</summary>
    NotStated,

    /// <summary>Power to the load is positive.</summary>
    LoadPositive,

    /// <summary>Power to the load is negative.</summary>
    LoadNegative,
}

/// <summary>One channel's reading.</summary>
/// <param name="Rms">Volts or amperes rms, zero or more; null when it was not read.</param>
/// <param name="AngleDegrees">Degrees, in the convention of the <see cref="PanelReadings"/>; null when it was not read.</param>
/// <param name="Spread">One standard deviation of the phasor's real and imaginary parts over the windows it was averaged
/// from, in the channel's unit; null when only one value is known.</param>
public readonly record struct ChannelReading(double? Rms, double? AngleDegrees, double? Spread = null);

/// <summary>The powers that the recorder shows for one phase; on a two-clamp three-wire service: for one element.</summary>
/// <param name="Watts">Active power; null when it was not read.</param>
/// <param name="Vars">Reactive power, positive for a lagging load; null when it was not read.</param>
/// <param name="VoltAmperes">Apparent power, zero or more; null when it was not read.</param>
/// <param name="PowerFactor">Power factor as displayed, −1 to 1; null when it was not read.</param>
public readonly record struct PhasePower(double? Watts, double? Vars, double? VoltAmperes, double? PowerFactor);

/// <summary>What a recorder or a meter shows at one time: typed from a screen, or computed from a snapshot of samples.</summary>
/// <remarks>Everything but the service may be missing; what is missing only carries less evidence.</remarks>
public sealed record PanelReadings
{
    /// <summary>The service as stated.</summary>
    public required ServiceKind Service { get; init; }

    /// <summary>True when the service was not stated: <see cref="Service"/> is then only the one they were read in as, and the check
    /// finds the service itself. Default false.</summary>
    public bool IsServiceOpen { get; init; }

    /// <summary>Nominal voltages; null when not stated.</summary>
    public NominalVoltage? Nominal { get; init; }

    /// <summary>Nominal frequency in hertz; null when not stated.</summary>
    public double? FrequencyHertz { get; init; }

    /// <summary>Sign of the angles.</summary>
    public AngleSign AngleSign { get; init; }

    /// <summary>What the angles of currents are measured from.</summary>
    public CurrentAngleReference CurrentAngleReference { get; init; }

    /// <summary>Sign of power to the load.</summary>
    public PowerSign PowerSign { get; init; }

    /// <summary>True when the instrument measures one voltage (V1) and replays it 120 and 240 degrees later for phases 2 and 3.</summary>
    public bool IsReplayed { get; init; }

    /// <summary>The channels that were read. A channel that is absent was not read or does not exist.</summary>
    public ImmutableSortedDictionary<Channel, ChannelReading> Channels { get; init; } =
        ImmutableSortedDictionary<Channel, ChannelReading>.Empty;

    /// <summary>Powers by phase number, 1 to 3.</summary>
    public ImmutableSortedDictionary<int, PhasePower> Phases { get; init; } = ImmutableSortedDictionary<int, PhasePower>.Empty;

    /// <summary>Volts rms between two leads, read besides the channels; keys V12, V23, V31.</summary>
    public ImmutableSortedDictionary<Channel, double> LineToLineVolts { get; init; } =
        ImmutableSortedDictionary<Channel, double>.Empty;

    /// <summary>The voltage from the neutral lead to a ground lead, where the recorder has one (<c>VNG</c>); null when it was not
    /// read.</summary>
    public ChannelReading? NeutralToGround { get; init; }

    /// <summary>Rms of the sum of the three line-to-neutral voltages sample by sample, as a fraction of their mean rms;
    /// null when only phasors are known. Near zero when the neutral lead is in the air.</summary>
    public double? VoltageSumFraction { get; init; }

    /// <summary>The load-switching steps of the recording that the readings come from; null when there was none.</summary>
    public PanelSteps? Steps { get; init; }

    /// <summary>The changes from interval to interval of the log that the readings come from; null when there was none.</summary>
    public LoggedChanges? Logged { get; init; }

    /// <summary>The harmonics of the channels; empty when only fundamentals are known.</summary>
    public ImmutableSortedDictionary<Channel, HarmonicReading> Harmonics { get; init; } =
        ImmutableSortedDictionary<Channel, HarmonicReading>.Empty;
}
