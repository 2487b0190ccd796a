using System.Collections.Immutable;
using Leadwright.Core.Hookups;
using Leadwright.Core.Hookups.Settling;

namespace Leadwright.Core.Practice;

/// <summary>What a trainee answers.</summary>
public sealed record PracticeAnswer
{
    /// <summary>Where the trainee says every lead and clamp is; null where the exercise asks for a choice.</summary>
    public Hookup? Hookup { get; init; }

    /// <summary>The word of the choice; null where the exercise asks for the hook-up.</summary>
    public string? Choice { get; init; }

    /// <summary>How sure the trainee is that the whole answer is right, 0 to 1.</summary>
    public required double Confidence { get; init; }

    /// <summary>The actions that were taken, in order.</summary>
    public ImmutableArray<SettlingAction> Taken { get; init; } = [];

    /// <summary>Who answers; empty when that was not said.</summary>
    public string Trainee { get; init; } = "";
}
