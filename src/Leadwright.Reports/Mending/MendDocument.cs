using System.Collections.Immutable;
using Leadwright.Core.Integrity;
using Leadwright.Core.Mending;

namespace Leadwright.Reports.Mending;

/// <summary>The answer of a mending, ready to be written.</summary>
/// <param name="File">The file's name as given.</param>
/// <param name="Report">The answer.</param>
/// <param name="Notes">What a person must know of how the file was read.</param>
public sealed record MendDocument(string File, MendReport Report, ImmutableArray<string> Notes)
{
    /// <summary>The mended table that was written; null for none.</summary>
    public string? Table { get; init; }

    /// <summary>What the guard found, to name what a correction follows from; empty where it is not at hand.</summary>
    public ImmutableArray<GuardSpan> Spans { get; init; } = [];

    /// <summary>True when the accuracy of recorder and clamps was stated and is in the interval of the energy.</summary>
    public bool IsAccuracyStated { get; init; }

    /// <summary>What its corrections follow from, and the times of the events.</summary>
    internal CorrectionCauses Causes() => new(Spans, TimeSpan.FromSeconds(Report.Log.IntervalSeconds));
}
