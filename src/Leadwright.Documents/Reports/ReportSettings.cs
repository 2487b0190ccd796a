using System.Collections.Immutable;
using Leadwright.Documents.Model;
using Leadwright.Documents.Words;

namespace Leadwright.Documents.Reports;

/// <summary>How a report is made.</summary>
public sealed record ReportSettings
{
    /// <summary>The words.</summary>
    public ReportWords Words { get; init; } = ReportWords.English;

    /// <summary>Whose paper it is on, and for whom.</summary>
    public Letterhead Letterhead { get; init; } = Letterhead.None;

    /// <summary>The parts that are wanted, by name; empty for all.</summary>
    public ImmutableArray<string> Parts { get; init; } = [];

    /// <summary>The date of the report; null to go by the end of the data.</summary>
    public DateOnly? Date { get; init; }

    /// <summary>The program with its version.</summary>
    public required string Program { get; init; }
}
