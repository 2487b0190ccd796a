using Leadwright.Core.Hookups;

namespace Leadwright.Reports.Hookups;

/// <summary>A fault, in words.</summary>
/// <param name="Fault">The fault.</param>
/// <param name="Says">What is wrong, in a sentence.</param>
/// <param name="Remedy">What puts it right, in one text.</param>
public sealed record FaultEntry(Fault Fault, string Says, string Remedy);
