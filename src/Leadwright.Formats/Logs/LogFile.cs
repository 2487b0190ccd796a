using System.Collections.Immutable;
using Leadwright.Core.Logs;
using Leadwright.Formats.Matching;

namespace Leadwright.Formats.Logs;

/// <summary>A log of intervals that was read, and what was understood of it.</summary>
/// <param name="Log">The values.</param>
/// <param name="Columns">What each column of the table was taken for, in the order of the table.</param>
/// <param name="Clock">What was noticed of the clock, by the stamps in the order of the file.</param>
/// <param name="Warnings">What was met, assumed or left out: whole sentences. Nothing is left out in silence.</param>
public sealed record LogFile(
    IntervalLog Log, ImmutableArray<ColumnProposal> Columns, ImmutableArray<ClockFinding> Clock, ImmutableArray<ReadWarning> Warnings)
{
    /// <summary>The separator of a table of text; null for other tables.</summary>
    public char? Separator { get; init; }

    /// <summary>The decimal mark that was read by.</summary>
    public char DecimalMark { get; init; } = '.';

    /// <summary>The order of dates that was read by; null when the dates left no choice.</summary>
    public DateOrder? DateOrder { get; init; }

    /// <summary>Which end of its interval each row is stamped with in the file.</summary>
    public StampPlace Stamps { get; init; }

    /// <summary>Standings of values, by the index of their column in the log; where the table has them.</summary>
    public ImmutableDictionary<int, ReadOnlyMemory<Standing>> Standings { get; init; } = ImmutableDictionary<int, ReadOnlyMemory<Standing>>.Empty;

    /// <summary>True when it was read as a person confirmed for tables with its headings.</summary>
    public bool IsConfirmed { get; init; }

    /// <summary>The first cells of each column that hold something, as written, in the order of <see cref="Columns"/>: what a person looks at to say what a column holds.</summary>
    public ImmutableArray<ImmutableArray<string>> FirstCells { get; init; } = [];

    /// <summary>What only a person can know: whole sentences that end in a question.</summary>
    public ImmutableArray<string> Questions { get; init; } = [];
}
