using System.Collections.Immutable;

namespace Leadwright.Core.Hookups.Settling;

/// <summary>One possible finding of an action.</summary>
/// <param name="Answer">The answer, as in <see cref="ToldAnswer.Answer"/>.</param>
/// <param name="Probability">How likely it is that the person will find this.</param>
/// <param name="IfReported">How likely it is when the reported answer is true.</param>
/// <param name="IfRival">How likely it is when the rival is true; for the question to all rivals: when the reported answer is not
/// true.</param>
public sealed record SettlingOutcome(string Answer, double Probability, double IfReported, double IfRival);

/// <summary>The action that settles most of what is open.</summary>
/// <param name="Action">What to do.</param>
/// <param name="Outcomes">What may be found, likeliest first; empty for <see cref="SettlingKind.ReadAgain"/>.</param>
/// <param name="ExpectedGainBits">By how many bits its answer is expected to narrow down where leads and clamps are (Shannon,
/// Bell Syst. Tech. J. 27 (1948) 379: the mutual information); 0 or more.</param>
public sealed record Settlement(SettlingAction Action, ImmutableArray<SettlingOutcome> Outcomes, double ExpectedGainBits);

/// <summary>What came of an answer that was told.</summary>
public enum ToldStanding
{
    /// <summary>It agrees with the reported hook-up.</summary>
    Agrees,

    /// <summary>It speaks against the reported hook-up: the readings, or other answers, weigh more.</summary>
    Contradicts,

    /// <summary>It concerns a lead, clamp or conductor that is not there, and was not used.</summary>
    NotUsed,
}

/// <summary>An answer that was told, and what came of it.</summary>
/// <param name="Told">The answer.</param>
/// <param name="Standing">What came of it.</param>
public sealed record WeighedTold(ToldAnswer Told, ToldStanding Standing);
