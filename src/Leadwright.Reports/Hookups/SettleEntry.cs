using System.Collections.Immutable;
using Leadwright.Core.Hookups.Settling;

namespace Leadwright.Reports.Hookups;

/// <summary>The question that would settle most of what is open, in words.</summary>
/// <param name="Settlement">The action with what may be found.</param>
/// <param name="Question">What to do and what to look for, without <see cref="SettleWording.Frame"/>.</param>
/// <param name="Choices">The possible answers.</param>
public sealed record SettleEntry(Settlement Settlement, string Question, ImmutableArray<SettleChoice> Choices);

/// <summary>One possible answer.</summary>
/// <param name="Told">What is told when it is chosen.</param>
/// <param name="Says">It in a few words.</param>
public sealed record SettleChoice(ToldAnswer Told, string Says);

/// <summary>An answer that was told, in words.</summary>
/// <param name="Weighed">The answer and what came of it.</param>
/// <param name="Says">What was told.</param>
public sealed record ToldEntry(WeighedTold Weighed, string Says);
