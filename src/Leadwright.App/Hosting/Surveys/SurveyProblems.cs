using Leadwright.App.Verbs;
using Leadwright.Client.Surveys;
using Leadwright.Formats;
using Leadwright.Surveys;

namespace Leadwright.App.Hosting.Surveys;

/// <summary>Turns what can go wrong with a survey into answers that a person can read.</summary>
internal static class SurveyProblems
{
    /// <summary>An answer that says what was refused.</summary>
    public static IResult Of(int status, string title, string detail) =>
        Results.Json(new ProblemSheet(title, detail) { Status = status }, SurveyJson.Default.ProblemSheet, "application/problem+json", status);

    /// <summary>Lets endpoints throw; answers what they throw.</summary>
    public static async ValueTask<object?> FilterAsync(EndpointFilterInvocationContext context, EndpointFilterDelegate next)
    {
        try
        {
            return await next(context);
        }
        catch (SurveyException failure)
        {
            return failure.Problem switch
            {
                SurveyProblem.NotFound or SurveyProblem.NotASurvey => Of(StatusCodes.Status404NotFound, "Not found", failure.Message),
                SurveyProblem.InUse => Of(StatusCodes.Status409Conflict, "In use", failure.Message),
                SurveyProblem.Refused or SurveyProblem.AlreadyThere => Of(StatusCodes.Status400BadRequest, "Not possible", failure.Message),
                SurveyProblem.DiskFull => Of(StatusCodes.Status507InsufficientStorage, "The disk is full", failure.Message),
                _ => Of(StatusCodes.Status500InternalServerError, "The survey can't be used", failure.Message),
            };
        }
        catch (Exception failure) when (failure is InputRefusedException or FormatReadException)
        {
            return Of(StatusCodes.Status422UnprocessableEntity, "The file can't be used", failure.Message);
        }
        catch (Exception failure) when (failure is ArgumentException or BadHttpRequestException or FormatException)
        {
            return Of(StatusCodes.Status400BadRequest, "Not possible", failure.Message);
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
        {
            return Of(StatusCodes.Status500InternalServerError, "The disk refused", $"{failure.Message} What was saved before is still there.");
        }
    }
}
