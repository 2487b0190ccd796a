namespace Leadwright.Surveys;

/// <summary>Who writes into a survey, and by which clock.</summary>
/// <param name="Name">Name as typed, or of the account.</param>
/// <param name="Clock">Gives the time of each entry. Times are told, never relied on: entries are in the order of their numbers.</param>
public sealed record SurveyAuthor(string Name, TimeProvider Clock)
{
    /// <summary>The account that the program runs under, by the system's clock.</summary>
    public static SurveyAuthor OfAccount() => new(Environment.UserName, TimeProvider.System);
}
