namespace Leadwright.Surveys;

/// <summary>What is known of a survey when it is made.</summary>
/// <param name="Title">Its title.</param>
public sealed record NewSurvey(string Title)
{
    /// <summary>Its name among all surveys; null to make one of title and day.</summary>
    public string? Id { get; init; }

    /// <summary>The site.</summary>
    public SurveySite Site { get; init; } = new();

    /// <summary>The panel.</summary>
    public SurveyPanel Panel { get; init; } = new();

    /// <summary>The plan.</summary>
    public SurveyPlan Plan { get; init; } = new();
}
