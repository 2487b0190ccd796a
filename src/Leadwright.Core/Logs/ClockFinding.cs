namespace Leadwright.Core.Logs;

/// <summary>What was noticed of a recorder's clock.</summary>
public enum ClockFindingKind
{
    /// <summary>Intervals are missing.</summary>
    Gap,

    /// <summary>The same time stands twice.</summary>
    Duplicate,

    /// <summary>One row stands later in the file than its time says.</summary>
    OutOfOrder,

    /// <summary>The clock was put back, and ran on from there.</summary>
    StepBack,

    /// <summary>The clock was put forward by an hour, as at the start of daylight saving: no interval is missing.</summary>
    DaylightForward,

    /// <summary>The clock was put back by an hour, as at the end of daylight saving: the hour stands twice.</summary>
    DaylightBack,

    /// <summary>The stamps creep against the interval.</summary>
    Drift,

    /// <summary>The stamps scatter about the interval.</summary>
    Uneven,
}

/// <summary>Something noticed of a recorder's clock.</summary>
/// <param name="Kind">What.</param>
/// <param name="Row">Index of the row at which it shows, in the order of the file.</param>
/// <param name="RowCount">Rows concerned: missing ones of a gap, those of a drift; else 1.</param>
/// <param name="Before">The last stamp before it, ticks.</param>
/// <param name="At">The stamp of the row, ticks.</param>
/// <param name="Seconds">Its size: length of a gap beyond one interval, size of a step (positive), drift over its rows (positive: the stamps run late),
/// standard deviation of the scatter.</param>
public readonly record struct ClockFinding(ClockFindingKind Kind, int Row, int RowCount, long Before, long At, double Seconds);
