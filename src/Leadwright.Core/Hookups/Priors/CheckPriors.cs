namespace Leadwright.Core.Hookups.Priors;

/// <summary>All that the check believes before it reads anything, in one place.</summary>
public sealed record CheckPriors
{
    /// <summary>The beliefs that the product ships with.</summary>
    public static CheckPriors Default { get; } = new();

    /// <summary>How often slips happen.</summary>
    public SlipRates Slips { get; init; } = new();

    /// <summary>What displacement to expect; by default <see cref="LoadPrior.For"/>.</summary>
    public Func<CheckOptions, LoadPrior> Load { get; init; } =
        options => LoadPrior.For(options.Load, options.MayExport).Normalised();
}
