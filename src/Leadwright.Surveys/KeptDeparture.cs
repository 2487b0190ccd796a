using System.Collections.Immutable;
using Leadwright.Surveys.Journal;

namespace Leadwright.Surveys;

/// <summary>The check before leaving the site, signed.</summary>
/// <param name="Entry">The journal's entry that brought it.</param>
/// <param name="At">When.</param>
/// <param name="Who">By whom.</param>
/// <param name="Items">What was gone through.</param>
/// <param name="Note">What else was said.</param>
public sealed record KeptDeparture(long Entry, DateTimeOffset At, string Who, ImmutableArray<DepartureItem> Items, string Note);
