using System.Collections.Immutable;
using System.Text.Json;

namespace Leadwright.Surveys.Journal;

/// <summary><c>recording-imported</c>: a recording was brought in, its files untouched.</summary>
/// <param name="Name">Its name in the survey.</param>
/// <param name="Kind"><c>log</c>, <c>samples</c> or <c>readings</c>.</param>
/// <param name="Format">What its files are, as <c>log-table</c>, <c>workbook</c>, <c>comtrade</c>.</param>
/// <param name="Files">Its files, the one to open first.</param>
public sealed record RecordingImported(string Name, string Kind, string Format, ImmutableArray<StoredFile> Files) : JournalPayload
{
    /// <summary>Its files, the one to open first.</summary>
    public ImmutableArray<StoredFile> Files { get => field.IsDefault ? [] : field; init; } = Files;

    /// <summary>How its columns were read, a document <c>leadwright.columns/1</c>; null where columns have no meaning.</summary>
    public JsonElement? Columns { get; init; }

    /// <summary>True when a person confirmed the columns.</summary>
    public bool IsConfirmed { get; init; }

    /// <summary>What was said of how it is to be read; null when nothing was.</summary>
    public RecordingReading? Reading { get; init; }

    /// <summary>What was not understood, assumed or left out: whole sentences. Nothing is left out in silence.</summary>
    public ImmutableArray<ImportRemark> Remarks { get => field.IsDefault ? [] : field; init; }

    /// <summary>What was noticed of the recorder's clock.</summary>
    public ImmutableArray<ClockRemark> Clock { get => field.IsDefault ? [] : field; init; }

    /// <summary>What the scan of its integrity found.</summary>
    public ImmutableArray<IntegrityRemark> Integrity { get => field.IsDefault ? [] : field; init; }

    /// <summary>Rows of a log, samples of a channel; 0 when not known.</summary>
    public long Count { get; init; }

    /// <summary>Start by the recorder's clock; null when not known.</summary>
    public DateTime? From { get; init; }

    /// <summary>End by the recorder's clock; null when not known.</summary>
    public DateTime? To { get; init; }

    /// <summary>Length of an interval, seconds; null for other recordings.</summary>
    public double? IntervalSeconds { get; init; }
}

/// <summary>Something of an import that a person must know.</summary>
/// <param name="Kind"><c>warning</c>, <c>question</c>, <c>column-unsure</c>, <c>column-unread</c> or <c>note</c>.</param>
/// <param name="Says">Whole sentences.</param>
public sealed record ImportRemark(string Kind, string Says);

/// <summary>Something noticed of a recorder's clock, as <see cref="Core.Logs.ClockFinding"/> has it.</summary>
/// <param name="Kind">What, as <c>gap</c> or <c>step-back</c>.</param>
/// <param name="Before">The last stamp before it, recorder's clock.</param>
/// <param name="At">The stamp at which it shows.</param>
/// <param name="RowCount">Rows concerned.</param>
/// <param name="Seconds">Its size.</param>
public sealed record ClockRemark(string Kind, DateTime Before, DateTime At, int RowCount, double Seconds);

/// <summary>A span that the scan of the integrity found.</summary>
/// <param name="Kind">What, as <c>lead-open</c>.</param>
/// <param name="Channels">Leads and clamps concerned.</param>
/// <param name="From">Start, recorder's clock.</param>
/// <param name="To">End.</param>
/// <param name="Confidence">How sure, 0 to 1.</param>
public sealed record IntegrityRemark(string Kind, ImmutableArray<string> Channels, DateTime From, DateTime To, double Confidence);

/// <summary><c>columns-confirmed</c>: a person said how the columns of a recording are to be read.</summary>
/// <param name="Recording">Its name.</param>
/// <param name="Columns">The match, a document <c>leadwright.columns/1</c>.</param>
public sealed record ColumnsConfirmed(string Recording, JsonElement Columns) : JournalPayload
{
    /// <summary>How the recording is to be read from here on; null as it was.</summary>
    public RecordingReading? Reading { get; init; }

    /// <summary>Start by the recorder's clock, where the reading changes it; null as it was.</summary>
    public DateTime? From { get; init; }

    /// <summary>End, likewise.</summary>
    public DateTime? To { get; init; }
}

/// <summary><c>recording-removed</c>: a recording is taken out of the work, or put back. Its files stay either way: they are the evidence.</summary>
/// <param name="Recording">Its name.</param>
/// <param name="IsRemoved">True when it is taken out.</param>
public sealed record RecordingRemoved(string Recording, bool IsRemoved) : JournalPayload;

/// <summary><c>guard-kept</c>: what a guard of a recording found.</summary>
/// <param name="Recording">Its name.</param>
/// <param name="Guard">A document <c>leadwright.guard/1</c>.</param>
public sealed record GuardKept(string Recording, JsonElement Guard) : JournalPayload;
