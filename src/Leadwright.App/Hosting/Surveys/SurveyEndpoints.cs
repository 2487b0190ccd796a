using System.Collections.Immutable;
using System.Globalization;
using System.Net;
using Leadwright.Client.Surveys;
using Leadwright.Core.Mending.Answers;
using Leadwright.Formats.Logs;
using Leadwright.Surveys.Journal;
using Microsoft.AspNetCore.Mvc;

namespace Leadwright.App.Hosting.Surveys;

/// <summary>The surveys over HTTP, under <c>/api</c>. Everything here a verb can do too.</summary>
internal static class SurveyEndpoints
{
    private const int MostWidth = 8000;

    /// <summary>Adds the endpoints.</summary>
    public static void MapSurveys(this WebApplication app, ServedSurveys surveys, ChangeProtection protection)
    {
        var results = new SurveyResults(surveys);
        var works = new SurveyWorks();
        var api = app.MapGroup("/api").AddEndpointFilter(async (context, next) =>
        {
            context.HttpContext.Response.Headers.CacheControl = "no-store";
            return protection.Problem(context.HttpContext.Request) is { Length: > 0 } problem
                ? SurveyProblems.Of(StatusCodes.Status403Forbidden, "Refused", problem) : await next(context);
        }).AddEndpointFilter(SurveyProblems.FilterAsync);

        api.MapGet("/session", () => Results.Json(
            new SessionCard(protection.Token, ProgramStamp.Version) { Folder = surveys.Folder, MostBytes = SurveyUploads.MostBytes }, SurveyJson.Default.SessionCard));
        api.MapGet("/work/{work}", (string work) => works.Find(work) is { } found ? State(found, StatusCodes.Status200OK) : Forgotten());
        api.MapDelete("/work/{work}", (string work) =>
        {
            works.Find(work)?.Cancel();
            return Results.NoContent();
        });
        MapList(api, surveys);
        MapRecordings(api, surveys, works);
        api.MapColumns(surveys, results, works);
        MapResults(api, surveys, results, works);
        MapTables(api, surveys, results);
        MapMoments(api, surveys, results);
        MapFollowing(api, surveys, app.Lifetime);
        api.MapPapers(surveys, results, works);
    }

    private static void MapList(RouteGroupBuilder api, ServedSurveys surveys)
    {
        api.MapGet("/surveys", (CancellationToken cancellation) => Results.Json(surveys.List(cancellation), SurveyJson.Default.ImmutableArraySurveyCard));
        api.MapPost("/surveys", async (HttpRequest request, CancellationToken cancellation) =>
        {
            var wanted = await RequestJson.ReadAsync(request, SurveyJson.Default.NewSurvey, cancellation);
            if (wanted is null || string.IsNullOrWhiteSpace(wanted.Name)) return SurveyProblems.Of(StatusCodes.Status400BadRequest, "Not possible", "Give the survey a name: the site's, so that it is found again.");
            var id = surveys.Make(SurveyTyped.Of(wanted));
            return Results.Json(surveys.SheetOf(id), SurveyJson.Default.SurveySheet);
        });
        api.MapGet("/surveys/{id}", (string id) => Results.Json(surveys.SheetOf(id), SurveyJson.Default.SurveySheet));
        api.MapPost("/surveys/{id}/duplicate", async (string id, CancellationToken cancellation) =>
            Results.Json(surveys.SheetOf(await surveys.DuplicateAsync(id, cancellation)), SurveyJson.Default.SurveySheet));
        api.MapPost("/surveys/{id}/archive", (string id, CancellationToken cancellation) => ArchiveAsync(surveys, id, true, cancellation));
        api.MapPost("/surveys/{id}/restore", (string id, CancellationToken cancellation) => ArchiveAsync(surveys, id, false, cancellation));
        api.MapGet("/surveys/{id}/journal", (string id) =>
        {
            using var survey = surveys.Read(id);
            return Results.Json([.. survey.Entries.Reverse().Select(entry => JournalWording.Of(entry, survey.State))], SurveyJson.Default.ImmutableArrayJournalRow);
        });
        api.MapGet("/surveys/{id}/download", async (string id, CancellationToken cancellation) =>
        {
            var packed = await surveys.PackAsync(id, cancellation);
            return Results.File(packed, "application/zip", $"{id}.zip");
        });
    }

    private static void MapRecordings(RouteGroupBuilder api, ServedSurveys surveys, SurveyWorks works)
    {
        api.MapPost("/surveys/{id}/recordings", async (string id, HttpRequest request, CancellationToken cancellation) =>
        {
            _ = surveys.PathOf(id);
            var said = SaidReadings.Of(request);
            var upload = await SurveyUploads.TakeAsync(request, surveys.Folder, cancellation);
            return State(works.Start($"import {upload.Folder}", "Reading the recording", async (work, stop) =>
            {
                using (upload) return await surveys.WriteAsync(id, survey => SurveyImport.ImportAsync(survey, upload.Files, said, work, stop), stop);
            }), StatusCodes.Status202Accepted);
        }).WithMetadata(new RequestSizeLimitAttribute(SurveyUploads.MostBytes));
        api.MapPost("/surveys/recordings", async (HttpRequest request, CancellationToken cancellation) =>
        {
            var said = SaidReadings.Of(request);
            var upload = await SurveyUploads.TakeAsync(request, surveys.Folder, cancellation);
            return State(works.Start($"begin {upload.Folder}", "Reading the recording", async (work, stop) =>
            {
                using (upload) return await SurveyImport.BeginAsync(surveys, upload.Files, said, work, stop);
            }), StatusCodes.Status202Accepted);
        }).WithMetadata(new RequestSizeLimitAttribute(SurveyUploads.MostBytes));
        api.MapPost("/surveys/packed", async (HttpRequest request, CancellationToken cancellation) =>
        {
            var upload = await SurveyUploads.TakeAsync(request, surveys.Folder, cancellation);
            return State(works.Start($"unpack {upload.Folder}", "Unpacking the survey", async (_, stop) =>
            {
                using (upload) return await Task.Run(() => surveys.Unpack(upload.Files[0], stop), stop);
            }), StatusCodes.Status202Accepted);
        }).WithMetadata(new RequestSizeLimitAttribute(SurveyUploads.MostBytes));
    }

    private static void MapResults(RouteGroupBuilder api, ServedSurveys surveys, SurveyResults results, SurveyWorks works)
    {
        api.MapGet("/surveys/{id}/guard", (string id, string? recording) =>
        {
            var (desk, state, name) = results.Find(id, recording);
            return Json(results.KnownGuard(id, desk, state, name)) ?? Started(works, $"guard {id} {desk.Key}", (work, stop) => results.GuardAsync(id, desk, state, name, work, stop));
        });
        api.MapGet("/surveys/{id}/mend", (string id, string? recording) =>
        {
            var (desk, state, name) = results.Find(id, recording);
            return Json(results.KnownMend(id, desk, state, name))
                ?? Started(works, $"mend {id} {desk.Key} {state.LastEntry}", (work, stop) => results.MendAsync(id, desk, state, name, work, stop));
        });
        api.MapPost("/surveys/{id}/corrections", async (string id, string? recording, HttpRequest request, CancellationToken cancellation) =>
        {
            var wanted = await RequestJson.ReadAsync(request, SurveyJson.Default.LayerSwitch, cancellation);
            if (wanted is null || string.IsNullOrWhiteSpace(wanted.Why)) return SurveyProblems.Of(StatusCodes.Status400BadRequest, "Not possible", "Say why: the reason goes into the journal, where the report finds it.");
            var (desk, _, name) = results.Find(id, recording);
            var whole = await desk.MendAsync([], cancellation);
            return whole.Corrections.FirstOrDefault(correction => CorrectionLayers.IdOf(name, correction) == wanted.Id) is { } layer
                ? await SwitchAsync(surveys, id, name, layer, wanted, cancellation)
                : SurveyProblems.Of(StatusCodes.Status404NotFound, "Not found", "There is no such correction any more. Load the page again.");
        });
        api.MapGet("/surveys/{id}/study", (string id, string? recording, string? limits) =>
        {
            var (desk, state, name) = results.Find(id, recording);
            return Json(results.KnownStudy(id, desk, state, name, limits ?? ""))
                ?? Started(works, $"study {id} {desk.Key} {state.LastEntry} {limits}", (work, stop) => results.StudyAsync(id, desk, state, name, limits ?? "", work, stop));
        });
        api.MapGet("/surveys/{id}/study/{file}", (string id, string file, string? recording, string? limits) =>
        {
            var (desk, state, name) = results.Find(id, recording);
            return results.StudyFile(id, desk, state, name, limits ?? "", file) is { } bytes
                ? Results.File(bytes, file.EndsWith(".svg", StringComparison.Ordinal) ? "image/svg+xml" : "text/csv", file.EndsWith(".svg", StringComparison.Ordinal) ? null : file)
                : SurveyProblems.Of(StatusCodes.Status404NotFound, "Not found", "There is no such file of this study. Load the page again.");
        });
    }

    private static void MapTables(RouteGroupBuilder api, ServedSurveys surveys, SurveyResults results)
    {
        api.MapGet("/surveys/{id}/columns", async (string id, string? recording, bool? mended, string? names, double? from, double? to, int? width, CancellationToken cancellation) =>
        {
            var (desk, state, name) = results.Find(id, recording);
            ImmutableArray<string> wanted = string.IsNullOrEmpty(names) ? [] : [.. names.Split(',')];
            var most = Math.Clamp(width ?? 1000, 10, MostWidth);
            if (mended != true)
            {
                if (wanted.IsEmpty && await StoredFrames.ColumnsAsync(surveys.PathOf(id), state, name, desk, cancellation) is { } columns)
                    return Results.Json(columns, SurveyJson.Default.ImmutableArrayColumnCard);
                if (!wanted.IsEmpty && await StoredFrames.FrameAsync(surveys.PathOf(id), state, name, desk, wanted, from, to, most, cancellation) is { } stored)
                    return Results.Bytes(stored.ToBytes(), "application/octet-stream");
            }

            if (await desk.WavesAsync(cancellation) is { } waves)
                return wanted.IsEmpty ? Results.Json(waves.Columns, SurveyJson.Default.ImmutableArrayColumnCard) : Results.Bytes(waves.Frame(wanted, from, to, most).ToBytes(), "application/octet-stream");
            var table = await SurveyResults.TableAsync(desk, state, name, mended ?? false, cancellation);
            if (wanted.IsEmpty) return Results.Json(ColumnWording.Of(table.Log), SurveyJson.Default.ImmutableArrayColumnCard);
            var log = mended == true && wanted.Any(column => column.StartsWith(SurveyResults.RecordedPrefix, StringComparison.Ordinal))
                ? SurveyResults.WithRecorded(table.Log, (await desk.ReadAsync(cancellation)).Log!.Log, wanted) : table.Log;
            var frame = ColumnFrames.Of(log, table.Standings, wanted, from, to, most);
            return Results.Bytes(frame.ToBytes(), "application/octet-stream");
        });
        api.MapGet("/surveys/{id}/table.csv", async (string id, string? recording, bool? mended, HttpResponse response, CancellationToken cancellation) =>
        {
            var (desk, state, name) = results.Find(id, recording);
            var table = await SurveyResults.TableAsync(desk, state, name, mended ?? false, cancellation);
            response.ContentType = "text/csv";
            response.Headers.ContentDisposition = $"attachment; filename=\"{(mended == true ? "mended" : "recorded")}.csv\"";
            await LogWriter.WriteCsvAsync(table.Log, response.Body, table.Standings.IsEmpty ? null : table.Standings, cancellation);
            return Results.Empty;
        });
        api.MapGet("/surveys/{id}/vectors", async (string id, string? recording, bool? mended, double at, CancellationToken cancellation) =>
        {
            var (desk, state, name) = results.Find(id, recording);
            var table = await SurveyResults.TableAsync(desk, state, name, mended ?? false, cancellation);
            return VectorsAt.Of(table.Log, desk.ServiceOf(table.Log), at) is { } sheet ? Results.Json(sheet, SurveyJson.Default.VectorSheet) : Results.NoContent();
        });
    }

    private static void MapMoments(RouteGroupBuilder api, ServedSurveys surveys, SurveyResults results) => api.MapGet(
        "/surveys/{id}/moment", async (string id, string? recording, double at, CancellationToken cancellation) =>
        {
            var (desk, state, name) = results.Find(id, recording);
            if (await StoredFrames.MomentAsync(surveys.PathOf(id), state, name, desk, at, cancellation) is { } stored) return Results.Json(stored, SurveyJson.Default.MomentSheet);
            return await desk.WavesAsync(cancellation) is { } waves
                ? Results.Json(await Task.Run(() => waves.Moment(at, cancellation), cancellation), SurveyJson.Default.MomentSheet)
                : SurveyProblems.Of(StatusCodes.Status404NotFound, "Not found", "This recording holds logged values and no waves.");
        });

    private static void MapFollowing(RouteGroupBuilder api, ServedSurveys surveys, IHostApplicationLifetime lifetime)
    {
        var follows = new SurveyFollows(surveys, TimeProvider.System);
        lifetime.ApplicationStopping.Register(follows.StopAll);
        api.MapGet("/surveys/{id}/follow", (string id) => Results.Json(follows.SheetOf(id), SurveyJson.Default.FollowSheet));
        api.MapPost("/surveys/{id}/follow/end", (string id) => Results.Json(follows.Stop(id), SurveyJson.Default.FollowSheet));
        api.MapPost("/surveys/{id}/follow", async (string id, HttpContext context, CancellationToken cancellation) =>
        {
            // Which folders of a computer are read is said at that computer.
            if (context.Connection.RemoteIpAddress is not { } address || !IPAddress.IsLoopback(address))
                return SurveyProblems.Of(StatusCodes.Status403Forbidden, "Refused", "Begin to follow a recorder on the computer that has the surveys. Its alarms are shown here then.");
            var wanted = await RequestJson.ReadAsync(context.Request, SurveyJson.Default.FollowStart, cancellation);
            return wanted is null || string.IsNullOrWhiteSpace(wanted.Path)
                ? SurveyProblems.Of(StatusCodes.Status400BadRequest, "Not possible", "Say which file or folder is to be followed.")
                : Results.Json(follows.Start(id, wanted.Path), SurveyJson.Default.FollowSheet);
        });
    }

    private static async Task<IResult> ArchiveAsync(ServedSurveys surveys, string id, bool isArchived, CancellationToken cancellation)
    {
        await surveys.WriteAsync(
            id, survey => Task.FromResult(survey.State.IsArchived == isArchived ? null : survey.Append(new ArchivedChanged(isArchived))), cancellation);
        return Results.NoContent();
    }

    private static Task<IResult> SwitchAsync(ServedSurveys surveys, string id, string recording, Correction layer, LayerSwitch wanted, CancellationToken cancellation) =>
        surveys.WriteAsync(
            id,
            survey =>
            {
                if (survey.State.LastEntry != wanted.Sequence)
                {
                    var last = survey.Entries[^1];
                    return Task.FromResult(SurveyProblems.Of(
                        StatusCodes.Status409Conflict, "Changed meanwhile",
                        string.Create(CultureInfo.InvariantCulture, $"Someone else changed this survey meanwhile ({last.Who}, {last.At:HH:mm} UTC: {JournalWording.Of(last, survey.State).Says}) Nothing is lost: look at it as it is now, and switch again.")));
                }

                CorrectionLayers.Switch(survey, recording, layer, wanted.IsOn, wanted.Why.Trim());
                return Task.FromResult(Results.NoContent());
            },
            cancellation);

    private static IResult? Json(byte[]? bytes) => bytes is null ? null : Results.Bytes(bytes, "application/json");

    private static IResult Started(SurveyWorks works, string key, Func<SurveyWork, CancellationToken, Task> run) => State(
        works.Start(key, "Starting", async (work, stop) =>
        {
            await run(work, stop);
            return "";
        }), StatusCodes.Status202Accepted);

    private static IResult State(SurveyWork work, int status) => Results.Json(work.State, SurveyJson.Default.WorkState, statusCode: status);

    private static IResult Forgotten() => SurveyProblems.Of(
        StatusCodes.Status404NotFound, "Not found", "This work is not known: the program may have been started anew. Load the page again.");
}
