using System.Text.Json.Serialization.Metadata;
using Leadwright.Client.Surveys;
using Leadwright.Surveys;
using Microsoft.AspNetCore.Mvc;

namespace Leadwright.App.Hosting.Surveys;

/// <summary>What people write, sign and attach, over HTTP: the report, the check before leaving, checks of the hook-up, photos.</summary>
internal static class SurveyPaperEndpoints
{
    // A report is shown in a frame of our own page and opened by itself: it runs nothing and asks no address.
    private const string DocumentPolicy = "default-src 'none'; style-src 'unsafe-inline'; img-src data:; base-uri 'none'; form-action 'none'; frame-ancestors 'self'; sandbox";
    private const string PhotoPolicy = "default-src 'none'; frame-ancestors 'none'; sandbox";

    // A form has a little around its file.
    private const long MostPhotoRequest = PhotoFile.MostBytes + (1 << 20);

    private static readonly Dictionary<string, string> s_types = new(StringComparer.Ordinal)
    {
        ["pdf"] = "application/pdf", ["html"] = "text/html; charset=utf-8", ["xlsx"] = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
    };

    /// <summary>Adds the endpoints.</summary>
    public static void MapPapers(this RouteGroupBuilder api, ServedSurveys surveys, SurveyResults results, SurveyWorks works)
    {
        MapReport(api, surveys, new SurveyReports(surveys, results), works);
        MapPanel(api, surveys);
    }

    private static void MapReport(RouteGroupBuilder api, ServedSurveys surveys, SurveyReports reports, SurveyWorks works)
    {
        api.MapGet("/surveys/{id}/report", (string id) => Shown(surveys, id, SurveyReports.SheetOf, SurveyJson.Default.ReportSheet));
        api.MapPost("/surveys/{id}/report/words", (string id, HttpRequest request, CancellationToken cancellation) => ChangeAsync(
            surveys, id, request, SurveyJson.Default.WordsChange, SurveyReports.Keep, SurveyReports.SheetOf, SurveyJson.Default.ReportSheet, cancellation));
        api.MapGet("/surveys/{id}/report/made", (string id, string? recording) =>
        {
            if (reports.IsThere(id, recording))
            {
                using var survey = surveys.Read(id);
                return Results.Json(new ReportMade(survey.State.LastEntry), SurveyJson.Default.ReportMade);
            }

            var work = works.Start(reports.WorkKeyOf(id, recording), "Starting", async (running, stop) =>
            {
                await reports.MakeAsync(id, recording, running, stop);
                return "";
            });
            return Results.Json(work.State, SurveyJson.Default.WorkState, statusCode: StatusCodes.Status202Accepted);
        });
        api.MapGet("/surveys/{id}/report/document.{ending}", async (string id, string ending, string? recording, bool? save, HttpResponse response, CancellationToken cancellation) =>
        {
            if (!s_types.TryGetValue(ending, out var type)) return SurveyProblems.Of(StatusCodes.Status404NotFound, "Not found", "A report is had as pdf, html or xlsx.");
            var bytes = await reports.DocumentAsync(id, recording, ending, cancellation);
            if (ending == "html")
            {
                response.Headers.ContentSecurityPolicy = DocumentPolicy;
                response.Headers.XFrameOptions = "SAMEORIGIN";
            }

            return Results.File(bytes, type, save == true || ending != "html" ? reports.NameOf(id, ending) : null);
        });
    }

    private static void MapPanel(RouteGroupBuilder api, ServedSurveys surveys)
    {
        api.MapGet("/surveys/{id}/departing", (string id) => Shown(surveys, id, SurveyPanelDesk.DepartingOf, SurveyJson.Default.DepartingSheet));
        api.MapPost("/surveys/{id}/departing", (string id, HttpRequest request, CancellationToken cancellation) => ChangeAsync(
            surveys, id, request, SurveyJson.Default.DepartingSign, SurveyPanelDesk.Sign, SurveyPanelDesk.DepartingOf, SurveyJson.Default.DepartingSheet, cancellation));
        api.MapGet("/surveys/{id}/hookups", (string id) => Shown(surveys, id, SurveyPanelDesk.HookupsOf, SurveyJson.Default.HookupsSheet));
        api.MapPost("/surveys/{id}/hookups", (string id, HttpRequest request, CancellationToken cancellation) => ChangeAsync(
            surveys, id, request, SurveyJson.Default.HookupKeep, SurveyPanelDesk.Keep, SurveyPanelDesk.HookupsOf, SurveyJson.Default.HookupsSheet, cancellation));
        api.MapPost("/surveys/{id}/plan", (string id, HttpRequest request, CancellationToken cancellation) => ChangeAsync(
            surveys, id, request, SurveyJson.Default.PlanKeep, SurveyPlanDesk.Keep, _ => surveys.SheetOf(id), SurveyJson.Default.SurveySheet, cancellation));
        api.MapPost("/surveys/{id}/photos", async (string id, string? caption, HttpRequest request, CancellationToken cancellation) =>
        {
            _ = surveys.PathOf(id);
            using var upload = await SurveyUploads.TakeAsync(request, surveys.Folder, cancellation);
            if (upload.Files.Length != 1) return SurveyProblems.Of(StatusCodes.Status400BadRequest, "Not possible", "Photos are attached one by one.");
            return await surveys.WriteAsync(
                id,
                survey =>
                {
                    SurveyPanelDesk.Attach(survey, upload.Files[0], caption ?? "", cancellation);
                    return Task.FromResult(Results.Json(SurveyPanelDesk.HookupsOf(survey), SurveyJson.Default.HookupsSheet));
                },
                cancellation);
        }).WithMetadata(new RequestSizeLimitAttribute(MostPhotoRequest));
        api.MapGet("/surveys/{id}/photos/{entry:long}", (string id, long entry, HttpResponse response) =>
        {
            using var survey = surveys.Read(id);
            if (SurveyPanelDesk.PhotoOf(survey, entry) is not { } photo) return SurveyProblems.Of(StatusCodes.Status404NotFound, "Not found", "There is no such photo. Load the page again.");
            response.Headers.ContentSecurityPolicy = PhotoPolicy;
            return Results.Stream(photo.Bytes, photo.Type);
        });
    }

    private static IResult Shown<T>(ServedSurveys surveys, string id, Func<SurveyFolder, T> show, JsonTypeInfo<T> type)
    {
        using var survey = surveys.Read(id);
        return Results.Json(show(survey), type);
    }

    private static async Task<IResult> ChangeAsync<TWanted, TShown>(
        ServedSurveys surveys, string id, HttpRequest request, JsonTypeInfo<TWanted> wantedType, Func<SurveyFolder, TWanted, (int Status, string Problem)> change,
        Func<SurveyFolder, TShown> show, JsonTypeInfo<TShown> shownType, CancellationToken cancellation)
    {
        var wanted = await RequestJson.ReadAsync(request, wantedType, cancellation);
        if (wanted is null) return SurveyProblems.Of(StatusCodes.Status400BadRequest, "Not possible", "Nothing was sent. Load the page again.");
        return await surveys.WriteAsync(
            id,
            survey => Task.FromResult(change(survey, wanted) is { Status: > 0 } refused
                ? SurveyProblems.Of(refused.Status, refused.Status == StatusCodes.Status409Conflict ? "Changed meanwhile" : "Not possible", refused.Problem)
                : Results.Json(show(survey), shownType)),
            cancellation);
    }
}
