using Leadwright.Core.Hookups;

namespace Leadwright.Reports.Hookups;

/// <summary>A piece of evidence, in words.</summary>
/// <param name="Evidence">The evidence.</param>
/// <param name="Says">What it shows and how much it weighs.</param>
public sealed record EvidenceEntry(Evidence Evidence, string Says);
