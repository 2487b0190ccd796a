using Leadwright.App.Verbs;
using Leadwright.Client.Surveys;
using Leadwright.Formats.Text;
using Leadwright.Surveys;

namespace Leadwright.App.Hosting.Surveys;

/// <summary>What a person says of how a file is to be read, from the address of a request: the options <c>--encoding</c> and <c>--log-start</c> of the verbs.</summary>
internal static class SaidReadings
{
    /// <summary>Takes it from an address.</summary>
    /// <exception cref="SurveyException">It says what can't be.</exception>
    public static SaidReading Of(HttpRequest request)
    {
        var said = new SaidReading { Encoding = request.Query["encoding"].ToString(), Start = request.Query["start"].ToString() };
        _ = ApplyTo(said, new RecordingRequest());
        return said;
    }

    /// <summary>A request with what is said.</summary>
    /// <param name="said">What is said; what is empty leaves it to be found out.</param>
    /// <param name="request">The request.</param>
    /// <exception cref="SurveyException">It says what can't be.</exception>
    public static RecordingRequest ApplyTo(SaidReading said, RecordingRequest request)
    {
        if (said.Encoding.Length > 0 && !TextEncodings.Names.Contains(said.Encoding, StringComparer.OrdinalIgnoreCase))
            throw new SurveyException(SurveyProblem.Refused, $"'{said.Encoding}' is no writing of letters that is known here: choose one of {string.Join(", ", TextEncodings.Names)}.");
        if (said.Start.Length > 0 && LogOptions.TimeOf(said.Start) is null)
            throw new SurveyException(SurveyProblem.Refused, $"'{said.Start}' is no date and time. Write it as 2026-03-02T08:00.");
        return request with { Encoding = said.Encoding.Length > 0 ? said.Encoding : null, LogStart = said.Start.Length > 0 ? LogOptions.TimeOf(said.Start) : null };
    }

    /// <summary>What a request says, for the screens.</summary>
    public static SaidReading Of(RecordingRequest request) => new()
    {
        Encoding = request.Encoding ?? "", Start = request.LogStart is { } start ? FormattableString.Invariant($"{start:yyyy-MM-ddTHH:mm:ss}") : "",
    };
}
