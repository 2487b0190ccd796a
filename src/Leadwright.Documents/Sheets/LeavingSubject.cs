using System.Collections.Immutable;
using Leadwright.Core.Planning;
using Leadwright.Documents.Reports;

namespace Leadwright.Documents.Sheets;

/// <summary>What the check before leaving is printed from.</summary>
public sealed record LeavingSubject
{
    /// <summary>The site and the panel; empty for none.</summary>
    public string Site { get; init; } = "";

    /// <summary>What is known of the panel and the plan, for the readings to be entered; null where the service or its voltages are not known.</summary>
    public PlanSheet? Plan { get; init; }

    /// <summary>What is to be gone through; once signed, whether it was in order and what was said to it. Empty for the usual lines of a panel.</summary>
    public ImmutableArray<(string Text, bool IsDone, string Said)> Items { get; init; } = [];

    /// <summary>What else was said.</summary>
    public string Note { get; init; } = "";

    /// <summary>Who signed it; empty when nobody has.</summary>
    public string Who { get; init; } = "";

    /// <summary>When it was signed, by that place's clock; null when it was not.</summary>
    public DateTimeOffset? At { get; init; }

    /// <summary>The checks of the hook-up that are kept with the survey, oldest first.</summary>
    public ImmutableArray<PanelProof> Proofs { get; init; } = [];

    /// <summary>True when it belongs to a survey that keeps its checks.</summary>
    public bool IsOfSurvey { get; init; }
}
