namespace Leadwright.Surveys.Shelves;

/// <summary>How much a zip file may hold, so that a small one does not fill the disk.</summary>
public sealed record ZipLimits
{
    /// <summary>Most bytes unpacked, together. Default 64 GiB.</summary>
    public long MostBytes { get; init; } = 64L << 30;

    /// <summary>Most files. Default 100,000.</summary>
    public int MostFiles { get; init; } = 100_000;

    /// <summary>How many times larger than the zip file its content may be, once it is more than <see cref="FreeBytes"/>. Default 250; logs of a steady load
    /// shrink to a fiftieth (common practice, no source).</summary>
    public double MostRatio { get; init; } = 250;

    /// <summary>Bytes that are never too many by their ratio. Default 64 MiB.</summary>
    public long FreeBytes { get; init; } = 64L << 20;
}
