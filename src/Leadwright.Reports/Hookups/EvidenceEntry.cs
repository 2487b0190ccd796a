using Leadwright.Core.Hookups;

namespace Leadwright.Reports.Hookups;

/// <summary>A piece of evidence, in words.</summary>
/// <param name="Evidence">The evidence.</param>
/// <param name="Title">What this kind of evidence is called.</param>
/// <param name="Says">What it shows and how much it weighs.</param>
public sealed record EvidenceEntry(Evidence Evidence, string Title, string Says)
{
    /// <summary>True when it speaks for the reported hook-up.</summary>
    public bool IsFor => Evidence.LogOdds > 0;
}
