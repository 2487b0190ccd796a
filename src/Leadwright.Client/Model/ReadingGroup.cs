using System.Collections.Immutable;

namespace Leadwright.Client.Model;

/// <summary>Rows that belong together, such as the voltages.</summary>
/// <param name="Title">Its heading.</param>
/// <param name="Rows">The rows.</param>
public sealed record ReadingGroup(string Title, ImmutableArray<ReadingRow> Rows);
