using System.Collections.Immutable;
using Leadwright.Core.Signals;
using Leadwright.Formats.Comtrade;
using Leadwright.Formats.Logs;
using Leadwright.Formats.Readings;

namespace Leadwright.Formats;

/// <summary>What was read from one input: a recording, a log or readings.</summary>
/// <param name="Name">Display name: of the file, of a pair the configuration's.</param>
/// <param name="Warnings">What was met and put up with.</param>
public abstract record InputRecord(string Name, ImmutableArray<ReadWarning> Warnings);

/// <summary>A recording of samples.</summary>
/// <param name="Name">Display name.</param>
/// <param name="Warnings">What was met and put up with.</param>
/// <param name="Recording">The samples.</param>
/// <param name="Comtrade">The whole record, when it was a COMTRADE record; else null.</param>
public sealed record SampledInput(
    string Name, ImmutableArray<ReadWarning> Warnings, SampledRecording Recording, ComtradeRecording? Comtrade)
    : InputRecord(Name, Warnings);

/// <summary>Readings typed from a screen.</summary>
/// <param name="Name">Display name.</param>
/// <param name="File">The readings.</param>
public sealed record ReadingsInput(string Name, ReadingsFile File) : InputRecord(Name, File.Warnings);

/// <summary>A log of intervals.</summary>
/// <param name="Name">Display name.</param>
/// <param name="File">The log, and what was understood of it.</param>
public sealed record LogInput(string Name, LogFile File) : InputRecord(Name, File.Warnings);
