using System.Globalization;
using System.Text.RegularExpressions;
using Leadwright.Client.Devices;
using Leadwright.Core.Logs;

namespace Leadwright.Client.Model.Shown;

/// <summary>The one place where the screens turn numbers, times and the engine's sentences into what this device shows.</summary>
/// <remarks>Dates name their month and times count to 24: they are read alike everywhere. No mark stands between thousands, since a comma and a
/// point mean opposite things there. What is typed is read with either mark, see <see cref="DecimalText"/>.</remarks>
/// <param name="device">Keeps the settings.</param>
public sealed partial class ShownText(IDevice device)
{
    // Half an hour by the minute is told apart by its minutes.
    private static readonly TimeSpan s_fine = TimeSpan.FromMinutes(10);

    private const string KeptName = "leadwright.display";
    private const char NarrowSpace = '\u202f';
    private const char Minus = '\u2212';

    /// <summary>How this device shows numbers and words.</summary>
    public DisplaySettings Settings { get; private set; } = new();

    /// <summary>The decimal mark.</summary>
    public string DecimalMark => Settings.HasDecimalComma ? "," : ".";

    /// <summary>Takes up what the device kept, or else what it says of its language.</summary>
    public async Task OpenAsync()
    {
        if (DisplaySettings.OfKept(await device.RecallAsync(KeptName)) is { } kept)
        {
            Settings = kept;
            return;
        }

        var (language, mark) = await device.LanguageAsync();
        Settings = DisplaySettings.OfDevice(language, mark);
    }

    /// <summary>Changes the settings, and keeps them.</summary>
    /// <param name="settings">The new ones.</param>
    public async Task ChangeAsync(DisplaySettings settings)
    {
        ArgumentNullException.ThrowIfNull(settings);
        Settings = settings;
        await device.KeepAsync(KeptName, settings.ToKept());
    }

    /// <summary>A day and a time of the recorder's clock.</summary>
    public static string Moment(DateTime time) => RecordTime.Text(time, "ddd d MMM yyyy HH:mm");

    /// <summary>A day and a time of the recorder's clock, without the year.</summary>
    public static string ShortMoment(DateTime time) => RecordTime.Text(time, "ddd d MMM HH:mm");

    /// <summary>A time of day of the recorder's clock to the millisecond.</summary>
    public string FineMoment(DateTime time) => Marked(RecordTime.Text(time, "HH:mm:ss.fff"));

    /// <summary>A day and a time of the recorder's clock to the millisecond.</summary>
    public string FineDay(DateTime time) => Marked(RecordTime.Text(time, "ddd d MMM yyyy HH:mm:ss.fff"));

    /// <summary>A day and a time in a record: to the millisecond where the record is one of minutes or seconds.</summary>
    /// <param name="time">The time.</param>
    /// <param name="record">How long the record is.</param>
    public string Moment(DateTime time, TimeSpan record) => record < s_fine ? FineDay(time) : Moment(time);

    /// <summary>A day and a time in a record, without the year: the time of day to the millisecond where the record is one of minutes or seconds.</summary>
    /// <param name="time">The time.</param>
    /// <param name="record">How long the record is.</param>
    public string ShortMoment(DateTime time, TimeSpan record) => record < s_fine ? FineMoment(time) : ShortMoment(time);

    /// <summary>A day and a time of this device's clock.</summary>
    public static string Here(DateTimeOffset time) => time.ToLocalTime().ToString("d MMM yyyy HH:mm", CultureInfo.InvariantCulture);

    /// <summary>A count.</summary>
    public static string Count(long count) => count.ToString(CultureInfo.InvariantCulture);

    /// <summary>A length of time in its two largest parts.</summary>
    public string Length(TimeSpan length) => length switch
    {
        { TotalDays: >= 2 } => string.Create(CultureInfo.InvariantCulture, $"{(int)length.TotalDays} days{(length.Hours > 0 ? $" {length.Hours} h" : "")}"),
        { TotalHours: >= 1 } => string.Create(CultureInfo.InvariantCulture, $"{(int)length.TotalHours} h{(length.Minutes > 0 ? $" {length.Minutes} min" : "")}"),
        { TotalMinutes: >= 1 } => $"{Number(length.TotalMinutes, "0.#")} min",
        _ => $"{Number(length.TotalSeconds, "0.###")} s",
    };

    /// <summary>A number with as many digits as it is worth; a dash where it is not known.</summary>
    public string Number(double? value) => Number(value, Math.Abs(value ?? 0) switch
    {
        >= 1000 => "0",
        >= 100 => "0.#",
        >= 10 => "0.##",
        _ => "0.###",
    });

    /// <summary>A number in a form of its own; a dash where it is not known.</summary>
    /// <param name="value">The number.</param>
    /// <param name="format">Its form, as <c>0.0</c>.</param>
    public string Number(double? value, string format) =>
        value is { } number && double.IsFinite(number) ? Marked(WithoutMinusZero(number.ToString(format, CultureInfo.InvariantCulture))).Replace('-', Minus) : "–";

    // What is shown as nothing has no sign.
    private static string WithoutMinusZero(string number) => number.AsSpan().IndexOfAnyInRange('1', '9') < 0 ? number.TrimStart('-') : number;

    /// <summary>A share as percent.</summary>
    public string Percent(double? share) => share is { } known && double.IsFinite(known) ? $"{Number(100 * known, "0.#")} %" : "–";

    /// <summary>Words of the engine in the words that were chosen: dip or sag, V1 or U1.</summary>
    /// <param name="text">The words.</param>
    public string Words(string? text)
    {
        var shown = text ?? "";
        if (Settings.Words == TradeWords.Ieee) shown = DipWord().Replace(shown, match => $"{(match.Value[0] == 'D' ? "Sag" : "sag")}{match.Groups[1].Value}");
        return Settings.CallsVoltagesU ? VoltageName().Replace(shown, "U$1") : shown;
    }

    /// <summary>A sentence of the engine, its words and its numbers as they were chosen. Numbers of clauses, tables and editions stay as the standards write them.</summary>
    /// <param name="text">The sentence.</param>
    public string Says(string? text)
    {
        var shown = Words(text);
        if (!Settings.HasDecimalComma) return shown;
        shown = Thousands().Replace(shown, match => match.Value.Replace(',', NarrowSpace));
        return Fraction().Replace(shown, "$1,$2");
    }

    /// <summary>A drawing whose labels are in the words that were chosen.</summary>
    /// <param name="svg">The drawing.</param>
    public string Drawing(string svg)
    {
        ArgumentNullException.ThrowIfNull(svg);
        return Settings.CallsVoltagesU || Settings.HasDecimalComma || Settings.Words == TradeWords.Ieee ? Label().Replace(svg, match => Says(match.Value)) : svg;
    }

    private string Marked(string number) => Settings.HasDecimalComma ? number.Replace('.', ',') : number;

    [GeneratedRegex(@"\b[Dd]ip(s?)\b")]
    private static partial Regex DipWord();

    [GeneratedRegex(@"\bV(12|23|31|[123N])\b")]
    private static partial Regex VoltageName();

    [GeneratedRegex(@"(?<![\d.,])\d{1,3}(?:,\d{3})+(?![\d])")]
    private static partial Regex Thousands();

    // One point with digits on either side and nothing else about it that belongs to a name: no letter before, no second point, and no word that a standard numbers its parts by.
    [GeneratedRegex(@"(?<!(?:clauses?|table|figure|part|article|annex|NEC|MG|IEC|IEEE|EN|ANSI) ?[\dA-Z]*)(?<![\d.,A-Za-z-])(\d+)\.(\d+)(?!\.?\d|[A-Za-z])")]
    private static partial Regex Fraction();

    [GeneratedRegex(@"(?<=>)[^<>]+(?=<)")]
    private static partial Regex Label();
}
