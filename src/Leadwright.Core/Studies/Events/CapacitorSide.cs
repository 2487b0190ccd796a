using Leadwright.Core.Signals.Lanes;

namespace Leadwright.Core.Studies.Events;

/// <summary>On which side a capacitor was switched on.</summary>
/// <param name="Side">Where it is.</param>
/// <param name="Product">Sum over the phases of voltage step times current step at the instant, VA.</param>
/// <remarks>At the instant dv/dt and di/dt have opposite signs when the capacitor is downstream, equal ones when upstream: IEEE Trans. Power Delivery 23 (2008) 1105 (abstract
/// seen). A reversed clamp turns the answer round.</remarks>
public readonly record struct CapacitorSide(EventSide Side, double Product)
{
    /// <summary>Judges.</summary>
    /// <param name="frames">Frames of eight lanes with at least one cycle before the instant.</param>
    /// <param name="cycleFrames">Frames in a cycle.</param>
    /// <param name="nominalPeak">Peak of the nominal voltage, V.</param>
    /// <returns>Undecided when nothing departs from the cycle before by a twentieth of the peak, or the current does not move with it.</returns>
    public static CapacitorSide Judge(ReadOnlySpan<float> frames, int cycleFrames, double nominalPeak)
    {
        var count = frames.Length / Lane.Count;
        for (var frame = cycleFrames + 1; frame < count; frame++)
        {
            var largest = 0.0;
            for (var phase = 0; phase < 3; phase++) largest = Math.Max(largest, Math.Abs(Departure(frames, frame, cycleFrames, phase)));
            if (largest < 0.05 * nominalPeak) continue;
            var (product, size) = (0.0, 0.0);
            for (var phase = 0; phase < 3; phase++)
            {
                var volts = Departure(frames, frame, cycleFrames, phase) - Departure(frames, frame - 1, cycleFrames, phase);
                var amperes = Departure(frames, frame, cycleFrames, phase + Lane.VoltageCount) - Departure(frames, frame - 1, cycleFrames, phase + Lane.VoltageCount);
                product += volts * amperes;
                size += Math.Abs(volts * amperes);
            }

            var isClear = size > 0 && Math.Abs(product) > 0.5 * size;
            return new CapacitorSide(!isClear ? EventSide.Undecided : product < 0 ? EventSide.Downstream : EventSide.Upstream, product);
        }

        return new CapacitorSide(EventSide.Undecided, 0);
    }

    private static double Departure(ReadOnlySpan<float> frames, int frame, int cycle, int lane) =>
        frames[(frame * Lane.Count) + lane] - frames[((frame - cycle) * Lane.Count) + lane];
}
