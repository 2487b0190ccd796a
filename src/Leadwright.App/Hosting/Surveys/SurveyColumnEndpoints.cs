using System.Globalization;
using Leadwright.App.Verbs;
using Leadwright.App.Verbs.Matching;
using Leadwright.Client.Surveys;
using Leadwright.Core.Logs;
using Leadwright.Formats.Logs;
using Leadwright.Formats.Matching;
using Leadwright.Surveys;
using Leadwright.Surveys.Journal;

namespace Leadwright.App.Hosting.Surveys;

/// <summary>How the columns of a recording are read, over HTTP: what the verb <c>columns</c> shows and keeps.</summary>
internal static class SurveyColumnEndpoints
{
    private static readonly (string Word, DateOrder Order)[] s_orders =
        [("day-month-year", DateOrder.DayMonthYear), ("month-day-year", DateOrder.MonthDayYear), ("year-month-day", DateOrder.YearMonthDay)];

    /// <summary>Adds the endpoints.</summary>
    public static void MapColumns(this RouteGroupBuilder api, ServedSurveys surveys, SurveyResults results, SurveyWorks works)
    {
        api.MapGet("/surveys/{id}/match", async (string id, string? recording, bool? again, HttpRequest asked, CancellationToken cancellation) =>
        {
            var (desk, state, name) = results.Find(id, recording);
            var request = again == true ? SaidReadings.ApplyTo(SaidReadings.Of(asked), desk.Request.Recording) : desk.Request.Recording;
            var file = again == true ? Table(desk, await Task.Run(() => RecordingFile.Read(desk.Path, request, prefersSamples: false, cancellation), cancellation)) : Table(desk, await desk.ReadAsync(cancellation));
            return Results.Json(SheetOf(file, state, name) with
            {
                Said = SaidReadings.Of(request),
                TakesEncoding = file.Separator is not null,
                TakesStart = request.LogStart is not null || !RecordTime.IsDated(file.Log.From),
            }, SurveyJson.Default.ColumnMatchSheet);
        });
        api.MapPost("/surveys/{id}/match", async (string id, string? recording, HttpRequest request, CancellationToken cancellation) =>
        {
            var wanted = await RequestJson.ReadAsync(request, SurveyJson.Default.ColumnMatchKeep, cancellation);
            var problem = wanted is null ? "Nothing was said of the columns." : ProblemOf(wanted);
            if (wanted is null || problem.Length > 0) return SurveyProblems.Of(StatusCodes.Status400BadRequest, "Not possible", problem);
            var (desk, _, name) = results.Find(id, recording);
            var work = works.Start($"columns {id} {name} {Guid.NewGuid():N}", "Reading the recording as you say", (work, stop) => ConfirmAsync(surveys, id, desk, name, wanted, work, stop));
            return Results.Json(work.State, SurveyJson.Default.WorkState, statusCode: StatusCodes.Status202Accepted);
        });
    }

    private static LogFile Table(RecordingDesk desk, RecordingFile read) =>
        read.Log is { Columns.IsEmpty: false } log ? log : throw new SurveyException(
            SurveyProblem.Refused, $"'{desk.FileName}' is no table of logged values: its format says itself what it holds, or it holds samples of waves.");

    private static ColumnMatchSheet SheetOf(LogFile file, SurveyState state, string recording) => new()
    {
        Sequence = state.LastEntry,
        How = ColumnsText.How(file),
        Columns = [.. file.Columns.Select(column => new ColumnMatchRow(column.Index + 1, column.Heading, ColumnEntry.Of(column))
        {
            IsValue = column.Role == ColumnRole.Value || column is { Role: ColumnRole.LeftOut, IsStated: true },
            IsUnsure = column.IsUnsure || column.IsUnknown,
            Confidence = Math.Round(column.Confidence, 4),
            Why = column.Why,
            First = column.Index < file.FirstCells.Length ? file.FirstCells[column.Index] : [],
        })],
        Warnings = [.. file.Warnings.Select(warning => warning.Line is { } line ? string.Create(CultureInfo.InvariantCulture, $"Line {line}: {warning.Says}") : warning.Says)],
        Questions = file.Questions,
        Stamps = file.Stamps == StampPlace.End ? "end" : "start",
        AsksStamps = file.Questions.Contains(LogQuestions.Stamps),
        Dates = file.DateOrder is { } order ? s_orders.First(one => one.Order == order).Word : "",
        AsksDates = file.Questions.Any(LogQuestions.AsksForDates),
        IsConfirmed = state.Recording(recording) is { } one && (one.Columns is not null || one.Facts.IsConfirmed),
        IsRemembered = KnownColumns.Folder is not null,
    };

    private static string ProblemOf(ColumnMatchKeep wanted)
    {
        foreach (var entry in wanted.Columns)
        {
            if (entry is null) return "A column is missing.";
            if (entry.Read(out _) is [var problem, ..]) return $"Column {entry.Column}: {problem.Says}";
        }

        if (wanted.Stamps is not ("" or "start" or "end")) return "Rows are stamped at the start or at the end of their interval: start, or end.";
        return wanted.Dates.Length > 0 && OrderOf(wanted.Dates) is null ? "Dates stand as day-month-year, month-day-year or year-month-day." : "";
    }

    private static DateOrder? OrderOf(string word) => Array.Find(s_orders, one => one.Word == word) is { Word: not null } known ? known.Order : null;

    private static async Task<string> ConfirmAsync(ServedSurveys surveys, string id, RecordingDesk desk, string name, ColumnMatchKeep wanted, SurveyWork work, CancellationToken cancellation)
    {
        var request = wanted.Said is { } said ? SaidReadings.ApplyTo(said, desk.Request.Recording) : desk.Request.Recording;
        var statements = wanted.Columns.Select(entry =>
        {
            _ = entry.Read(out var statement);
            return statement;
        });
        request = request with
        {
            Statements = [.. statements],
            Stamps = wanted.Stamps switch { "start" => StampPlace.Start, "end" => StampPlace.End, _ => request.Stamps },
            Dates = OrderOf(wanted.Dates) ?? request.Dates,
        };
        work.Report("Reading the recording as you say", 0.1);
        var log = (await Task.Run(() => RecordingFile.Read(desk.Path, request, prefersSamples: false, cancellation), cancellation)).Log!;
        var profile = ConfirmedColumns.ProfileOf(log);
        await surveys.WriteAsync(
            id,
            async survey =>
            {
                if (survey.Entries.Any(entry => entry.Number > wanted.Sequence && entry.Payload is ColumnsConfirmed other && other.Recording == name))
                    throw new SurveyException(SurveyProblem.Refused, "Someone else confirmed these columns meanwhile. Nothing is lost: load the page again, and confirm again if they are not right.");
                work.Report("Making its table anew", 0.5);
                await ConfirmedColumns.ConfirmAsync(survey, name, profile, log.Log, request, cancellation);
                return 0;
            },
            cancellation);
        return $"Confirmed. {Remembered(profile)}";
    }

    // The survey has it then; that the program does not remember it for other tables is told, and no failure.
    private static string Remembered(ColumnProfile profile)
    {
        try
        {
            KnownColumns.Keep(profile);
            return "Every table with these headings is read so from now on.";
        }
        catch (InputRefusedException refusal)
        {
            return $"For this recording alone: {refusal.Message}";
        }
    }
}
