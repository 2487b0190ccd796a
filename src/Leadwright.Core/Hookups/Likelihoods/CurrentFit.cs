namespace Leadwright.Core.Hookups.Likelihoods;

/// <summary>How well the currents fit one arrangement of leads and clamps, by kind of evidence.</summary>
/// <param name="Displacement">Angles against the voltages.</param>
/// <param name="Kirchhoff">Sums of currents, and clamps that would be on one conductor.</param>
/// <param name="Sizes">Sizes against each other, open clamps included.</param>
/// <remarks>Natural logarithms of densities per radian and per unit of the logarithm of each current read.</remarks>
internal readonly record struct CurrentFit(double Displacement, double Kirchhoff, double Sizes)
{
    /// <summary>Changes of voltages and currents when loads are switched.</summary>
    public double Steps { get; init; }

    /// <summary>Harmonics of the currents against the voltages and against each other.</summary>
    public double Harmonics { get; init; }

    public double Total => Displacement + Kirchhoff + Sizes + Steps + Harmonics;
}
