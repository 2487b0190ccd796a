using System.Collections.Immutable;
using System.Globalization;
using System.Text.Json;
using Leadwright.Core.Studies.Load;

namespace Leadwright.Formats.Limits;

/// <summary>Reads calendars of tariff periods or opening hours, <c>leadwright.tariff/1</c>.</summary>
/// <remarks>Format: <c>docs/methods/load-study.md</c>.</remarks>
public static class TariffReader
{
    /// <summary>The name of the format.</summary>
    public const string Schema = "leadwright.tariff/1";

    private static readonly string[] s_days = ["sun", "mon", "tue", "wed", "thu", "fri", "sat"];

    /// <summary>Reads a calendar.</summary>
    /// <param name="file">The file.</param>
    /// <exception cref="FormatReadException">It can't be used; its field says where.</exception>
    public static TariffCalendar Read(InputFile file)
    {
        ArgumentNullException.ThrowIfNull(file);
        using var document = JsonFields.Parse(file);
        var root = new JsonFields(file.Name, "$", document.RootElement, "schema", "name", "holidays", "periods", "otherwise");
        root.RequireSchema(Schema);
        var periods = root.List("periods").Select(period => ReadPeriod(file.Name, period.Path, period.Element)).ToImmutableArray();
        if (periods.IsEmpty) throw JsonFields.Bad(file.Name, "$.periods", "at least one period", "none");
        var holidays = root.List("holidays").Select(day =>
            DateOnly.TryParseExact(day.Element.ToString(), "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out var date)
                ? date : throw JsonFields.Bad(file.Name, day.Path, "a date such as 2026-12-25", day.Element.ToString()));
        return new TariffCalendar(root.Text("name") ?? "", periods, root.Text("otherwise") ?? "otherwise", [.. holidays]);
    }

    /// <summary>Reads opening hours as typed: <c>mon-fri 07:00-18:00, sat 08:00-12:00</c>.</summary>
    /// <param name="text">The text.</param>
    /// <returns>A calendar whose periods are called open and whose rest is closed; null when the text is none.</returns>
    public static TariffCalendar? ParseHours(string? text)
    {
        var periods = ImmutableArray.CreateBuilder<TariffPeriod>();
        foreach (var part in (text ?? "").Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries))
        {
            if (part.Split(' ', StringSplitOptions.RemoveEmptyEntries) is not [var days, var hours] || DaysOf(days) is not { IsEmpty: false } known) return null;
            if (hours.Split('-') is not [var from, var to] || TimeOf(from) is not { } first || TimeOf(to) is not { } last || first == last) return null;
            periods.Add(new TariffPeriod("open", known, IsOnHolidays: false, first, last));
        }

        return periods.Count == 0 ? null : new TariffCalendar("opening hours", periods.ToImmutable(), "closed", []);
    }

    private static TariffPeriod ReadPeriod(string source, string path, JsonElement element)
    {
        var fields = new JsonFields(source, path, element, "name", "days", "from", "to", "season");
        var days = ImmutableArray.CreateBuilder<DayOfWeek>();
        var isOnHolidays = false;
        foreach (var (dayPath, day) in fields.List("days"))
        {
            var word = day.ToString();
            if (word == "holiday") isOnHolidays = true;
            else if (DaysOf(word) is { IsEmpty: false } known) days.AddRange(known);
            else throw JsonFields.Bad(source, dayPath, "mon … sun, a range such as mon-fri, or holiday", $"'{word}'");
        }

        if (!fields.Has("days"))
        {
            days.AddRange(Enum.GetValues<DayOfWeek>());
            isOnHolidays = true;
        }

        var from = Time(fields, source, path, "from", TimeSpan.Zero);
        var to = Time(fields, source, path, "to", TimeSpan.FromDays(1));
        var period = new TariffPeriod(fields.RequiredText("name"), days.ToImmutable(), isOnHolidays, from, to);
        if (fields.Child("season") is not var (seasonPath, season)) return period;
        var inner = new JsonFields(source, seasonPath, season, "from", "to");
        return period with { SeasonFrom = MonthDay(inner, source, seasonPath, "from"), SeasonTo = MonthDay(inner, source, seasonPath, "to") };
    }

    private static TimeSpan Time(JsonFields fields, string source, string path, string name, TimeSpan missing) =>
        fields.Text(name) is not { } text ? missing : TimeOf(text) ?? throw JsonFields.Bad(source, $"{path}.{name}", "a time such as 07:30 or 24:00", $"'{text}'");

    private static (int Month, int Day) MonthDay(JsonFields fields, string source, string path, string name)
    {
        var text = fields.RequiredText(name);
        return DateTime.TryParseExact("2024-" + text, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out var date)
            ? (date.Month, date.Day) : throw JsonFields.Bad(source, $"{path}.{name}", "month and day such as 10-01", $"'{text}'");
    }

    private static TimeSpan? TimeOf(string text) => text == "24:00" ? TimeSpan.FromDays(1)
        : TimeSpan.TryParseExact(text, ["hh\\:mm", "h\\:mm"], CultureInfo.InvariantCulture, out var time) ? time : null;

    private static ImmutableArray<DayOfWeek> DaysOf(string text)
    {
        var ends = text.ToLowerInvariant().Split('-');
        var (first, last) = (Array.IndexOf(s_days, ends[0]), Array.IndexOf(s_days, ends[^1]));
        if (ends.Length > 2 || first < 0 || last < 0) return [];
        var count = ((last - first + 7) % 7) + 1;
        return [.. Enumerable.Range(0, count).Select(step => (DayOfWeek)((first + step) % 7))];
    }
}
