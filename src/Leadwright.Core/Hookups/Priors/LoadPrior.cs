using System.Collections.Immutable;

namespace Leadwright.Core.Hookups.Priors;

/// <summary>What displacement a site may have, before anything is read: a mixture over kinds of site.</summary>
/// <param name="Components">The kinds of site.</param>
/// <param name="Anything">Share of sites with any displacement at all, the same on all phases.</param>
/// <param name="Independent">Share of sites whose phases have nothing to do with each other.</param>
/// <remarks>Common practice, no source. The person's answers (kind of load, generation) choose the mixture; it is never
/// one constant. Fat tails are there on purpose: confidence must fall where the load is not what it usually is.</remarks>
public sealed record LoadPrior(ImmutableArray<DisplacementComponent> Components, double Anything, double Independent)
{
    /// <summary>The mixture for what a person said of the load.</summary>
    public static LoadPrior For(LoadKind load, bool mayExport)
    {
        var consuming = Consuming(load);
        return mayExport ? new GenerationPrior().On(consuming) : consuming;
    }

    private static LoadPrior Consuming(LoadKind load) => load switch
    {
        LoadKind.Motors => new(
            [
                new(0.700, 30, 11, 0.65, 0.30),
                new(0.210, 55, 13, 0.65, 0.30),
                new(0.050, 8, 9, 0.50, 0.38),
                new(0.022, -30, 18, 0.55, 0.35),
                new(0.003, -70, 14, 0.55, 0.35),
                new(0.005, 178, 16, 0.50, 0.35),
            ], 0.006, 0.03),
        LoadKind.Lighting => new(
            [
                new(0.520, 3, 9, 0.45, 0.42),
                new(0.300, 20, 12, 0.45, 0.42),
                new(0.020, 50, 14, 0.45, 0.42),
                new(0.090, -20, 14, 0.45, 0.42),
                new(0.010, -60, 18, 0.45, 0.42),
                new(0.005, 178, 16, 0.50, 0.35),
            ], 0.008, 0.06),
        LoadKind.Drives => new(
            [
                new(0.620, 11, 10, 0.60, 0.32),
                new(0.230, 28, 14, 0.60, 0.32),
                new(0.030, 55, 14, 0.60, 0.32),
                new(0.060, -14, 12, 0.60, 0.32),
                new(0.015, -50, 20, 0.60, 0.32),
                new(0.005, 178, 16, 0.50, 0.35),
            ], 0.008, 0.04),
        LoadKind.Unknown => new(
            [
                new(0.400, 22, 14, 0.45, 0.38),
                new(0.110, -3, 11, 0.45, 0.38),
                new(0.100, 52, 15, 0.45, 0.38),
                new(0.190, -32, 18, 0.45, 0.38),
                new(0.030, -70, 16, 0.45, 0.38),
                new(0.030, 178, 18, 0.45, 0.38),
            ], 0.03, 0.10),
        _ => new(
            [
                new(0.700, 22, 12, 0.50, 0.38),
                new(0.090, -3, 9, 0.45, 0.40),
                new(0.080, 50, 14, 0.55, 0.35),
                new(0.045, -30, 17, 0.50, 0.36),
                new(0.006, -68, 15, 0.50, 0.36),
                new(0.005, 178, 16, 0.45, 0.38),
            ], 0.008, 0.06),
    };

    /// <summary>The same mixture with weights that add up to one.</summary>
    public LoadPrior Normalised()
    {
        var sum = Components.Sum(part => part.Weight) + Anything + Independent;
        return new LoadPrior(
            [.. Components.Select(part => part with { Weight = part.Weight / sum })], Anything / sum, Independent / sum);
    }
}
