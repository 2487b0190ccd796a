namespace Leadwright.Formats.Logs.Layout;

/// <summary>How a table states times.</summary>
internal enum TimeKind
{
    /// <summary>Date and time in one column.</summary>
    Stamp,

    /// <summary>Date and time in two columns.</summary>
    Split,

    /// <summary>Seconds since 1970, UTC.</summary>
    Epoch,

    /// <summary>Days of a spreadsheet: 1 is 1 January 1900, and 1900 counts as a leap year.</summary>
    Serial,

    /// <summary>Time since the table's own start.</summary>
    Elapsed,
}

/// <summary>The columns that state times.</summary>
/// <param name="Kind">How.</param>
/// <param name="Column">Index of the column; of a split time the date's.</param>
/// <param name="TimeOfDay">Index of the column of the time of day; −1 when none.</param>
/// <param name="End">Index of a column that states the end of the interval; −1 when none.</param>
/// <param name="UnitSeconds">Seconds of one unit of numbers.</param>
internal sealed record TimeColumns(TimeKind Kind, int Column, int TimeOfDay, int End, double UnitSeconds)
{
    /// <summary>True when the time of day is written without marks, as 0015 and 2400.</summary>
    public bool IsPlainClock { get; init; }

    /// <summary>True for a column that states times.</summary>
    public bool Holds(int column) => column == Column || column == TimeOfDay || column == End;
}

/// <summary>How a table is laid out.</summary>
/// <param name="Headings">A heading for each column, made up where there is none.</param>
/// <param name="Time">The columns that state times.</param>
/// <param name="FirstDataRow">Index of the first row of values, among all rows.</param>
/// <param name="Preamble">The rows above the headings.</param>
/// <param name="HasHeadings">True when the table names its columns.</param>
/// <param name="StatedOrder">The order of dates that a heading states; null when none does.</param>
internal sealed record TableLayout(
    LogHeading[] Headings, TimeColumns Time, int FirstDataRow, List<Rows.HeadRow> Preamble, bool HasHeadings, DateOrder? StatedOrder)
{
    /// <summary>How many columns the headings name; the rows of values may be wider.</summary>
    public int NamedCount { get; init; }

    /// <summary>The line of the first row of values.</summary>
    public int FirstDataLine { get; init; }
}
