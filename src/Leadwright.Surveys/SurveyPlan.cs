using System.Collections.Immutable;

namespace Leadwright.Surveys;

/// <summary>What a survey is for, as typed.</summary>
public sealed record SurveyPlan
{
    /// <summary>What is to be learned.</summary>
    public ImmutableArray<string> Learn { get => field.IsDefault ? [] : field; init; }

    /// <summary>The limits that are wanted, by the names of their tables, as <c>en-50160</c>.</summary>
    public ImmutableArray<string> Limits { get => field.IsDefault ? [] : field; init; }

    /// <summary>The plan in the planner's words.</summary>
    public string Text { get => field ?? ""; init; }

    /// <summary>Equal when the same is planned, in the same order.</summary>
    public bool Equals(SurveyPlan? other) => other is not null && Text == other.Text && Learn.SequenceEqual(other.Learn) && Limits.SequenceEqual(other.Limits);

    /// <inheritdoc/>
    public override int GetHashCode() => HashCode.Combine(Text, Learn.Length, Limits.Length);
}
