using Leadwright.Core.Circuits;

namespace Leadwright.Core.Hookups.Steps;

/// <summary>All that a set of steps says of linear relations between voltages and currents, as sums over them.</summary>
internal sealed class StepSums(int voltages, int clamps)
{
    /// <summary>Number of steps.</summary>
    public int Count { get; private set; }

    /// <summary>Σ conj(dV_k)·dV_l.</summary>
    public Phasor[] VoltageProducts { get; } = new Phasor[voltages * voltages];

    /// <summary>Σ conj(dI_j)·dV_k; clamp, then voltage.</summary>
    public Phasor[] CrossProducts { get; } = new Phasor[clamps * voltages];

    /// <summary>Σ conj(dI_i)·dI_j.</summary>
    public Phasor[] CurrentProducts { get; } = new Phasor[clamps * clamps];

    /// <summary>Adds a step.</summary>
    public void Add(ReadOnlySpan<Phasor> volts, ReadOnlySpan<Phasor> amperes)
    {
        Count++;
        for (var one = 0; one < voltages; one++)
        {
            for (var other = 0; other < voltages; other++)
                VoltageProducts[(one * voltages) + other] += volts[one].Conjugate * volts[other];
        }

        for (var clamp = 0; clamp < clamps; clamp++)
        {
            for (var channel = 0; channel < voltages; channel++)
                CrossProducts[(clamp * voltages) + channel] += amperes[clamp].Conjugate * volts[channel];
            for (var other = 0; other < clamps; other++)
                CurrentProducts[(clamp * clamps) + other] += amperes[clamp].Conjugate * amperes[other];
        }
    }
}
