using Leadwright.Core.Logs;
using Leadwright.Formats.Logs;

namespace Leadwright.Formats.Matching;

/// <summary>The words of a profile of columns.</summary>
internal static class ColumnProfileWords
{
    /// <summary>The name of the format.</summary>
    public const string Schema = "leadwright.columns/1";

    /// <summary>Quantities: the names of <see cref="LogQuantity"/> with hyphens, such as <c>active-power</c>.</summary>
    public static readonly (string Word, LogQuantity Value)[] Quantities = [.. Enum.GetValues<LogQuantity>().Select(value => (Hyphened(value.ToString()), value))];

    /// <summary>Statistics.</summary>
    public static readonly (string Word, LogStatistic Value)[] Statistics = [.. Enum.GetValues<LogStatistic>().Select(value => (Hyphened(value.ToString()), value))];

    /// <summary>Places.</summary>
    public static readonly (string Word, LogPlace Value)[] Places =
    [
        ("whole", LogPlace.Whole), ("1", LogPlace.Phase1), ("2", LogPlace.Phase2), ("3", LogPlace.Phase3), ("N", LogPlace.Neutral),
        ("12", LogPlace.Pair12), ("23", LogPlace.Pair23), ("31", LogPlace.Pair31),
    ];

    /// <summary>Orders of dates.</summary>
    public static readonly (string Word, DateOrder Value)[] Orders =
        [("day-month-year", DateOrder.DayMonthYear), ("month-day-year", DateOrder.MonthDayYear), ("year-month-day", DateOrder.YearMonthDay)];

    /// <summary>Places of stamps.</summary>
    public static readonly (string Word, StampPlace Value)[] Stamps = [("start", StampPlace.Start), ("end", StampPlace.End)];

    /// <summary>Decimal marks.</summary>
    public static readonly (string Word, char Value)[] Marks = [("point", '.'), ("comma", ',')];

    /// <summary>The word of a value.</summary>
    public static string WordOf<T>((string Word, T Value)[] words, T value)
        where T : struct => words.First(word => word.Value.Equals(value)).Word;

    private static string Hyphened(string name) =>
        string.Concat(name.Select((character, index) => char.IsUpper(character) ? (index > 0 ? "-" : "") + char.ToLowerInvariant(character) : character.ToString()));
}
