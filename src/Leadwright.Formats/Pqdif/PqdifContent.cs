using System.Collections.Immutable;
using Leadwright.Core.Logs;
using Leadwright.Core.Signals;

namespace Leadwright.Formats.Pqdif;

/// <summary>A recording of samples in a PQDIF file: waveform observations of the same channels that follow each other.</summary>
/// <param name="Name">Name of its first observation; empty when there is none.</param>
/// <param name="Recording">The samples. Times are UTC, as the standard has them.</param>
public sealed record PqdifRecording(string Name, SampledRecording Recording);

/// <summary>A log of intervals in a PQDIF file: value-log and phasor series of the same times.</summary>
/// <param name="Name">Name of its data source; empty when there is none.</param>
/// <param name="Log">The values. Times are UTC, as the standard has them.</param>
public sealed record PqdifLog(string Name, IntervalLog Log);

/// <summary>What a PQDIF file holds.</summary>
/// <param name="Recordings">Recordings of samples, the longest first.</param>
/// <param name="Logs">Logs of intervals, the one with most values first.</param>
/// <param name="NotUnderstood">What was met and not taken over, a line each.</param>
/// <param name="Warnings">What was met and put up with.</param>
public sealed record PqdifContent(
    ImmutableArray<PqdifRecording> Recordings, ImmutableArray<PqdifLog> Logs, ImmutableArray<string> NotUnderstood, ImmutableArray<ReadWarning> Warnings);
