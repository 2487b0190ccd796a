namespace Leadwright.Formats.Comtrade;

/// <summary>The side of the instrument transformer that a channel's values stand for.</summary>
public enum ComtradeSide
{
    /// <summary>Not stated (always so in the 1991 layout).</summary>
    NotStated,

    /// <summary>Primary values.</summary>
    Primary,

    /// <summary>Secondary values.</summary>
    Secondary,
}
