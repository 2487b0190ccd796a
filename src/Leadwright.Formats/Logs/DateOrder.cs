namespace Leadwright.Formats.Logs;

/// <summary>In which order the parts of a date stand.</summary>
public enum DateOrder
{
    /// <summary>Day, month, year.</summary>
    DayMonthYear,

    /// <summary>Month, day, year.</summary>
    MonthDayYear,

    /// <summary>Year, month, day.</summary>
    YearMonthDay,
}
