using System.Collections.Immutable;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Hookups.Answers;

namespace Leadwright.Core.Practice;

/// <summary>Marks answers.</summary>
/// <remarks>What places, confidence and steps are worth against each other is our own choice: common practice, no source. The
/// confidence is scored by a proper rule, and enters the points as a straight line: for any answer, saying what one believes is best.</remarks>
public static class Marking
{
    /// <summary>Points for all places right.</summary>
    public const double MostPlacePoints = 60;

    /// <summary>Points for being sure and right.</summary>
    public const double MostConfidencePoints = 40;

    /// <summary>Points that an action costs.</summary>
    public const double PointsPerStep = 2;

    /// <summary>Marks an answer.</summary>
    /// <param name="exercise">The exercise.</param>
    /// <param name="answer">The answer to it.</param>
    /// <exception cref="ArgumentException">The answer lacks what was asked for, names a choice that was not offered or an action that
    /// can't be taken, or its confidence is not from 0 to 1.</exception>
    public static PracticeMark Mark(Exercise exercise, PracticeAnswer answer)
    {
        ArgumentNullException.ThrowIfNull(exercise);
        ArgumentNullException.ThrowIfNull(answer);
        foreach (var action in answer.Taken)
        {
            if (!exercise.Actions.Contains(action)) throw new ArgumentException($"'{action.Id}' can't be done in this exercise.", nameof(answer));
        }

        var mark = exercise.AsksForHookup ? MarkHookup(exercise, answer) : MarkChoice(exercise, answer);
        return mark with
        {
            Truth = exercise.Truth,
            Rotation = exercise.Site?.Panel.Source.Rotation ?? Rotation.Unknown,
            HighLeg = exercise.Service == ServiceKind.HighLeg ? exercise.Site?.Panel.Source.HighLeg : null,
            RightChoices = exercise.RightChoices,
        };
    }

    /// <summary>What the check of hook-ups says on the same readings and the same further findings.</summary>
    /// <param name="mark">The mark.</param>
    /// <param name="judge">The check, such as <see cref="HookupCheck.Judge(PanelReadings, CheckOptions)"/>.</param>
    /// <returns>Null where the form shows no readings of a panel.</returns>
    public static SecondOpinion? Ask(PracticeMark mark, Func<PanelReadings, CheckOptions, HookupVerdict> judge)
    {
        ArgumentNullException.ThrowIfNull(mark);
        ArgumentNullException.ThrowIfNull(judge);
        var exercise = mark.Exercise;
        if (exercise.Readings is not { } readings || mark.Truth is not { } truth) return null;
        var told = mark.Answer.Taken.Distinct().Select(action => exercise.Take(action).Told).ToImmutableArray();
        var verdict = judge(readings, exercise.Known with { Told = told });
        var best = verdict.Best;
        var isTruth = best.Hookup == truth || best.SameReading.Any(same => same.Hookup == truth)
            || IsAlike(readings, best.Hookup, best.Rotation, truth, mark);
        return new SecondOpinion(verdict, isTruth, isTruth && best.Probability >= HookupCheck.NamedFrom);
    }

    private static PracticeMark MarkHookup(Exercise exercise, PracticeAnswer answer)
    {
        if (answer.Hookup is not { } said) throw new ArgumentException("The answer does not say where the leads and clamps are.", nameof(answer));
        var truth = exercise.Truth!;
        if (!said.Leads.Keys.SequenceEqual(truth.Leads.Keys) || !said.Clamps.Keys.SequenceEqual(truth.Clamps.Keys))
        {
            throw new ArgumentException(
                $"The answer must place {string.Join(", ", truth.Leads.Keys)} and {string.Join(", ", truth.Clamps.Keys)}.", nameof(answer));
        }

        var devices = truth.Leads
            .Select(lead => Device(lead.Key.ToString(), new ClampPlace(said.Leads[lead.Key], false, 1), new ClampPlace(lead.Value, false, 1)))
            .Concat(truth.Clamps.Select(clamp => Device(clamp.Key.ToString(), said.Clamps[clamp.Key], clamp.Value))).ToImmutableArray();
        var isTruth = devices.All(device => device.IsRight);
        var source = exercise.Site!.Panel.Source;
        var hasTold = answer.Taken.Length > 0;
        var isAlike = !isTruth && !hasTold && ReadsTheSame(exercise, said, truth);
        var faults = FaultFinder.Find(truth);
        var kinds = faults.Select(fault => fault.Kind).ToArray();
        var saidKinds = FaultFinder.Find(said).Select(fault => fault.Kind).ToArray();
        var places = isAlike ? 1 : (double)devices.Count(device => device.IsRight) / devices.Length;
        return Scored(exercise, answer, isTruth || isAlike, places) with
        {
            ReadsAlike = isAlike,
            Devices = devices,
            Faults = faults,
            Missed = isAlike ? [] : [.. kinds.Except(saidKinds)],
            Invented = isAlike ? [] : [.. saidKinds.Except(kinds)],
            Rotation = source.Rotation,
        };
    }

    private static PracticeMark MarkChoice(Exercise exercise, PracticeAnswer answer)
    {
        if (answer.Choice is not { } choice || !exercise.Choices.Contains(choice))
            throw new ArgumentException($"The answer must be one of {string.Join(", ", exercise.Choices)}; found '{answer.Choice}'.", nameof(answer));
        var isRight = exercise.RightChoices.Contains(choice);
        return Scored(exercise, answer, isRight, isRight ? 1 : 0) with
        {
            Faults = exercise.Truth is { } truth && !truth.Leads.ContainsValue(Conductor.G) ? FaultFinder.Find(truth) : [],
        };
    }

    private static PracticeMark Scored(Exercise exercise, PracticeAnswer answer, bool isRight, double places) => new()
    {
        Exercise = exercise,
        Answer = answer,
        IsRight = isRight,
        Steps = answer.Taken.Length,
        Brier = ConfidenceScore.Brier(answer.Confidence, isRight),
        PlacePoints = MostPlacePoints * places,
        ConfidencePoints = MostConfidencePoints * ConfidenceScore.Points(answer.Confidence, isRight),
        StepPoints = -PointsPerStep * answer.Taken.Length,
    };

    // A clamp on nothing has neither direction nor scale.
    private static DeviceMark Device(string name, ClampPlace said, ClampPlace truth) => new(
        name, said, truth, said.On == truth.On && (truth.On is null || (said.Reversed == truth.Reversed && said.Scale == truth.Scale)));

    private static bool ReadsTheSame(Exercise exercise, Hookup said, Hookup truth)
    {
        var source = exercise.Site!.Panel.Source;
        var highLeg = source.HighLeg;
        return exercise.Readings is { } readings && AllRotations.Any(rotation =>
            ReadsAlike.Check(readings, said, rotation, highLeg, truth, source.Rotation, highLeg));
    }

    private static bool IsAlike(PanelReadings readings, Hookup best, Rotation rotation, Hookup truth, PracticeMark mark) =>
        best.Leads.Keys.SequenceEqual(truth.Leads.Keys) && best.Clamps.Keys.SequenceEqual(truth.Clamps.Keys)
        && !truth.Leads.ContainsValue(Conductor.G)
        && ReadsAlike.Check(readings, best, rotation, mark.HighLeg ?? Conductor.B, truth, mark.Rotation, mark.HighLeg ?? Conductor.B);

    private static ImmutableArray<Rotation> AllRotations => [Rotation.Abc, Rotation.Acb];
}
