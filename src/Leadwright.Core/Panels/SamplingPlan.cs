namespace Leadwright.Core.Panels;

/// <summary>Rate and length of a recording.</summary>
/// <param name="RateHertz">Samples per second; above zero.</param>
/// <param name="DurationSeconds">Length; above zero. The number of samples is rate × length, rounded.</param>
public readonly record struct SamplingPlan(double RateHertz, double DurationSeconds)
{
    /// <summary>Number of samples.</summary>
    public int SampleCount => (int)Math.Round(RateHertz * DurationSeconds);
}
