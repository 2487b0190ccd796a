using Leadwright.Core.Hookups;

namespace Leadwright.Reports.Hookups;

/// <summary>A rival of the reported hook-up, in words.</summary>
/// <param name="Answer">The rival.</param>
/// <param name="Says">What would be wrong if it were true, in a sentence.</param>
/// <param name="Settle">The action that tells it from the report, without the frame about who does it.</param>
public sealed record RivalEntry(Answer Answer, string Says, string Settle);
