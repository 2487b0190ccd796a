namespace Leadwright.Core.Studies.Load;

/// <summary>Power factor over time, and the capacitor that would raise it.</summary>
/// <param name="EnergyFactor">Σ|P| / √(Σ|P|² + Σ|Q|²) of the energies: what a meter of kWh and kvarh gives.</param>
/// <param name="ActiveWattHours">Active energy, Wh.</param>
/// <param name="LaggingVarHours">Reactive energy while the load lags, varh.</param>
/// <param name="LeadingVarHours">Reactive energy while it leads, varh.</param>
/// <param name="LowestFactor">Lowest factor of an interval with a tenth of the highest power at least.</param>
/// <param name="LowestAt">Its time.</param>
/// <param name="BelowShare">Share of the known time with a lagging factor below the target.</param>
/// <param name="TargetFactor">The target.</param>
/// <param name="AverageVars">Capacitor that brings the factor of the lagging energies to the target, var; 0 when it is there.</param>
/// <param name="PeakVars">Capacitor that brings the interval of highest power to the target, var.</param>
/// <param name="HighestVars">Capacitor that brings every interval to the target, var.</param>
/// <param name="LeadingShare">Share of the time that would lead with <see cref="AverageVars"/> switched on all the time.</param>
public sealed record PowerFactorStudy(
    double EnergyFactor, double ActiveWattHours, double LaggingVarHours, double LeadingVarHours, double LowestFactor, DateTime LowestAt, double BelowShare,
    double TargetFactor, double AverageVars, double PeakVars, double HighestVars, double LeadingShare)
{
    /// <summary>Share of the intervals with known active power whose reactive power is known as well: what all of this rests on.</summary>
    public double KnownShare { get; init; } = 1;

    /// <summary>Share of the highest load from which an interval counts for <see cref="LowestFactor"/>: a factor of next to nothing says nothing (our choice).</summary>
    public const double LeastLoad = 0.1;

    /// <summary>Works it out.</summary>
    /// <param name="active">Mean active power, W.</param>
    /// <param name="reactive">Mean reactive power, var, positive when lagging; same intervals.</param>
    /// <param name="target">Wanted power factor, above 0 and up to 1.</param>
    /// <returns>Null when no interval has both.</returns>
    /// <remarks>Qc = P (tan φ1 − tan φ2), a textbook formula: with cos φ2 the target. Fundamental quantities are meant; a capacitor does nothing for distortion.</remarks>
    public static PowerFactorStudy? Of(StudySeries active, StudySeries reactive, double target)
    {
        ArgumentNullException.ThrowIfNull(active);
        ArgumentNullException.ThrowIfNull(reactive);
        if (target is not (> 0 and <= 1)) throw new ArgumentOutOfRangeException(nameof(target), target, "A power factor above 0 and up to 1 is needed.");
        var rows = Enumerable.Range(0, active.Count).Where(row => active.IsKnown(row) && reactive.IsKnown(row)).ToArray();
        if (rows.Length == 0) return null;
        var hours = active.IntervalSeconds / 3600;
        var tangent = Math.Sqrt((1 / (target * target)) - 1);
        var highest = rows.Max(row => Math.Abs(active.Values[row]));
        var (energy, lagging, leading, below) = (0.0, 0.0, 0.0, 0);
        var (lowest, lowestAt, peakVars, highestVars, peak) = (double.NaN, default(DateTime), 0.0, 0.0, double.NegativeInfinity);
        var (laggingActive, laggingReactive) = (0.0, 0.0);
        foreach (var row in rows)
        {
            var (watts, vars) = (Math.Abs(active.Values[row]), reactive.Values[row]);
            energy += watts * hours;
            if (vars > 0) lagging += vars * hours;
            else leading -= vars * hours;
            if (vars > 0)
            {
                laggingActive += watts * hours;
                laggingReactive += vars * hours;
            }

            var factor = watts / Math.Sqrt((watts * watts) + (vars * vars));
            if (vars > 0 && factor < target) below++;
            if (watts >= LeastLoad * highest && !(factor >= lowest)) (lowest, lowestAt) = (factor, active.StartOf(row));
            var needed = Math.Max(vars - (watts * tangent), 0);
            highestVars = Math.Max(highestVars, needed);
            if (watts > peak) (peak, peakVars) = (watts, needed);
        }

        var laggingHours = rows.Count(row => reactive.Values[row] > 0) * hours;
        var average = laggingHours > 0 ? Math.Max(laggingReactive - (laggingActive * tangent), 0) / laggingHours : 0;
        var net = lagging - leading;
        return new PowerFactorStudy(
            energy / Math.Sqrt((energy * energy) + (net * net)), energy, lagging, leading, lowest, lowestAt, (double)below / rows.Length, target,
            average, peakVars, highestVars, average > 0 ? (double)rows.Count(row => reactive.Values[row] < average) / rows.Length : 0)
        {
            KnownShare = (double)rows.Length / Enumerable.Range(0, active.Count).Count(active.IsKnown),
        };
    }
}
