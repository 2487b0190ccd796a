using Leadwright.Core.Hookups;

namespace Leadwright.App.Verbs;

/// <summary>What the command line says about how to read the inputs of a check.</summary>
public sealed record CheckRequest : RecordingRequest
{
    /// <summary>Nothing said.</summary>
    public CheckRequest()
    {
    }

    /// <summary>What is said of the recording.</summary>
    /// <param name="recording">It.</param>
    public CheckRequest(RecordingRequest recording)
        : base(recording)
    {
    }

    /// <summary>Sign of angles for readings that don't state it.</summary>
    public AngleSign AngleSign { get; init; }

    /// <summary>Most rows of a log that are judged: of a longer log of text the beginning is. Default four million, which are in the memory of a small computer.</summary>
    public int MostLogRows { get; init; } = 4_000_000;
}
