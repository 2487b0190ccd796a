namespace Leadwright.Core.Studies.Load;

/// <summary>Where a capacitor and the supply's reactance would resonate.</summary>
/// <param name="Order">Harmonic order of the parallel resonance.</param>
/// <param name="NearestOrder">The nearest order that three-phase rectifiers make: 5, 7, 11 or 13.</param>
/// <param name="IsNear">True within a tenth of it (common practice, no source).</param>
/// <remarks>h = √(Ssc / Qc): a textbook formula for a supply that is all reactance, light load.</remarks>
public sealed record CapacitorResonance(double Order, int NearestOrder, bool IsNear)
{
    private static readonly int[] s_orders = [5, 7, 11, 13];

    /// <summary>Works it out.</summary>
    /// <param name="shortCircuitVoltAmperes">Short-circuit power at the capacitor, VA; above zero.</param>
    /// <param name="capacitorVars">The capacitor, var; above zero.</param>
    public static CapacitorResonance Of(double shortCircuitVoltAmperes, double capacitorVars)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(shortCircuitVoltAmperes);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(capacitorVars);
        var order = Math.Sqrt(shortCircuitVoltAmperes / capacitorVars);
        var nearest = s_orders.MinBy(known => Math.Abs(known - order));
        return new CapacitorResonance(order, nearest, Math.Abs(order - nearest) <= 0.1 * nearest);
    }

    /// <summary>Short-circuit power behind a transformer alone, VA.</summary>
    /// <param name="ratedVoltAmperes">Rated power, VA.</param>
    /// <param name="impedancePercent">Short-circuit impedance, percent; above zero.</param>
    public static double ShortCircuitOf(double ratedVoltAmperes, double impedancePercent) => ratedVoltAmperes * 100 / impedancePercent;
}
