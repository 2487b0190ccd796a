using System.Collections.Immutable;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;

namespace Leadwright.Core.Planning;

/// <summary>A clamp's figures, as its sheet states them.</summary>
/// <param name="RangeAmperes">The range that it is set to, amperes rms; above zero.</param>
/// <param name="ReadingErrorPercent">Its error in percent of the reading; 0 or more.</param>
/// <param name="RangeErrorPercent">The rest of its error, in percent of the range; 0 or more.</param>
/// <param name="AngleErrorDegrees">Its angle error, degrees; 0 or more.</param>
public sealed record ClampFigures(double RangeAmperes, double ReadingErrorPercent, double RangeErrorPercent, double AngleErrorDegrees);

/// <summary>A recorder's figures, as typed.</summary>
public sealed record RecorderFigures
{
    /// <summary>Free memory, bytes; null when not known.</summary>
    public double? MemoryBytes { get; init; }

    /// <summary>Quantities stored for each interval, such as volts, amperes, watts and vars of three phases: 12.</summary>
    public int Quantities { get; init; } = 12;

    /// <summary>Values stored of each: 3 for mean, lowest and highest.</summary>
    public int Statistics { get; init; } = 3;

    /// <summary>Bytes that a value takes; 4 is a single-precision number.</summary>
    public double BytesPerValue { get; init; } = 4;

    /// <summary>How long it runs without its supply, hours; null when not known.</summary>
    public double? BatteryHours { get; init; }

    /// <summary>How long its supply may be gone meanwhile, hours; 0 for not at all.</summary>
    public double OutageHours { get; init; }
}

/// <summary>What is known and wanted before a survey.</summary>
public sealed record SurveyPlan
{
    /// <summary>The service.</summary>
    public required ServiceKind Service { get; init; }

    /// <summary>Nominal voltages.</summary>
    public required NominalVoltage Nominal { get; init; }

    /// <summary>Nominal frequency, hertz. Default 50.</summary>
    public double FrequencyHertz { get; init; } = 50;

    /// <summary>What is to be learnt. Default: the load.</summary>
    public ImmutableArray<SurveyPurpose> Purposes { get; init; } = [SurveyPurpose.Load];

    /// <summary>The kind of load. Default <see cref="LoadKind.Mixed"/>.</summary>
    public LoadKind Load { get; init; }

    /// <summary>True when generation may send power back.</summary>
    public bool MayExport { get; init; }

    /// <summary>Expected power of all phases together, watts, above zero; null when <see cref="ExpectedAmperes"/> says it or nobody knows.</summary>
    public double? ExpectedWatts { get; init; }

    /// <summary>Expected current of a line, amperes rms, above zero; goes before <see cref="ExpectedWatts"/>; null when not known.</summary>
    public double? ExpectedAmperes { get; init; }

    /// <summary>How many times the expected load the highest may be; 1 or more. Default 1.5.</summary>
    public double PeakFactor { get; init; } = 1.5;

    /// <summary>The clamps; null when not chosen yet.</summary>
    public ClampFigures? Clamp { get; init; }

    /// <summary>The recorder; null when nothing is known of it.</summary>
    public RecorderFigures? Recorder { get; init; }

    /// <summary>The interval that was decided, seconds; null to take what the purposes need.</summary>
    public double? IntervalSeconds { get; init; }

    /// <summary>The length that was decided, days; null to take what the purposes need.</summary>
    public double? Days { get; init; }
}
