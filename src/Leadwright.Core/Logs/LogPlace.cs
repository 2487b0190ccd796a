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

/// <summary>How a place is written in a channel's name.</summary>
public static class LogPlaceNames
{
    /// <summary>What follows V, I or P in a channel's name: 1, N, 12; empty for the whole service.</summary>
    /// <param name="place">The place.</param>
    public static string Suffix(this LogPlace place) => place switch
    {
        LogPlace.Phase1 => "1",
        LogPlace.Phase2 => "2",
        LogPlace.Phase3 => "3",
        LogPlace.Neutral => "N",
        LogPlace.Pair12 => "12",
        LogPlace.Pair23 => "23",
        LogPlace.Pair31 => "31",
        _ => "",
    };
}
