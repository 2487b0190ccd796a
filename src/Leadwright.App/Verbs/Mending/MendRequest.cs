using System.Collections.Immutable;
using Leadwright.Core.Hookups;
using Leadwright.Core.Mending;

namespace Leadwright.App.Verbs.Mending;

/// <summary>What the command line says to a mending.</summary>
/// <param name="Recording">How to read the file.</param>
/// <param name="Known">What is known of the site.</param>
internal sealed record MendRequest(RecordingRequest Recording, CheckOptions Known)
{
    /// <summary>The mended table to write; null for none.</summary>
    public string? Output { get; init; }

    /// <summary>Findings that a person does not accept: corrections that are switched off in the survey.</summary>
    public ImmutableArray<WithdrawnFinding> Withdrawn { get; init; } = [];

    /// <summary>Accuracy of recorder and clamps, percent; 0 when not stated.</summary>
    public double AccuracyPercent { get; init; }

    /// <summary>Length of a demand interval, minutes.</summary>
    public double DemandMinutes { get; init; } = 15;

    /// <summary>True to print JSON.</summary>
    public bool IsJson { get; init; }
}
