using System.Collections.Immutable;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;

namespace Leadwright.Core.Practice;

/// <summary>How one lead or clamp was answered.</summary>
/// <param name="Device">Its name, such as <c>I2</c>.</param>
/// <param name="Said">Where the trainee says it is; a lead has neither direction nor scale.</param>
/// <param name="Truth">Where it is.</param>
/// <param name="IsRight">Whether they agree.</param>
public sealed record DeviceMark(string Device, ClampPlace Said, ClampPlace Truth, bool IsRight);

/// <summary>How an answer is marked, and the truth.</summary>
public sealed record PracticeMark
{
    /// <summary>The exercise.</summary>
    public required Exercise Exercise { get; init; }

    /// <summary>The answer.</summary>
    public required PracticeAnswer Answer { get; init; }

    /// <summary>True when the whole answer is right, or reads the same as the truth on every channel.</summary>
    public required bool IsRight { get; init; }

    /// <summary>True when the answer is not the truth and yet nothing that was read can tell the two apart: it counts as right.</summary>
    public bool ReadsAlike { get; init; }

    /// <summary>Each lead and clamp; empty where a choice was asked for.</summary>
    public ImmutableArray<DeviceMark> Devices { get; init; } = [];

    /// <summary>Where everything really is; null in a form without leads and clamps of its own.</summary>
    public Hookup? Truth { get; init; }

    /// <summary>The rotation that the supply really has; unknown in a form without a panel.</summary>
    public Rotation Rotation { get; init; }

    /// <summary>The line that really is the high leg, on a high-leg service; else null.</summary>
    public Conductor? HighLeg { get; init; }

    /// <summary>What is really wrong, in the order to put it right.</summary>
    public ImmutableArray<Fault> Faults { get; init; } = [];

    /// <summary>Kinds of fault that are there and follow from no place that the trainee named.</summary>
    public ImmutableArray<FaultKind> Missed { get; init; } = [];

    /// <summary>Kinds of fault that follow from the answer and are not there.</summary>
    public ImmutableArray<FaultKind> Invented { get; init; } = [];

    /// <summary>The choices that are right; empty where the hook-up was asked for.</summary>
    public ImmutableArray<string> RightChoices { get; init; } = [];

    /// <summary>How many actions were taken.</summary>
    public required int Steps { get; init; }

    /// <summary>See <see cref="ConfidenceScore.Brier"/>.</summary>
    public required double Brier { get; init; }

    /// <summary>0 to 60: the share of leads and clamps that are right; all or nothing for a choice.</summary>
    public required double PlacePoints { get; init; }

    /// <summary>−120 to 40: 40 times <see cref="ConfidenceScore.Points"/>.</summary>
    public required double ConfidencePoints { get; init; }

    /// <summary>What the actions cost: 2 points each, 0 or less.</summary>
    public required double StepPoints { get; init; }

    /// <summary>The three together; at most 100.</summary>
    public double Points => PlacePoints + ConfidencePoints + StepPoints;
}
