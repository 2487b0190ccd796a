using System.Collections.Immutable;
using Leadwright.Core.Signals;

namespace Leadwright.Formats.Csv;

/// <summary>A table of samples as read.</summary>
/// <param name="Recording">The channels in base units.</param>
/// <param name="Separator">The separator of the file.</param>
/// <param name="DecimalMark">The decimal mark of the file.</param>
/// <param name="Warnings">What was met and put up with.</param>
public sealed record CsvSampleRecording(
    SampledRecording Recording, char Separator, char DecimalMark, ImmutableArray<ReadWarning> Warnings);
