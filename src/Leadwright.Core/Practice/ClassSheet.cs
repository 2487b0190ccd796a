using System.Collections.Immutable;

namespace Leadwright.Core.Practice;

/// <summary>One marked answer on a class sheet.</summary>
/// <param name="Trainee">Who answered; empty when that was not said.</param>
/// <param name="Exercise">What was exercised.</param>
/// <param name="IsRight">Whether the whole answer was right.</param>
/// <param name="Confidence">The stated confidence, 0 to 1.</param>
/// <param name="Brier">Its Brier score.</param>
/// <param name="Steps">How many actions were taken.</param>
/// <param name="Points">The points.</param>
public sealed record ClassEntry(string Trainee, ExerciseKey Exercise, bool IsRight, double Confidence, double Brier, int Steps, double Points)
{
    /// <summary>The entry of a mark.</summary>
    public static ClassEntry Of(PracticeMark mark)
    {
        ArgumentNullException.ThrowIfNull(mark);
        return new ClassEntry(
            mark.Answer.Trainee, mark.Exercise.Key, mark.IsRight, mark.Answer.Confidence, mark.Brier, mark.Steps, mark.Points);
    }
}

/// <summary>What one trainee's answers come to.</summary>
/// <param name="Trainee">Who.</param>
/// <param name="Count">How many answers.</param>
/// <param name="Right">How many of them right.</param>
/// <param name="MeanConfidence">The mean stated confidence: well above the share that is right is overconfidence.</param>
/// <param name="MeanBrier">The mean Brier score; 0.25 is what saying fifty-fifty every time gets.</param>
/// <param name="Points">All points.</param>
public sealed record ClassLine(string Trainee, int Count, int Right, double MeanConfidence, double MeanBrier, double Points);

/// <summary>Scores of a class, one entry for each trainee and exercise.</summary>
/// <param name="Entries">The entries, in any order.</param>
public sealed record ClassSheet(ImmutableArray<ClassEntry> Entries)
{
    /// <summary>One line for each trainee, most points first, then by name.</summary>
    public ImmutableArray<ClassLine> Lines =>
    [
        .. Entries.GroupBy(entry => entry.Trainee, StringComparer.Ordinal)
            .Select(group => new ClassLine(
                group.Key, group.Count(), group.Count(entry => entry.IsRight), group.Average(entry => entry.Confidence),
                group.Average(entry => entry.Brier), group.Sum(entry => entry.Points)))
            .OrderByDescending(line => line.Points).ThenBy(line => line.Trainee, StringComparer.Ordinal),
    ];

    /// <summary>Equal when all entries are equal, in order.</summary>
    public bool Equals(ClassSheet? other) => other is not null && Entries.SequenceEqual(other.Entries);

    /// <inheritdoc/>
    public override int GetHashCode() => Entries.Length;
}
