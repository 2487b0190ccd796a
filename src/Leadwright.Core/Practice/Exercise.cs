using System.Collections.Immutable;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Hookups.Settling;
using Leadwright.Core.Practice.Forms;

namespace Leadwright.Core.Practice;

/// <summary>An exercise: what the trainee sees, what is asked, what may be done. The truth comes out with the mark alone.</summary>
public sealed record Exercise
{
    /// <summary>What it was made from.</summary>
    public required ExerciseKey Key { get; init; }

    /// <summary>The service.</summary>
    public required ServiceKind Service { get; init; }

    /// <summary>The nominal voltages.</summary>
    public required NominalVoltage Nominal { get; init; }

    /// <summary>What the instrument shows; null where the form shows something else.</summary>
    public PanelReadings? Readings { get; init; }

    /// <summary>What is told of the site.</summary>
    public CheckOptions Known { get; init; } = new();

    /// <summary>Half-cycle values around a moment; null where the form shows something else.</summary>
    public HalfCycleStrip? Strip { get; init; }

    /// <summary>What was recorded and what is wanted of it; null where the form shows something else.</summary>
    public RecordedCase? Recorded { get; init; }

    /// <summary>Figures that are told.</summary>
    public ImmutableArray<ExerciseFigure> Figures { get; init; } = [];

    /// <summary>The hook-ups between which the question is; empty where there are none.</summary>
    public ImmutableArray<Hookup> Candidates { get; init; } = [];

    /// <summary>The words of the answers to choose from; empty where the whole hook-up is asked for.</summary>
    public ImmutableArray<string> Choices { get; init; } = [];

    /// <summary>What may be done before answering; each costs a step.</summary>
    public ImmutableArray<SettlingAction> Actions { get; init; } = [];

    /// <summary>True when the answer is where every lead and clamp is; false when it is one of <see cref="Choices"/>.</summary>
    public bool AsksForHookup => Choices.IsEmpty;

    /// <summary>The hook-up that the trade expects of the leads and clamps that are asked about.</summary>
    public Hookup Expected => Site is null
        ? Hookup.Expected([], [])
        : Hookup.Expected(Site.Hookup.Leads.Keys, Site.Hookup.Clamps.Keys);

    /// <summary>Where everything really is; null in a form without leads and clamps of its own.</summary>
    internal Hookup? Truth => Site?.Hookup;

    /// <summary>The choices that are right.</summary>
    internal ImmutableArray<string> RightChoices { get; init; } = [];

    /// <summary>The panel; null in a form that has none to act on.</summary>
    internal PracticeSite? Site { get; init; }

    /// <summary>Makes an exercise.</summary>
    /// <param name="key">What to make it from.</param>
    /// <exception cref="ArgumentException">The level is not from 1 to 3, or the service or kind of site can't be chosen for the form.</exception>
    public static Exercise Of(ExerciseKey key)
    {
        ArgumentNullException.ThrowIfNull(key);
        if (key.Level is < ExerciseKey.LowestLevel or > ExerciseKey.HighestLevel)
            throw new ArgumentException($"The level is 1, 2 or 3; found {key.Level}.", nameof(key));
        if (!key.TakesSite && (key.Service is not null || key.Load is not null))
            throw new ArgumentException($"The form {ExerciseKey.WordOf(key.Form)} has a service and a load of its own.", nameof(key));
        return PracticeForms.Of(key.Form).Make(key);
    }

    /// <summary>Does one of <see cref="Actions"/> and says what is found. The same action finds the same each time.</summary>
    /// <param name="action">What to do.</param>
    /// <exception cref="ArgumentException">The action is not among <see cref="Actions"/>.</exception>
    public TakenReading Take(SettlingAction action)
    {
        ArgumentNullException.ThrowIfNull(action);
        if (!Actions.Contains(action) || Site is null)
            throw new ArgumentException($"'{action.Id}' can't be done in this exercise.", nameof(action));
        return Site.Take(action);
    }
}
