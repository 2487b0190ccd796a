using System.CommandLine;
using System.Globalization;
using Leadwright.Formats;
using Leadwright.Formats.Logs;
using Leadwright.Formats.Matching;

namespace Leadwright.App.Verbs;

/// <summary>The options that say how a log of intervals is read, where its table does not tell.</summary>
internal sealed class LogOptions
{
    private readonly Option<string?> _match = new("--match")
    {
        Description = "How the columns of a log are read, as 'leadwright columns -o' writes it (leadwright.columns/1).",
        HelpName = "FILE",
    };

    private readonly Option<string?> _dates = VerbOptions.Among("--dates", "In which order the parts of a date stand.", null, "day-month-year", "month-day-year", "year-month-day");

    private readonly Option<string?> _stamps = VerbOptions.Among("--stamps", "Which end of its interval a row is stamped with.", null, "start", "end");

    private readonly Option<string?> _sheet = new("--sheet") { Description = "Worksheet of a workbook; without it the first that holds a log.", HelpName = "NAME" };

    private readonly Option<string?> _start = new("--log-start")
    {
        Description = "Time of second 0 where times are counted from the log's own start: 2026-03-02T08:00.",
        HelpName = "TIME",
    };

    private readonly Option<string?> _offset = new("--utc-offset")
    {
        Description = "What the recorder's clock was ahead of UTC, where the file's times are UTC (PQDIF, seconds since 1970): +02:00. They are then given as on site.",
        HelpName = "HH:MM",
    };

    private readonly Option<string?> _encoding = VerbOptions.Among(
        "--encoding", "How the letters of a text are written, where it does not say and its words do not settle it.", null, [.. Formats.Text.TextEncodings.Names]);

    /// <summary>Makes the options.</summary>
    public LogOptions()
    {
        _match.Validators.Add(result =>
        {
            if (result.GetValueOrDefault<string?>() is { } path && ProblemOf(path) is { } problem) result.AddError($"--match: {problem}");
        });
        _start.Validators.Add(result =>
        {
            if (result.GetValueOrDefault<string?>() is { } text && TimeOf(text) is null) result.AddError($"--log-start: '{text}' is no date and time. Write it as 2026-03-02T08:00.");
        });
        _offset.Validators.Add(result =>
        {
            if (result.GetValueOrDefault<string?>() is { } text && OffsetOf(text) is null) result.AddError($"--utc-offset: '{text}' is no offset. Write it as +02:00 or -05:30.");
        });
        All = [_match, _dates, _stamps, _sheet, _start, _offset, _encoding];
    }

    /// <summary>The options, in the order of the help.</summary>
    public IReadOnlyList<Option> All { get; }

    /// <summary>A request with what was said.</summary>
    public RecordingRequest Apply(ParseResult parsed, RecordingRequest request) => request with
    {
        Dates = parsed.GetValue(_dates) switch
        {
            "day-month-year" => DateOrder.DayMonthYear,
            "month-day-year" => DateOrder.MonthDayYear,
            "year-month-day" => DateOrder.YearMonthDay,
            _ => null,
        },
        Stamps = parsed.GetValue(_stamps) switch { "start" => StampPlace.Start, "end" => StampPlace.End, _ => null },
        Sheet = parsed.GetValue(_sheet),
        LogStart = parsed.GetValue(_start) is { } start ? TimeOf(start) : null,
        UtcOffset = parsed.GetValue(_offset) is { } offset ? OffsetOf(offset) ?? default : default,
        Encoding = parsed.GetValue(_encoding),
        Match = parsed.GetValue(_match) is { } path ? ProfileOf(path) : null,
    };

    private static ColumnProfile ProfileOf(string path) => ColumnProfileReader.Read(new InputFile(path, File.ReadAllBytes(path)));

    private static string? ProblemOf(string path)
    {
        try
        {
            _ = ProfileOf(path);
            return null;
        }
        catch (FormatReadException failure)
        {
            return failure.Message;
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
        {
            return InputRefusedException.CannotRead(path, failure).Message;
        }
    }

    /// <summary>A date and time as typed; null for something else.</summary>
    internal static DateTime? TimeOf(string text) => DateTime.TryParseExact(
        text, ["yyyy-MM-ddTHH:mm", "yyyy-MM-ddTHH:mm:ss", "yyyy-MM-dd HH:mm", "yyyy-MM-dd HH:mm:ss", "yyyy-MM-dd"], CultureInfo.InvariantCulture, DateTimeStyles.None, out var time) ? time : null;

    private static TimeSpan? OffsetOf(string text)
    {
        var sign = text.StartsWith('-') ? -1 : 1;
        return TimeSpan.TryParseExact(text.TrimStart('+', '-'), ["h\\:mm", "hh\\:mm"], CultureInfo.InvariantCulture, out var offset) && offset <= TimeSpan.FromHours(14) ? sign * offset : null;
    }
}
