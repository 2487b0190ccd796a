using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using Leadwright.Core.Signals.Lanes;

namespace Leadwright.Core.Signals.Events;

/// <summary>Finds deviations of the voltages from the cycle before that are too short to move the rms value.</summary>
/// <remarks>
/// The residual is x(t) − x(t − T) with the period T of the tracked frequency, between samples by a straight line. What stays above the
/// threshold for no more than half a cycle is a transient; its echo one period later is left out. What lasts longer is a change of the
/// voltage itself and shows in the half-cycle values. Common practice, no clause of a standard.
/// </remarks>
internal sealed class TransientDetector
{
    private const double LobeCycles = 0.55;

    private readonly float _threshold;
    private readonly double _nominalPeak;
    private readonly Burst[] _bursts = new Burst[Lane.VoltageCount];
    private readonly Vector256<float> _active;

    /// <summary>Prepares.</summary>
    /// <param name="thresholds">Where a transient begins.</param>
    /// <param name="declared">Declared voltage of each voltage lane, volts rms; 0 for a lane that takes no part.</param>
    public TransientDetector(EventThresholds thresholds, ReadOnlySpan<double> declared)
    {
        var largest = 0.0;
        Span<float> active = stackalloc float[Lane.Count];
        for (var lane = 0; lane < Lane.VoltageCount; lane++)
        {
            largest = Math.Max(largest, declared[lane]);
            active[lane] = declared[lane] > 0 ? 1 : 0;
        }

        _nominalPeak = largest * Math.Sqrt(2);
        _threshold = (float)(thresholds.Transient * _nominalPeak);
        _active = Vector256.Create<float>(active);
        Clear();
    }

    /// <summary>Starts a new segment.</summary>
    public void Clear() => Array.Fill(_bursts, new Burst { Start = -1, LastStart = double.NegativeInfinity });

    /// <summary>Carries the state out or in.</summary>
    public void Carry(StateCarrier carrier)
    {
        carrier.Carry(_bursts.AsSpan());
    }

    /// <summary>Looks through new frames.</summary>
    /// <param name="frames">Samples at hand.</param>
    /// <param name="firstFrame">Place of the first of them.</param>
    /// <param name="from">Place of the first new frame.</param>
    /// <param name="count">New frames.</param>
    /// <param name="period">The period in frames.</param>
    /// <param name="found">Receives transients that ended.</param>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public void Take(ReadOnlySpan<float> frames, long firstFrame, long from, int count, double period, List<VoltageEvent> found)
    {
        if (_threshold <= 0 || from < period + 2) return;
        ref var origin = ref Lane.Origin(frames);
        var whole = (int)Math.Ceiling(period);
        var part = Vector256.Create((float)(whole - period));
        var first = (int)(from - firstFrame);
        var largest = Vector256<float>.Zero;
        for (var index = first; index < first + count; index++)
            largest = Vector256.Max(largest, Vector256.Abs(Residual(ref origin, index, whole, part)));
        if (!Vector256.GreaterThanAny(largest * _active, Vector256.Create(_threshold)) && !AnyBurst()) return;
        for (var index = first; index < first + count; index++)
        {
            var residual = Vector256.Abs(Residual(ref origin, index, whole, part)) * _active;
            for (var lane = 0; lane < Lane.VoltageCount; lane++)
                Follow(lane, residual[lane], firstFrame + index, period, found);
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector256<float> Residual(ref float origin, int index, int whole, Vector256<float> part)
    {
        var before = Lane.Load(ref origin, index - whole);
        var after = Lane.Load(ref origin, index - whole + 1);
        return Lane.Load(ref origin, index) - Lane.Multiply(part, after - before, before);
    }

    private bool AnyBurst()
    {
        foreach (ref var burst in _bursts.AsSpan())
        {
            if (burst.Start >= 0) return true;
        }

        return false;
    }

    private void Follow(int lane, float size, long place, double period, List<VoltageEvent> found)
    {
        ref var burst = ref _bursts[lane];
        if (size > _threshold)
        {
            if (burst.Start < 0) (burst.Start, burst.Largest) = (place, 0);
            (burst.End, burst.Largest) = (place + 1, Math.Max(burst.Largest, size));
            return;
        }

        // The residual of a dip is itself a sine for one cycle: its lobes, half a cycle apart, are one burst and too long for a transient.
        if (burst.Start < 0 || place - burst.End < LobeCycles * period) return;
        var isEcho = Math.Abs(burst.Start - burst.LastStart - period) < period / 16;
        if (!isEcho && burst.End - burst.Start <= period / 2)
        {
            found.Add(new VoltageEvent(
                VoltageEventKind.Transient, 1 << lane, burst.Start, burst.End, burst.Largest / _nominalPeak, 0, false));
        }

        (burst.LastStart, burst.Start) = (isEcho ? double.NegativeInfinity : burst.Start, -1);
    }

    private struct Burst
    {
        public double Start, End, LastStart;
        public float Largest;
    }
}
