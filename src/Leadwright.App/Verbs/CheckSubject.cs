using System.Collections.Immutable;
using Leadwright.Core.Hookups;
using Leadwright.Core.Hookups.Settling;
using Leadwright.Reports.Hookups;

namespace Leadwright.App.Verbs;

/// <summary>What one input of a check holds.</summary>
/// <param name="Readings">The readings.</param>
/// <param name="Channels">Which channel of the file was taken for which; empty when the file names them itself.</param>
/// <param name="Notes">What a person must know about how the file was read.</param>
public sealed record CheckSubject(PanelReadings Readings, ImmutableArray<MatchedChannel> Channels, ImmutableArray<string> Notes)
{
    /// <summary>What the file says was found at the panel. Default none.</summary>
    public ImmutableArray<ToldAnswer> Told { get; init; } = [];
}
