using Leadwright.Core.Hookups;

namespace Leadwright.App.Verbs.Guarding;

/// <summary>What the command line says to a guard.</summary>
/// <param name="Recording">How to read the file.</param>
/// <param name="Known">What is known of the site.</param>
internal sealed record GuardRequest(RecordingRequest Recording, CheckOptions Known)
{
    /// <summary>True to go on watching a growing file or a folder.</summary>
    public bool Follows { get; init; }

    /// <summary>Seconds between two looks.</summary>
    public double EverySeconds { get; init; } = 1;

    /// <summary>Ends the watch when nothing came for so many seconds; null to watch until stopped.</summary>
    public double? IdleSeconds { get; init; }

    /// <summary>True to end the watch at the first alarm.</summary>
    public bool EndsAtAlarm { get; init; }

    /// <summary>Address that every alarm is posted to; null for none.</summary>
    public Uri? Hook { get; init; }

    /// <summary>Most rows of a log that are guarded as they stand: a longer log of text is read piece by piece and its rows are joined. Default four million, which
    /// two cores judge within some minutes.</summary>
    public int MostLogRows { get; init; } = 4_000_000;

    /// <summary>True to print JSON.</summary>
    public bool IsJson { get; init; }
}
