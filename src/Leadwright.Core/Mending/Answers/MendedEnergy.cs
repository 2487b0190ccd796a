namespace Leadwright.Core.Mending.Answers;

/// <summary>Energy of the whole span, gaps included.</summary>
/// <param name="RecordedWattHours">What the recorder's values sum to, as they stand; gaps count as nothing.</param>
/// <param name="MendedWattHours">The estimate of the true energy.</param>
/// <param name="LowWattHours">Lower end of the interval.</param>
/// <param name="HighWattHours">Upper end of the interval.</param>
/// <param name="Coverage">Probability with which the interval covers the true energy.</param>
public sealed record MendedEnergy(double RecordedWattHours, double MendedWattHours, double LowWattHours, double HighWattHours, double Coverage);
