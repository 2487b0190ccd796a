using Leadwright.Core.Hookups.Settling;
using Leadwright.Core.Practice;

namespace Leadwright.App.Verbs.Practising;

/// <summary>What <c>practice</c> is to do.</summary>
internal enum PracticeTask
{
    /// <summary>Make an exercise.</summary>
    Make,

    /// <summary>Take one more reading at its panel.</summary>
    Take,

    /// <summary>Mark answers.</summary>
    Mark,

    /// <summary>Mark all answers of a class.</summary>
    Class,
}

/// <summary>What was asked of <c>practice</c>.</summary>
internal sealed record PracticeRequest
{
    /// <summary>What to do.</summary>
    public required PracticeTask Task { get; init; }

    /// <summary>Answers, or folders of them.</summary>
    public required IReadOnlyList<string> Files { get; init; }

    /// <summary>What to make an exercise from.</summary>
    public required ExerciseKey Key { get; init; }

    /// <summary>Who answers; may be empty.</summary>
    public required string Trainee { get; init; }

    /// <summary>The reading to take; null where none is.</summary>
    public SettlingAction? Action { get; init; }

    /// <summary>Where to write; null for the usual place.</summary>
    public string? Output { get; init; }

    /// <summary>True for JSON.</summary>
    public bool IsJson { get; init; }
}
