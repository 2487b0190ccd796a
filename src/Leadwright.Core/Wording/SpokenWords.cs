using System.Collections.Immutable;

namespace Leadwright.Core.Wording;

/// <summary>Words for the sentences of <see cref="Say"/> in another language or wording.</summary>
/// <param name="Templates">Templates by their keys; a key that is missing is spoken in English.</param>
/// <param name="DecimalMark">The decimal mark of numbers.</param>
public sealed record SpokenWords(ImmutableSortedDictionary<string, string> Templates, string DecimalMark);
