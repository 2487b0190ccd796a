namespace Leadwright.Core.Logs;

/// <summary>Which lead, clamp or phase a column belongs to, as the recorder names them.</summary>
public enum LogPlace
{
    /// <summary>The whole service: a total, a frequency, an unbalance.</summary>
    Whole,

    /// <summary>Lead, clamp or phase 1.</summary>
    Phase1,

    /// <summary>Lead, clamp or phase 2.</summary>
    Phase2,

    /// <summary>Lead, clamp or phase 3.</summary>
    Phase3,

    /// <summary>The neutral clamp, or the neutral lead against ground.</summary>
    Neutral,

    /// <summary>Lead 1 against lead 2.</summary>
    Pair12,

    /// <summary>Lead 2 against lead 3.</summary>
    Pair23,

    /// <summary>Lead 3 against lead 1.</summary>
    Pair31,
}
