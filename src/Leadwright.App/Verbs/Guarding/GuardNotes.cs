using System.Collections.Immutable;

namespace Leadwright.App.Verbs.Guarding;

/// <summary>What a person must know beside the answer of a guard.</summary>
/// <param name="OfSite">Of what was stated of the site, against what the recording shows: the answer is to be read with it.</param>
/// <param name="OfReading">Of how the file was read.</param>
internal sealed record GuardNotes(ImmutableArray<string> OfSite, ImmutableArray<string> OfReading)
{
    /// <summary>All of them.</summary>
    public ImmutableArray<string> All => [.. OfSite, .. OfReading];
}
