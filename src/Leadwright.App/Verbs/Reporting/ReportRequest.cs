using System.Collections.Immutable;
using Leadwright.App.Verbs.Studying;
using Leadwright.Core.Hookups;
using Leadwright.Core.Mending;
using Leadwright.Documents.Layout;
using Leadwright.Documents.Reports;
using Leadwright.Reports.Hookups;

namespace Leadwright.App.Verbs.Reporting;

/// <summary>What the command line asks of <c>report</c>.</summary>
/// <param name="Study">How the recording is read and studied.</param>
/// <param name="Known">What is known of the site.</param>
/// <param name="Settings">How the report is made.</param>
internal sealed record ReportRequest(StudyRequest Study, CheckOptions Known, ReportSettings Settings)
{
    /// <summary>The files to write; their endings say the format.</summary>
    public ImmutableArray<string> Outputs { get; init; } = [];

    /// <summary>The paper of a PDF; null where none was named, and A4 then.</summary>
    public PaperSize? Paper { get; init; }

    /// <summary>Findings of the guard that a person does not accept.</summary>
    public ImmutableArray<WithdrawnFinding> Withdrawn { get; init; } = [];

    /// <summary>The folder that the figures are written to; null for none.</summary>
    public string? Figures { get; init; }

    /// <summary>Accuracy of recorder and clamps, percent of the energy; 0 when not stated.</summary>
    public double AccuracyPercent { get; init; }

    /// <summary>How the site's conductors are called.</summary>
    public ConductorNaming? Naming { get; init; }

    /// <summary>True to print JSON.</summary>
    public bool IsJson { get; init; }
}
