using System.Collections.Immutable;
using Leadwright.Core.Logs;

namespace Leadwright.Surveys.Tables;

/// <summary>How a table is written.</summary>
public sealed record TableWriteOptions
{
    /// <summary>Which table it is. Default: the log.</summary>
    public TableName Table { get; init; } = new(TableName.Log);

    /// <summary>Standings of values, by the index of their column in the log. A column without is measured throughout. Default: none.</summary>
    public IReadOnlyDictionary<int, ReadOnlyMemory<Standing>> Standings { get; init; } = ImmutableDictionary<int, ReadOnlyMemory<Standing>>.Empty;

    /// <summary>Kept with the table: what made it, and from what. Default: nothing.</summary>
    public IReadOnlyDictionary<string, string> Metadata { get; init; } = ImmutableDictionary<string, string>.Empty;

    /// <summary>Is told the share that is done, 0 to 1. Default: nobody.</summary>
    public IProgress<double>? Progress { get; init; }
}
