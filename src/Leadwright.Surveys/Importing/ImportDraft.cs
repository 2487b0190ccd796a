using System.Collections.Immutable;
using Leadwright.Formats;
using Leadwright.Formats.Logs;
using Leadwright.Surveys.Journal;

namespace Leadwright.Surveys.Importing;

/// <summary>A recording that was copied and read, to be looked at before it is taken in. Disposing throws it away, unless it was taken in.</summary>
public sealed class ImportDraft : IDisposable
{
    internal ImportDraft(StagedFiles staged, ImmutableArray<InputRecord> records, RecordingImported facts, ImportOptions options)
    {
        Staged = staged;
        Records = records;
        Facts = facts;
        Options = options;
    }

    /// <summary>What was read; empty for a recording too long to be read through here.</summary>
    public ImmutableArray<InputRecord> Records { get; }

    /// <summary>The log that its table is computed from; null when there is none.</summary>
    public LogFile? Log => Records.OfType<LogInput>().FirstOrDefault()?.File;

    /// <summary>What was found, and what was not understood.</summary>
    public RecordingImported Facts { get; }

    internal StagedFiles Staged { get; }

    internal bool IsPassedOn { get; private set; }

    internal ImportOptions Options { get; }

    /// <inheritdoc/>
    public void Dispose()
    {
        if (!IsPassedOn) Staged.Dispose();
    }

    /// <summary>Leaves the copies to another draft.</summary>
    internal void PassOn() => IsPassedOn = true;
}
