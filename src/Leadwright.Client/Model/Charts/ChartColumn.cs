using System.Globalization;

namespace Leadwright.Client.Model.Charts;

/// <summary>A column as a chart shows it.</summary>
/// <param name="Name">Its name on the host, such as <c>V1_rms_V</c>.</param>
/// <param name="Title">What it is called in words, such as <c>Voltage V1</c>.</param>
/// <param name="Label">The letters at the end of its line, such as <c>V1</c>.</param>
/// <param name="Look">Number of its colour, 0 to 4.</param>
/// <param name="Shape">The sign on its line; empty for none.</param>
public sealed record ChartColumn(string Name, string Title, string Label, int Look, string Shape)
{
    /// <summary>True for a line that stands behind the others to compare with: thin, and without a band.</summary>
    public bool IsFaint { get; init; }

    /// <summary>The unit's symbol; empty for a pure number.</summary>
    public string Unit { get; init; } = "";
}

/// <summary>A time that is marked in a chart.</summary>
/// <param name="At">The time.</param>
/// <param name="Label">What stands beside it.</param>
public sealed record ChartMark(DateTime At, string Label);

/// <summary>A band about the first line over a stretch of time.</summary>
/// <param name="From">Start, milliseconds as in a frame.</param>
/// <param name="To">End.</param>
/// <param name="Half">How far it reaches to either side, in the column's base unit.</param>
public sealed record ChartBand(double From, double To, double Half);

/// <summary>Numbers and times as the survey screens write them.</summary>
public static class ShownText
{
    /// <summary>A day and a time of the recorder's clock.</summary>
    public static string Moment(DateTime time) => time.ToString("ddd d MMM yyyy HH:mm", CultureInfo.InvariantCulture);

    /// <summary>A day and a time of the recorder's clock, without the year.</summary>
    public static string ShortMoment(DateTime time) => time.ToString("ddd d MMM HH:mm", CultureInfo.InvariantCulture);

    /// <summary>A time of day of the recorder's clock to the millisecond.</summary>
    public static string FineMoment(DateTime time) => time.ToString("HH:mm:ss.fff", CultureInfo.InvariantCulture);

    /// <summary>A length of time in its two largest parts.</summary>
    public static string Length(TimeSpan length) => length switch
    {
        { TotalDays: >= 2 } => string.Create(CultureInfo.InvariantCulture, $"{(int)length.TotalDays} days {length.Hours} h"),
        { TotalHours: >= 1 } => string.Create(CultureInfo.InvariantCulture, $"{(int)length.TotalHours} h {length.Minutes} min"),
        { TotalMinutes: >= 1 } => string.Create(CultureInfo.InvariantCulture, $"{length.TotalMinutes:0.#} min"),
        _ => string.Create(CultureInfo.InvariantCulture, $"{length.TotalSeconds:0.###} s"),
    };

    /// <summary>A number with as many digits as it is worth; a dash where it is not known.</summary>
    public static string Number(double? value)
    {
        if (value is not { } number || !double.IsFinite(number)) return "–";
        return Math.Abs(number) switch
        {
            >= 1000 => number.ToString("0", CultureInfo.InvariantCulture),
            >= 100 => number.ToString("0.#", CultureInfo.InvariantCulture),
            >= 10 => number.ToString("0.##", CultureInfo.InvariantCulture),
            _ => number.ToString("0.###", CultureInfo.InvariantCulture),
        };
    }

    /// <summary>A share as percent.</summary>
    public static string Percent(double? share) => share is { } number && double.IsFinite(number)
        ? string.Create(CultureInfo.InvariantCulture, $"{100 * number:0.#} %") : "–";
}
