namespace Leadwright.Core.Logs;

/// <summary>How far a value may be trusted.</summary>
public enum Standing : byte
{
    /// <summary>As the recorder wrote it.</summary>
    Measured,

    /// <summary>Recomputed exactly from what was measured.</summary>
    Mended,

    /// <summary>Estimated, with a stated uncertainty.</summary>
    Modelled,

    /// <summary>Not to be had.</summary>
    Lost,
}
