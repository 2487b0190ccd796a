using System.Globalization;

namespace Leadwright.Core.Measuring;

/// <summary>The length of a row: a number of 10/12-cycle windows, or a time that the clock's ticks bound.</summary>
/// <param name="Windows">Windows in a row; 0 when the clock bounds it.</param>
/// <param name="Seconds">Time in a row, seconds; 0 when windows are counted.</param>
public readonly record struct MeasuringInterval(int Windows, double Seconds)
{
    /// <summary>Every 10/12-cycle window.</summary>
    public static MeasuringInterval Cycles => new(1, 0);

    /// <summary>150 or 180 cycles, some 3 s.</summary>
    public static MeasuringInterval ThreeSeconds => new(15, 0);

    /// <summary>Ten minutes by the clock.</summary>
    public static MeasuringInterval TenMinutes => new(0, 600);

    /// <summary>Reads <c>cycles</c>, <c>3s</c>, <c>10s</c>, <c>1min</c>, <c>10min</c>, <c>15min</c>, <c>2h</c> and the like.</summary>
    /// <param name="text">The text.</param>
    /// <param name="interval">Receives the interval.</param>
    /// <returns>False when the text is none, or the time neither divides two hours nor is a multiple of them up to a day.</returns>
    public static bool TryParse(string? text, out MeasuringInterval interval)
    {
        interval = default;
        var word = (text ?? "").Replace(" ", "", StringComparison.Ordinal).ToLowerInvariant();
        if (word is "cycles" or "10/12") { interval = Cycles; return true; }
        if (word is "3s" or "150/180") { interval = ThreeSeconds; return true; }
        var digits = word.TakeWhile(character => char.IsAsciiDigit(character)).Count();
        if (!int.TryParse(word.AsSpan(0, digits), NumberStyles.None, CultureInfo.InvariantCulture, out var number) || number < 1) return false;
        var unit = word[digits..] switch { "s" => 1, "min" or "m" => 60, "h" => 3600, _ => 0 };
        var seconds = number * unit;
        if (seconds is 0 or > 86400 or < 10 || (7200 % seconds != 0 && 86400 % seconds != 0)) return false;
        interval = new MeasuringInterval(0, seconds);
        return true;
    }
}
