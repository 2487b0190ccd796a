using System.Collections.Immutable;

namespace Leadwright.Core.Hookups.Priors;

/// <summary>All that the check believes before it reads anything, in one place.</summary>
public sealed record CheckPriors
{
    /// <summary>The beliefs that the product ships with.</summary>
    public static CheckPriors Default { get; } = new();

    /// <summary>How often slips happen.</summary>
    public SlipRates Slips { get; init; } = new();

    /// <summary>What displacement to expect of each kind of load; one for every <see cref="LoadKind"/>.</summary>
    public ImmutableSortedDictionary<LoadKind, LoadPrior> Loads { get; init; } =
        Enum.GetValues<LoadKind>().ToImmutableSortedDictionary(kind => kind, kind => LoadPrior.For(kind, mayExport: false));

    /// <summary>What generation changes about that.</summary>
    public GenerationPrior Generation { get; init; } = new();

    /// <summary>What displacement to expect, its weights adding up to one.</summary>
    /// <param name="options">What is known of the site.</param>
    public LoadPrior Load(CheckOptions options)
    {
        ArgumentNullException.ThrowIfNull(options);
        var consuming = Loads[options.Load];
        return (options.MayExport ? Generation.On(consuming) : consuming).Normalised();
    }
}
