namespace Leadwright.Formats.Logs.Times;

/// <summary>A date and time as it was written, before the order of its parts is known.</summary>
internal readonly record struct StampParts
{
    /// <summary>The three parts of the date as they stand; with a named month the month is in <see cref="B"/>, the other two in their order.</summary>
    public short A { get; init; }

    /// <summary>The second part.</summary>
    public short B { get; init; }

    /// <summary>The third part.</summary>
    public short C { get; init; }

    /// <summary>True when there is a date.</summary>
    public bool HasDate { get; init; }

    /// <summary>True when there is a time of day.</summary>
    public bool HasTime { get; init; }

    /// <summary>True when the order is known: A is the year, B the month, C the day.</summary>
    public bool IsOrdered { get; init; }

    /// <summary>True when the month was named, so that A is the day and C the year unless it is ordered.</summary>
    public bool IsNamed { get; init; }

    /// <summary>True when AM or PM stood with it, as where the month stands first; not for the same in words of languages that write the day first.</summary>
    public bool HasHalf { get; init; }

    /// <summary>True when points part the date.</summary>
    public bool HasPoints { get; init; }

    /// <summary>True when the cell names a stretch, from its start to its end; the time is its start.</summary>
    public bool IsRange { get; init; }

    /// <summary>The time of day, ticks; a whole day for 24:00.</summary>
    public long TimeTicks { get; init; }

    /// <summary>Offset from UTC, minutes; the least value when none is stated.</summary>
    public short OffsetMinutes { get; init; }

    /// <summary>Stands for no offset.</summary>
    public const short NoOffset = short.MinValue;

    /// <summary>True when an offset from UTC is stated.</summary>
    public bool HasOffset => OffsetMinutes != NoOffset;

    /// <summary>A date with or without time.</summary>
    public static StampParts Of(DateTime date, bool hasDate, bool hasTime) => new()
    {
        A = (short)date.Year, B = (short)date.Month, C = (short)date.Day, HasDate = hasDate, HasTime = hasTime, IsOrdered = true,
        TimeTicks = date.TimeOfDay.Ticks, OffsetMinutes = NoOffset,
    };

    /// <summary>The parts of a date column with the time of a time column.</summary>
    public StampParts With(StampParts time) =>
        this with { HasTime = true, TimeTicks = time.TimeTicks, OffsetMinutes = time.OffsetMinutes, HasHalf = time.HasHalf, IsRange = time.IsRange };

    /// <summary>The ticks by an order of the parts; null when there is no such date.</summary>
    public long? Ticks(DateOrder order)
    {
        var (year, month, day) = IsOrdered ? (A, B, C) : IsNamed ? (C, B, A) : order switch
        {
            DateOrder.DayMonthYear => (C, B, A),
            DateOrder.MonthDayYear => (C, A, B),
            _ => (A, B, C),
        };
        var full = year < 100 && !IsOrdered ? year + (year < 70 ? 2000 : 1900) : year;
        if (full is < 1 or > 9998 || month is < 1 or > 12 || day < 1 || day > DateTime.DaysInMonth(full, month)) return null;
        return new DateTime(full, month, day).Ticks + TimeTicks;
    }
}
