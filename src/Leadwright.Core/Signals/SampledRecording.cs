using System.Collections.Immutable;

namespace Leadwright.Core.Signals;

/// <summary>One analog channel of a sampled recording.</summary>
/// <param name="Name">Its name in the file.</param>
/// <param name="Phase">The phase it is marked with in the file, such as <c>A</c> or <c>N</c>; empty when there is none.</param>
/// <param name="Unit">Its unit in the file with prefix, such as <c>kV</c>; empty when there is none.</param>
/// <param name="Samples">The samples in base units (V, A, or what <paramref name="Unit"/> names without a prefix), one
/// for each sample of the recording; NaN where the file marks a sample as missing.</param>
public sealed record SampledChannel(string Name, string Phase, string Unit, ReadOnlyMemory<double> Samples)
{
    /// <summary>How long after the record's time stamp this channel was sampled, seconds; 0 by default. A converter that
    /// takes its channels one after another has a different skew for each.</summary>
    public double SkewSeconds { get; init; }
}

/// <summary>A stretch of a recording that was sampled at one rate without a gap.</summary>
/// <param name="FirstIndex">Index of its first sample in the recording.</param>
/// <param name="Length">Its length in samples.</param>
/// <param name="RateHertz">Samples per second; above zero.</param>
/// <param name="StartSeconds">Time of its first sample after the recording's start.</param>
public readonly record struct RateSegment(int FirstIndex, int Length, double RateHertz, double StartSeconds);

/// <summary>A sampled recording held in memory: a snapshot of seconds, not of weeks.</summary>
/// <param name="Channels">The analog channels, all of the same length.</param>
/// <param name="Segments">The stretches of one rate, in order, covering every sample.</param>
/// <param name="LineFrequencyHertz">The line frequency as stated by the file; null when it is not stated.</param>
/// <param name="Start">Time of the first sample as stated by the file, in its own zone; null when it is not stated.</param>
public sealed record SampledRecording(
    ImmutableArray<SampledChannel> Channels,
    ImmutableArray<RateSegment> Segments,
    double? LineFrequencyHertz,
    DateTime? Start);
