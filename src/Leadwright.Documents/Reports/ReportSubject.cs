using System.Collections.Immutable;
using Leadwright.Core.Integrity;
using Leadwright.Core.Mending;
using Leadwright.Core.Studies;
using Leadwright.Reports.Hookups;
using Leadwright.Reports.Studies;

namespace Leadwright.Documents.Reports;

/// <summary>All that a report is made from: what was read, how it was judged, what was mended and what the study gave. A file and a survey fill it alike.</summary>
public sealed record ReportSubject
{
    /// <summary>The files that the values came from, unchanged.</summary>
    public required ImmutableArray<SourceFile> Files { get; init; }

    /// <summary>The values as the recorder wrote them (or as measured from its samples).</summary>
    public required StudyData Recorded { get; init; }

    /// <summary>The study, of the mended values where something was mended.</summary>
    public required StudyDocument Study { get; init; }

    /// <summary>The guard's answer; null when none could be had.</summary>
    public GuardReport? Guard { get; init; }

    /// <summary>The mending's answer; null when there was nothing to work on.</summary>
    public MendReport? Mend { get; init; }

    /// <summary>The check of the hook-up; null when the values do not allow one.</summary>
    public CheckDocument? Check { get; init; }

    /// <summary>The stretch that the check was made of.</summary>
    public (DateTime From, DateTime To) CheckSpan { get; init; }

    /// <summary>Checks that were made and kept at the panel, oldest first.</summary>
    public ImmutableArray<PanelProof> Proofs { get; init; } = [];

    /// <summary>How the site's conductors are called.</summary>
    public ConductorNaming Naming { get; init; } = ConductorNaming.Letters;

    /// <summary>Which column or channel of the files was taken for which.</summary>
    public ImmutableArray<MatchedChannel> Channels { get; init; } = [];

    /// <summary>What a person must know about how the files were read.</summary>
    public ImmutableArray<string> Notes { get; init; } = [];

    /// <summary>True when the values were measured here from samples; false when the recorder worked them out itself.</summary>
    public bool IsSampled { get; init; }

    /// <summary>True when the service was stated or found by the check; false when the figures only assume one.</summary>
    public bool IsServiceKnown { get; init; } = true;

    /// <summary>Accuracy of recorder and clamps as stated, percent of the energy; 0 when not stated.</summary>
    public double AccuracyPercent { get; init; }
}

/// <summary>A check of the hook-up that was kept at the panel.</summary>
/// <param name="At">When, by that computer's clock.</param>
/// <param name="Who">By whom.</param>
/// <param name="Verdict"><c>correct</c>, <c>faulty</c> or <c>undecided</c>.</param>
/// <param name="Confidence">The probability of the reported hook-up; NaN when not known.</param>
/// <param name="Faults">What was wrong, or what was to be done, one sentence each.</param>
public sealed record PanelProof(DateTimeOffset At, string Who, string Verdict, double Confidence, ImmutableArray<string> Faults);

/// <summary>A file that values came from.</summary>
/// <param name="Name">Its name without folders.</param>
/// <param name="Length">Bytes.</param>
/// <param name="Sha256">Its SHA-256 digest (FIPS 180-4), lower-case hexadecimal.</param>
public sealed record SourceFile(string Name, long Length, string Sha256);
