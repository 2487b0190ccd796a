namespace Leadwright.Formats.Pqdif;

/// <summary>How a PQDIF file is read.</summary>
public sealed record PqdifReadOptions
{
    /// <summary>Whether the time of a logged value is the end of its interval; the standard doesn't say. Default: it is the start.</summary>
    public bool AreTimesEnds { get; init; }

    /// <summary>What the recorder's clock is ahead of UTC: times are UTC in the file and are given by that clock. Default nothing: they stay UTC.</summary>
    public TimeSpan UtcOffset { get; init; }

    /// <summary>Largest size of one record when unpacked, bytes. Default 256 MiB: a damaged or hostile file must not fill the memory.</summary>
    public int MostRecordBytes { get; init; } = 256 << 20;

    /// <summary>Most values (samples and logged values together) that are kept in memory. Default 100 million, which take 800 MB.</summary>
    public long MostValues { get; init; } = 100_000_000;
}
