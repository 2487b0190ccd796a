namespace Leadwright.Formats.Pqdif;

/// <summary>What a PQDIF file says of itself, and how it is stored. The same options and content give the same bytes.</summary>
public sealed record PqdifWriteOptions
{
    /// <summary>The name it states for itself.</summary>
    public string FileName { get; init; } = "recording.pqd";

    /// <summary>When it was made, UTC; null for the start of what it holds first.</summary>
    public DateTime? Created { get; init; }

    /// <summary>Title; empty for none.</summary>
    public string Title { get; init; } = "";

    /// <summary>What the data comes from, such as the recorder's own name.</summary>
    public string SourceName { get; init; } = "Recorder";

    /// <summary>What the recorder's clock is ahead of UTC. Default nothing: the times that are written are taken as UTC.</summary>
    public TimeSpan UtcOffset { get; init; }

    /// <summary>Whether records are packed with zlib. Default true.</summary>
    public bool IsPacked { get; init; } = true;

    /// <summary>Rows of a log in one observation; fewer where a log is very wide. Default 20000.</summary>
    public int RowsPerObservation { get; init; } = 20_000;
}
