using Leadwright.Core.Circuits;
using Leadwright.Core.Signals.Lanes;

namespace Leadwright.Core.Studies.Events;

/// <summary>Phasors of voltages and currents over one cycle each, every half cycle, around an event.</summary>
/// <remarks>Rms phasors in a frame that turns with the voltage before the event, so that they stand still in the steady state. Index is [step][phase].</remarks>
public sealed class CyclePhasorRun
{
    private CyclePhasorRun(Phasor[][] voltages, Phasor[][] currents, (Phasor Volts, Phasor Amperes)[][] second, int onset, int end, bool hasCurrents) =>
        (Voltages, Currents, Second, Onset, End, HasCurrents) = (voltages, currents, second, onset, end, hasCurrents);

    /// <summary>Puts phasors together that were worked out elsewhere.</summary>
    /// <param name="voltages">Voltages, [step][phase].</param>
    /// <param name="currents">Currents, [step][phase]; empty for none.</param>
    /// <param name="onset">First step that lies wholly within the event.</param>
    /// <param name="end">First step behind the event.</param>
    public CyclePhasorRun(Phasor[][] voltages, Phasor[][] currents, int onset, int end)
        : this(voltages, currents, [], onset, end, currents is { Length: > 0 })
    {
        ArgumentNullException.ThrowIfNull(voltages);
    }

    /// <summary>Voltages, [step][phase].</summary>
    public IReadOnlyList<Phasor[]> Voltages { get; }

    /// <summary>Currents, [step][phase].</summary>
    public IReadOnlyList<Phasor[]> Currents { get; }

    /// <summary>Second harmonic of voltages and currents, [step][phase]; empty when not worked out.</summary>
    public IReadOnlyList<(Phasor Volts, Phasor Amperes)[]> Second { get; }

    /// <summary>First step that lies wholly within the event.</summary>
    public int Onset { get; }

    /// <summary>First step behind the event, or the number of steps.</summary>
    public int End { get; }

    /// <summary>True when currents were recorded.</summary>
    public bool HasCurrents { get; }

    /// <summary>Works them out from samples.</summary>
    /// <param name="frames">Frames of eight lanes.</param>
    /// <param name="rateHertz">Samples per second.</param>
    /// <param name="hertz">Frequency.</param>
    /// <param name="startFrame">Frame at which the event begins.</param>
    /// <param name="endFrame">Frame at which it ends.</param>
    /// <param name="hasCurrents">True when lanes 4 to 6 hold currents.</param>
    /// <param name="isThreeWire">True when lanes 0 to 2 hold V12, V23, V31: then the voltages are those to the star point of the lines.</param>
    /// <returns>Null when there are fewer than two cycles before the event.</returns>
    public static CyclePhasorRun? Of(ReadOnlySpan<float> frames, double rateHertz, double hertz, double startFrame, double endFrame, bool hasCurrents, bool isThreeWire = false)
    {
        var cycle = rateHertz / hertz;
        var length = (int)Math.Round(cycle);
        var count = (int)(((frames.Length / Lane.Count) - length) / (cycle / 2));
        var onset = (int)Math.Ceiling(startFrame / (cycle / 2));
        if (count < 6 || onset < 4 || onset >= count) return null;
        var voltages = new Phasor[count][];
        var currents = new Phasor[count][];
        var second = new (Phasor Volts, Phasor Amperes)[count][];
        for (var step = 0; step < count; step++)
        {
            var first = (int)Math.Round(step * cycle / 2);
            (voltages[step], currents[step], second[step]) = (new Phasor[3], new Phasor[3], new (Phasor, Phasor)[3]);
            for (var phase = 0; phase < 3; phase++)
            {
                voltages[step][phase] = Fit(frames, first, length, phase, 2 * Math.PI / cycle);
                second[step][phase].Volts = Fit(frames, first, length, phase, 4 * Math.PI / cycle);
                if (!hasCurrents) continue;
                currents[step][phase] = Fit(frames, first, length, phase + Lane.VoltageCount, 2 * Math.PI / cycle);
                second[step][phase].Amperes = Fit(frames, first, length, phase + Lane.VoltageCount, 4 * Math.PI / cycle);
            }
        }

        if (isThreeWire)
        {
            foreach (var step in voltages)
            {
                var (ab, bc, ca) = (step[0], step[1], step[2]);
                (step[0], step[1], step[2]) = ((ab - ca) / 3, (bc - ab) / 3, (ca - bc) / 3);
            }

            foreach (var step in second)
            {
                var (ab, bc, ca) = (step[0].Volts, step[1].Volts, step[2].Volts);
                (step[0].Volts, step[1].Volts, step[2].Volts) = ((ab - ca) / 3, (bc - ab) / 3, (ca - bc) / 3);
            }
        }

        Hold(voltages, currents, onset);
        var end = Math.Clamp((int)Math.Floor((endFrame - length) / (cycle / 2)) + 1, onset + 1, count);
        return new CyclePhasorRun(voltages, currents, second, onset, end, hasCurrents);
    }

    // x̂ = √2/N Σ x e^(−jωn), with n from the start of the record, so that a steady signal stands still.
    private static Phasor Fit(ReadOnlySpan<float> frames, int first, int length, int lane, double radians)
    {
        var (real, imaginary) = (0.0, 0.0);
        for (var index = first; index < first + length; index++)
        {
            var (sine, cosine) = Math.SinCos(radians * index);
            var value = frames[(index * Lane.Count) + lane];
            real += value * cosine;
            imaginary -= value * sine;
        }

        var scale = Math.Sqrt(2) / length;
        return new Phasor(real * scale, imaginary * scale);
    }

    // The network's frequency differs a little from nominal: what phase A turned before the event is taken out of everything.
    private static void Hold(Phasor[][] voltages, Phasor[][] currents, int onset)
    {
        var last = Math.Max(onset - 3, 1);
        var turn = (voltages[last][0] / voltages[0][0]).AngleDegrees / last;
        if (!double.IsFinite(turn)) return;
        for (var step = 0; step < voltages.Length; step++)
        {
            for (var phase = 0; phase < 3; phase++)
            {
                voltages[step][phase] = voltages[step][phase].TurnedByDegrees(-turn * step);
                currents[step][phase] = currents[step][phase].TurnedByDegrees(-turn * step);
            }
        }
    }

    /// <summary>Type of the dip at its middle; null when the voltages before are none.</summary>
    public DipType? Type()
    {
        var (before, at) = (Voltages[Before], Voltages[(Onset + End - 1) / 2]);
        if (before[0].Magnitude < 1e-6) return null;
        // Rotation A-C-B turns the phases' order: the type is named for the order in which they follow each other.
        var isReversed = SequenceComponents.Of(before[0], before[1], before[2]) is var parts && parts.Negative.Magnitude > parts.Positive.Magnitude;
        return isReversed ? null : DipType.Of(at[0] / before[0], at[1] / before[0], at[2] / before[0]);
    }

    /// <summary>The steps that lie well within the event: from a cycle behind its edge on, where the offset of the first instant has died down, three cycles at most.</summary>
    internal (int First, int End) Settled
    {
        get
        {
            var first = Math.Min(Onset + 2, End - 1);
            return (first, Math.Max(Math.Min(End, first + 6), first + 1));
        }
    }

    /// <summary>The steps from two to five cycles behind the start, whether the event still lasts or not: the harmonics of a core in saturation are still there, those of an edge have died down.</summary>
    internal (int First, int End) Late
    {
        get
        {
            var first = Math.Min(Onset + 4, Voltages.Count - 1);
            return (first, Math.Max(Math.Min(Voltages.Count, first + 6), first + 1));
        }
    }

    /// <summary>The step before the event that is farthest from its edge and yet near: two cycles before.</summary>
    internal int Before => Math.Max(Onset - 4, 0);
}
