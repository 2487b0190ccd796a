namespace Leadwright.Core.Hookups.Priors;

/// <summary>One kind of site in the mixture over displacements.</summary>
/// <param name="Weight">Its share; above zero. A mixture's weights add up to one.</param>
/// <param name="MeanDegrees">Mean displacement of the site, positive when current lags.</param>
/// <param name="DeviationDegrees">Standard deviation of that mean from site to site.</param>
/// <param name="Alike">Share of such sites whose phases are nearly alike (within about 6 degrees and 15 %).</param>
/// <param name="Uneven">Share whose phases differ in the usual way (about 14 degrees and 45 %). The rest differ strongly
/// (about 30 degrees and a factor of three).</param>
public readonly record struct DisplacementComponent(
    double Weight, double MeanDegrees, double DeviationDegrees, double Alike, double Uneven);
