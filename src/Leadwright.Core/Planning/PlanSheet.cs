using System.Collections.Immutable;
using Leadwright.Core.Hookups;

namespace Leadwright.Core.Planning;

/// <summary>What a channel should show when everything is right.</summary>
/// <param name="Channel">The channel.</param>
/// <param name="Low">Lowest of what is usual, volts or amperes rms; null where the load is not known.</param>
/// <param name="Typical">Nominal volts, or the expected amperes; null where the load is not known.</param>
/// <param name="High">Highest of what is usual; null where the load is not known.</param>
/// <param name="AngleFromDegrees">Smallest usual angle, degrees, positive leading, against V1 (V12 on three wires).</param>
/// <param name="AngleToDegrees">Largest usual angle, 0 to 360 above <paramref name="AngleFromDegrees"/>.</param>
public readonly record struct ExpectedReading(
    Channel Channel, double? Low, double? Typical, double? High, double AngleFromDegrees, double AngleToDegrees);

/// <summary>What the powers should show.</summary>
/// <param name="Phase">Phase (on two clamps: element), 1 to 3.</param>
/// <param name="Watts">Expected watts; null where the load is not known.</param>
/// <param name="LowPowerFactor">One end of the usual power factors: negative when that element may well go negative.</param>
/// <param name="HighPowerFactor">The highest of the usual power factors.</param>
public readonly record struct ExpectedPower(int Phase, double? Watts, double LowPowerFactor, double HighPowerFactor);

/// <summary>What the clamps do at the expected load.</summary>
/// <param name="ShareOfRange">Expected current as a share of the range.</param>
/// <param name="CurrentErrorPercent">Largest error of the current there, percent of the reading.</param>
/// <param name="PowerErrorPercent">Largest error of the power there, percent, its angle error at the usual displacement included; voltage
/// errors are not.</param>
/// <param name="PeakShareOfRange">The peak as a share of the range.</param>
public readonly record struct ClampFit(double ShareOfRange, double CurrentErrorPercent, double PowerErrorPercent, double PeakShareOfRange);

/// <summary>What a purpose needs.</summary>
/// <param name="Purpose">The purpose.</param>
/// <param name="IntervalSeconds">The longest interval that serves it.</param>
/// <param name="Days">The shortest length that serves it.</param>
public readonly record struct PurposeNeed(SurveyPurpose Purpose, double IntervalSeconds, double Days);

/// <summary>Memory that the record takes.</summary>
/// <param name="Intervals">Number of intervals.</param>
/// <param name="Bytes">Bytes, without reserve.</param>
/// <param name="BytesWithReserve">Bytes with a fifth more, for events and settings.</param>
/// <param name="DaysThatFit">Days until the memory is full; null when its size is not known.</param>
public readonly record struct MemoryNeed(double Intervals, double Bytes, double BytesWithReserve, double? DaysThatFit);

/// <summary>What does not fit in a plan.</summary>
public enum PlanWarning
{
    /// <summary>The expected current is below a tenth of the clamps' range.</summary>
    ClampRangeTooLarge,

    /// <summary>The peak is above the clamps' range.</summary>
    ClampRangeTooSmall,

    /// <summary>The memory is full before the end.</summary>
    MemoryTooSmall,

    /// <summary>The battery does not last over the expected loss of supply.</summary>
    BatteryTooShort,

    /// <summary>The interval that was decided is longer than a purpose allows.</summary>
    IntervalTooLong,

    /// <summary>The length that was decided is shorter than a purpose needs.</summary>
    DurationTooShort,
}

/// <summary>A plan worked out.</summary>
public sealed record PlanSheet
{
    /// <summary>What was known and wanted.</summary>
    public required SurveyPlan Plan { get; init; }

    /// <summary>The hook-up that is to be made.</summary>
    public required Hookup Hookup { get; init; }

    /// <summary>What each channel should show, in the order of the channels.</summary>
    public required ImmutableArray<ExpectedReading> Readings { get; init; }

    /// <summary>What the powers should show.</summary>
    public required ImmutableArray<ExpectedPower> Powers { get; init; }

    /// <summary>Expected current of a line, amperes; null where the load is not known.</summary>
    public double? LineAmperes { get; init; }

    /// <summary>Highest current to expect, amperes; null where the load is not known.</summary>
    public double? PeakAmperes { get; init; }

    /// <summary>The usual range that suits the load, amperes; null where the load is not known.</summary>
    public double? SuitableRangeAmperes { get; init; }

    /// <summary>What the clamps do; null where they or the load are not known.</summary>
    public ClampFit? Clamp { get; init; }

    /// <summary>What each purpose needs.</summary>
    public required ImmutableArray<PurposeNeed> Needs { get; init; }

    /// <summary>The interval, seconds.</summary>
    public required double IntervalSeconds { get; init; }

    /// <summary>The length, days.</summary>
    public required double Days { get; init; }

    /// <summary>The memory; null when nothing is known of the recorder.</summary>
    public MemoryNeed? Memory { get; init; }

    /// <summary>What does not fit.</summary>
    public required ImmutableArray<PlanWarning> Warnings { get; init; }
}
