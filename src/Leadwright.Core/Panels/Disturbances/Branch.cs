namespace Leadwright.Core.Panels.Disturbances;

/// <summary>A branch between two nodes: resistance, inductance, capacitance in series with a source, or an iron core in the place of the inductance.</summary>
/// <remarks>
/// <para>v − e = R i + L di/dt + u, C du/dt = i, stepped by the θ method, θ = 0.55: nearly the trapezoidal rule of H. W. Dommel, IEEE Trans. Power Apparatus and Systems 88 (1969) 388, with a
/// little damping, so that switching leaves no ringing of the arithmetic.</para>
/// <para>The core has a flux that is the integral of v − R i, and two straight lines: nearly no current below the knee, a small inductance beyond.</para>
/// </remarks>
internal sealed class Branch(int from, int to, double ohms, double henries, double farads = double.PositiveInfinity)
{
    private const double Theta = 0.55;
    private const double Open = 1e-9;

    private double _charge;
    private double _voltage;

    public int From { get; } = from;

    public int To { get; } = to;

    public double Ohms { get; set; } = ohms;

    public bool IsClosed { get; set; } = true;

    /// <summary>The source at the end of the step, V.</summary>
    public double Source { get; set; }

    /// <summary>Knee of a core, Vs; NaN for none.</summary>
    public double KneeFlux { get; init; } = double.NaN;

    public double Flux { get; set; }

    public double Current { get; private set; }

    public double Conductance { get; private set; }

    /// <summary>Current that flows besides conductance times voltage.</summary>
    public double Offset { get; private set; }

    /// <summary>Works out conductance and offset for a step.</summary>
    public void Prepare(double step)
    {
        if (!IsClosed)
        {
            (Conductance, Offset) = (Open, 0);
            return;
        }

        if (!double.IsNaN(KneeFlux))
        {
            PrepareCore(step);
            return;
        }

        var (inductive, elastance) = (henries / step, double.IsInfinity(farads) ? 0 : step / farads);
        Conductance = Theta / ((Ohms * Theta) + inductive + (Theta * Theta * elastance));
        var known = ((1 - Theta) * _voltage) - (Ohms * (1 - Theta) * Current) + (inductive * Current) - (Theta * (_charge + (elastance * (1 - Theta) * Current))) - ((1 - Theta) * _charge);
        Offset = (Conductance * known / Theta) - (Conductance * Source);
    }

    /// <summary>Takes the voltage across the branch at the end of the step.</summary>
    public void Take(double volts, double step)
    {
        var before = Current;
        Current = IsClosed ? (Conductance * volts) + Offset : 0;
        if (!IsClosed)
        {
            _voltage = 0;
            return;
        }

        if (!double.IsInfinity(farads)) _charge += step / farads * ((Theta * Current) + ((1 - Theta) * before));
        if (!double.IsNaN(KneeFlux)) Flux += step * ((Theta * (volts - (Ohms * Current))) + ((1 - Theta) * (_voltage - (Ohms * before))));
        _voltage = volts - Source;
    }

    // i = (λ ∓ knee)/L beyond the knee, by the segment on which the flux stands; it is short against a cycle.
    private void PrepareCore(double step)
    {
        var (least, most) = (-KneeFlux, KneeFlux);
        var isBeyond = Flux > most || Flux < least;
        var inductance = isBeyond ? henries : 1e4 * henries;
        var bend = Flux > most ? most : Flux < least ? least : 0;
        var slope = step * Theta / inductance;
        Conductance = slope / (1 + (Ohms * slope));
        var flux = Flux + (step * (1 - Theta) * (_voltage - (Ohms * Current)));
        Offset = (flux - bend) / inductance / (1 + (Ohms * slope));
    }
}
