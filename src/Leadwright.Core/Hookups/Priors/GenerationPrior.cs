using System.Collections.Immutable;

namespace Leadwright.Core.Hookups.Priors;

/// <summary>What generation that may send power back does to the displacement to expect.</summary>
/// <remarks>Common practice, no source. See <see cref="LoadPrior"/>.</remarks>
public sealed record GenerationPrior
{
    /// <summary>Share of visits at which the site's own load mixture no longer holds. From 0 to 1.</summary>
    public double Share { get; init; } = 0.42;

    /// <summary>What stands beside what is left of the site's mixture; weights as they are, before all are brought to one.</summary>
    public ImmutableArray<DisplacementComponent> Components { get; init; } =
    [
        new(0.17, 178, 12, 0.45, 0.36),
        new(0.06, 150, 20, 0.40, 0.36),
        new(0.03, -150, 20, 0.40, 0.36),
        new(0.03, 105, 22, 0.30, 0.40),
    ];

    /// <summary>Weight of any displacement at all, the same on all phases.</summary>
    public double Anything { get; init; } = 0.05;

    /// <summary>Weight of phases that have nothing to do with each other.</summary>
    public double Independent { get; init; } = 0.28;

    /// <summary>The mixture of a site with generation.</summary>
    /// <param name="consuming">Its mixture without.</param>
    public LoadPrior On(LoadPrior consuming)
    {
        ArgumentNullException.ThrowIfNull(consuming);
        var kept = consuming.Components.Select(part => part with { Weight = part.Weight * (1 - Share) });
        return new LoadPrior([.. kept, .. Components], Anything, Independent).Normalised();
    }
}
