namespace Leadwright.Surveys;

/// <summary>Something that could not be done with a survey: what, where, and what to do about it. What was saved before is still there.</summary>
/// <param name="problem">Why.</param>
/// <param name="message">Whole sentences for a person.</param>
/// <param name="cause">What the system said; null when there is nothing behind it.</param>
public sealed class SurveyException(SurveyProblem problem, string message, Exception? cause = null) : Exception(message, cause)
{
    /// <summary>Why.</summary>
    public SurveyProblem Problem { get; } = problem;
}
