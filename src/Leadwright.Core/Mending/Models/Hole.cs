namespace Leadwright.Core.Mending.Models;

/// <summary>What is missing in a slot, of each element: the same in all slots of a hole.</summary>
/// <param name="First">State of the power of element 1; measured where the recorder has none.</param>
/// <param name="Second">Of element 2.</param>
/// <param name="Third">Of element 3.</param>
/// <param name="VoltsUnknown">The lines whose voltage was not measured, a bit each, where the power is to be had from the current; where only the total was written, the clamps whose
/// current is not a line's own; else 0.</param>
internal readonly record struct HoleKey(Maps.PowerState First, Maps.PowerState Second, Maps.PowerState Third, byte VoltsUnknown)
{
    public Maps.PowerState this[int line] => line switch { 0 => First, 1 => Second, _ => Third };

    public bool AreVoltsKnown(int line) => (VoltsUnknown & (1 << line)) == 0;

    public bool IsMissing(int line) => this[line] is Maps.PowerState.NeedsFactor or Maps.PowerState.NeedsShare or Maps.PowerState.AtLeast;
}

/// <summary>What was put into a hole, and how well such holes are filled.</summary>
/// <param name="Key">What was missing.</param>
/// <param name="Slots">The slots.</param>
/// <param name="WattHours">Energy put in.</param>
/// <param name="Uncertainty">Standard uncertainty of it, watt-hours.</param>
/// <param name="Freedom">Degrees of freedom of that uncertainty.</param>
/// <param name="Trials">How many times the hole was made elsewhere and predicted; 0 where it was not, since there is no room for it, nothing to learn from, or what is missing lies beyond a range.</param>
/// <param name="IsLearnt">True when what was put in was learnt from the good part.</param>
internal sealed record FilledHole(HoleKey Key, int[] Slots, double WattHours, double Uncertainty, double Freedom, int Trials, bool IsLearnt)
{
    /// <summary>What lies beyond a range is from hardly anything to four times what is put in, nineteen times in twenty: σ of the logarithm of what is more; by weeks of several makers, not a law.</summary>
    public const double BeyondSpread = 0.7;

    /// <summary>The part of the energy that lies beyond what clamps at the end of their range showed: never seen, and known by its order only.</summary>
    public double Beyond { get; init; }

    /// <summary>Standard deviation of what was put into a part of the hole about what there was, watt-hours: errors of the filling each for itself, what lies beyond a range all together.</summary>
    /// <param name="part">The part's share of the slots.</param>
    public double Deviation(double part) => Math.Sqrt((part * Uncertainty * Uncertainty) + Math.Pow(part * s_ofBeyond * Beyond, 2));

    /// <summary>Root mean square of what was put in beyond a range about what there was, over itself, by the law of <see cref="Answers.EnergyMixture.AddFactor"/>: of a factor f with the means
    /// 1/4 + e^(σ²/2) Φ(σ) and, of its square, 1/6 + e^(2σ²) Φ(2σ).</summary>
    private static readonly double s_ofBeyond = Math.Sqrt(
        (1.0 / 6) + (Math.Exp(2 * BeyondSpread * BeyondSpread) * Answers.EnergyMixture.Normal(2 * BeyondSpread))
        - (2 * (0.25 + (Math.Exp(BeyondSpread * BeyondSpread / 2) * Answers.EnergyMixture.Normal(BeyondSpread)))) + 1);
}
