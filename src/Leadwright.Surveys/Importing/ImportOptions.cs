using Leadwright.Formats;

namespace Leadwright.Surveys.Importing;

/// <summary>How a recording is imported.</summary>
public sealed record ImportOptions
{
    /// <summary>The name it is to have in the survey; empty for that of its file.</summary>
    public string Name { get; init; } = "";

    /// <summary>How its files are read. What the survey's panel says is added where nothing is stated.</summary>
    public InputReadOptions Read { get; init; } = new();

    /// <summary>Which channel of a sampled recording is which, as typed; null to go by names. Kept for whoever reads it.</summary>
    public string? Channels { get; init; }

    /// <summary>True when a person stated or confirmed how the columns are to be read.</summary>
    public bool IsConfirmed { get; init; }

    /// <summary>False to leave the scan of the integrity to a later guard.</summary>
    public bool ScansIntegrity { get; init; } = true;

    /// <summary>Rows beyond which the scan is left to a guard. Default 100,000: some ten weeks of minutes.</summary>
    public int MostRowsScanned { get; init; } = 100_000;

    /// <summary>Bytes of a sampled recording beyond which it is taken in without being read through. Default 512 MiB.</summary>
    public long MostBytesRead { get; init; } = 512L << 20;

    /// <summary>Why it is imported, as typed.</summary>
    public string Why { get; init; } = "";

    /// <summary>By whom; null for the author the survey was opened by.</summary>
    public string? Who { get; init; }
}
