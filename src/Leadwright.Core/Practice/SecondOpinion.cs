using Leadwright.Core.Hookups;

namespace Leadwright.Core.Practice;

/// <summary>What the check of hook-ups makes of what a trainee had to go by.</summary>
/// <param name="Verdict">Its verdict, with the evidence.</param>
/// <param name="NamesTruth">True when the answer that it finds likeliest is the truth, or one that reads the same.</param>
/// <param name="CouldBeKnown">True when it names the truth with <see cref="HookupCheck.NamedFrom"/> or more; else these readings do not
/// carry the answer, and nobody could know.</param>
public sealed record SecondOpinion(HookupVerdict Verdict, bool NamesTruth, bool CouldBeKnown);
