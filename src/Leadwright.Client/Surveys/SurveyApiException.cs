namespace Leadwright.Client.Surveys;

/// <summary>The program refused something, or does not answer; the message is for a person.</summary>
public sealed class SurveyApiException : Exception
{
    /// <summary>Makes it without a text.</summary>
    public SurveyApiException()
    {
    }

    /// <summary>Makes it with a text.</summary>
    /// <param name="message">What, and what to do.</param>
    public SurveyApiException(string message)
        : base(message)
    {
    }

    /// <summary>Makes it with a text and the cause.</summary>
    /// <param name="message">What, and what to do.</param>
    /// <param name="innerException">The cause.</param>
    public SurveyApiException(string message, Exception innerException)
        : base(message, innerException)
    {
    }

    /// <summary>True when the program can't be reached at all.</summary>
    public bool IsAway { get; init; }

    /// <summary>True when someone else changed the survey meanwhile.</summary>
    public bool IsConflict { get; init; }

    /// <summary>True when there is no such survey.</summary>
    public bool IsNotFound { get; init; }
}
