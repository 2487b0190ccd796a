namespace Leadwright.Surveys;

/// <summary>Where a survey is made, as typed.</summary>
public sealed record SurveySite
{
    /// <summary>Name of the site.</summary>
    public string Name { get => field ?? ""; init; }

    /// <summary>The place: address, building, board.</summary>
    public string Place { get => field ?? ""; init; }

    /// <summary>Whatever else is worth keeping.</summary>
    public string Notes { get => field ?? ""; init; }
}
