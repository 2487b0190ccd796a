namespace Leadwright.Formats.Comtrade;

/// <summary>The side of the instrument transformers that values are asked for.</summary>
public enum ComtradeScaling
{
    /// <summary>As recorded: each channel on the side that the file states. The default.</summary>
    AsRecorded,

    /// <summary>All on the primary side, by the ratio in the file.</summary>
    Primary,

    /// <summary>All on the secondary side, by the ratio in the file.</summary>
    Secondary,
}
