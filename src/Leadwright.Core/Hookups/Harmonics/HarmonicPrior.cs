namespace Leadwright.Core.Hookups.Harmonics;

/// <summary>What a kind of load makes of one harmonic.</summary>
/// <param name="Order">The order.</param>
/// <param name="MeanDegrees">Angle of the harmonic from the crest of its line's voltage, mean over sites (order × voltage angle
/// taken off); NaN when any is as likely as any other.</param>
/// <param name="SiteSpreadDegrees">Spread of that mean from site to site.</param>
/// <param name="PhaseSpreadDegrees">Spread between the phases of one site.</param>
/// <param name="Weight">How far it counts: orders of one load are not independent witnesses. 0 to 1.</param>
internal readonly record struct HarmonicPattern(
    int Order, double MeanDegrees, double SiteSpreadDegrees, double PhaseSpreadDegrees, double Weight);

/// <summary>Kinds of non-linear site, with what their harmonics look like.</summary>
/// <remarks>
/// <para>Single-phase rectifiers draw a pulse at the crest of their voltage: all low orders crest with it (the Fourier series
/// of a pulse train). A six-pulse bridge draws its 5th against the crest and its displacement turns that fivefold (Fourier
/// series of the 120-degree block: N. Mohan, T. Undeland, W. Robbins, "Power Electronics", Wiley, chapter 6, from memory). Of
/// everything else nothing is taken but that the phases of one site are often alike.</para>
/// <para>Shares and spreads: common practice, no source. Derivation: docs/methods/harmonics.md.</para>
/// </remarks>
internal static class HarmonicPrior
{
    private static readonly HarmonicPattern[] s_rectifiers =
        [new(3, 10, 22, 20, 0.8), new(5, 15, 40, 30, 0.4), new(7, 25, 60, 40, 0.2), new(11, double.NaN, 0, 40, 0.1), new(13, double.NaN, 0, 40, 0.1)];

    private static readonly HarmonicPattern[] s_sixPulse =
        [new(3, double.NaN, 0, 40, 0.1), new(5, 130, 45, 15, 0.6), new(7, double.NaN, 0, 20, 0.3), new(11, double.NaN, 0, 30, 0.2), new(13, double.NaN, 0, 35, 0.2)];

    private static readonly HarmonicPattern[] s_alike =
        [new(3, double.NaN, 0, 30, 0.4), new(5, double.NaN, 0, 30, 0.4), new(7, double.NaN, 0, 35, 0.2), new(11, double.NaN, 0, 40, 0.1), new(13, double.NaN, 0, 40, 0.1)];

    /// <summary>The orders looked at.</summary>
    public static ReadOnlySpan<int> Orders => [3, 5, 7, 11, 13];

    /// <summary>Kinds of site with their shares; what is left to one are sites whose harmonics follow no rule.</summary>
    public static (double Share, HarmonicPattern[] Patterns)[] Kinds(LoadKind load, bool isThreeWire)
    {
        var (rectifiers, sixPulse, alike) = load switch
        {
            LoadKind.Motors => (0.20, 0.12, 0.15),
            LoadKind.Lighting => (0.45, 0.02, 0.13),
            LoadKind.Drives => (0.20, 0.45, 0.15),
            LoadKind.Unknown => (0.15, 0.08, 0.10),
            _ => (0.40, 0.06, 0.12),
        };
        // Between lines a rectifier's pulse crests with another voltage than the line's own.
        if (isThreeWire) (rectifiers, alike) = (0.02, alike + 0.1);
        return [(rectifiers, s_rectifiers), (sixPulse, s_sixPulse), (alike, s_alike)];
    }
}
