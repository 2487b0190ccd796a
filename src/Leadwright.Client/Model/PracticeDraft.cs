using System.Collections.Immutable;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Hookups.Settling;
using Leadwright.Core.Practice;

namespace Leadwright.Client.Model;

/// <summary>An answer in the making.</summary>
public sealed record PracticeDraft
{
    /// <summary>The leads that were placed.</summary>
    public ImmutableSortedDictionary<Lead, Conductor?> Leads { get; init; } = ImmutableSortedDictionary<Lead, Conductor?>.Empty;

    /// <summary>The clamps of which something was said.</summary>
    public ImmutableSortedDictionary<Clamp, ClampDraft> Clamps { get; init; } = ImmutableSortedDictionary<Clamp, ClampDraft>.Empty;

    /// <summary>The choice; null while none was made.</summary>
    public string? Choice { get; init; }

    /// <summary>How sure, percent; null while that was not said.</summary>
    public int? ConfidencePercent { get; init; }

    /// <summary>The actions that were taken, in order.</summary>
    public ImmutableArray<SettlingAction> Taken { get; init; } = [];

    /// <summary>Where the trainee says a clamp is.</summary>
    public ClampDraft ClampOf(Clamp clamp) => Clamps.GetValueOrDefault(clamp, ClampDraft.Unsaid);

    /// <summary>The answer; null while something is missing.</summary>
    /// <param name="exercise">The exercise.</param>
    /// <param name="trainee">Who answers.</param>
    public PracticeAnswer? AnswerTo(Exercise exercise, string trainee)
    {
        ArgumentNullException.ThrowIfNull(exercise);
        if (ConfidencePercent is not { } percent || !IsPlaced(exercise)) return null;
        return new PracticeAnswer
        {
            Hookup = exercise.AsksForHookup ? HookupOf(exercise) : null,
            Choice = exercise.AsksForHookup ? null : Choice,
            Confidence = percent / 100.0,
            Taken = Taken,
            Trainee = trainee,
        };
    }

    /// <summary>True when everything but the confidence was said.</summary>
    public bool IsPlaced(Exercise exercise)
    {
        ArgumentNullException.ThrowIfNull(exercise);
        if (!exercise.AsksForHookup) return Choice is not null;
        return exercise.Expected.Leads.Keys.All(Leads.ContainsKey) && exercise.Expected.Clamps.Keys.All(clamp => ClampOf(clamp).Place is not null);
    }

    private Hookup HookupOf(Exercise exercise) => new(
        exercise.Expected.Leads.Keys.ToImmutableSortedDictionary(lead => lead, lead => Leads[lead]),
        exercise.Expected.Clamps.Keys.ToImmutableSortedDictionary(clamp => clamp, clamp => ClampOf(clamp).Place!.Value));
}
