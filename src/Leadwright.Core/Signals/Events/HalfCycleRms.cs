using System.Runtime.CompilerServices;
using Leadwright.Core.Signals.Frequency;
using Leadwright.Core.Signals.Lanes;

namespace Leadwright.Core.Signals.Events;

/// <summary>The rms value over one cycle from a zero crossing of the fundamental, refreshed each half cycle.</summary>
/// <remarks>
/// <para>IEC 61000-4-30 clause 3 and 5.4 (from memory): each channel by its own zero crossings. The bounds run on by half a
/// period of the common frequency and are pulled towards the lane's own crossing by at most a fiftieth of a half cycle: a phase jump or
/// a dead lane leaves the cycle's length right.</para>
/// <para>Sums of squares between bounds: whole blocks from the running sum, the rest sample by sample, parts of a sample by a straight
/// line between the squares.</para>
/// </remarks>
internal sealed class HalfCycleRms
{
    private const double MostPull = 0.02;
    private const double MostHertzChange = 0.02;

    private readonly BlockSums _sums;
    private readonly FundamentalTracker _tracker;
    private readonly double _rateHertz;
    private readonly double _leastRms;
    private readonly int[] _lanes;
    private readonly LaneState[] _states;
    private double _hertz;

    /// <summary>Prepares.</summary>
    /// <param name="sums">The blocks.</param>
    /// <param name="tracker">The fundamental.</param>
    /// <param name="rateHertz">Samples per second.</param>
    /// <param name="lanes">The lanes that set bounds.</param>
    /// <param name="leastRms">The fundamental below which a lane's own crossings mean nothing.</param>
    public HalfCycleRms(BlockSums sums, FundamentalTracker tracker, double rateHertz, ReadOnlySpan<int> lanes, double leastRms)
    {
        (_sums, _tracker, _rateHertz, _leastRms) = (sums, tracker, rateHertz, leastRms);
        _lanes = lanes.ToArray();
        _states = new LaneState[_lanes.Length];
        Clear();
    }

    /// <summary>Frequency whose period the bounds follow.</summary>
    public double Hertz => _hertz;

    /// <summary>Starts a new segment.</summary>
    public void Clear()
    {
        _hertz = 0;
        Array.Fill(_states, new LaneState { Next = double.NaN, LastCycles = double.NaN });
    }

    /// <summary>Carries the state out or in.</summary>
    public void Carry(StateCarrier carrier)
    {
        carrier.Carry(ref _hertz);
        carrier.Carry(_states.AsSpan());
    }

    /// <summary>The place up to which every lane's values are known.</summary>
    public double KnownPlace
    {
        get
        {
            var place = double.PositiveInfinity;
            foreach (ref var state in _states.AsSpan()) place = Math.Min(place, double.IsNaN(state.Next) ? 0 : state.Next);
            return place;
        }
    }

    /// <summary>Takes the tracker's newest point and gives the values that end before it, in order of their ends.</summary>
    /// <param name="frames">Samples at hand.</param>
    /// <param name="firstFrame">Number of the first of them in the segment.</param>
    /// <param name="found">Receives the values.</param>
    public void Take(ReadOnlySpan<float> frames, long firstFrame, List<HalfCycle> found)
    {
        // The frequency is known from the second point on.
        if (_tracker.Point < 1) return;
        var first = found.Count;
        FollowFrequency();
        var half = _rateHertz / (2 * _hertz);
        for (var index = 0; index < _lanes.Length; index++) TakeLane(index, half, frames, firstFrame, found);
        // At most a handful: insertion keeps equal ends in lane order, the same in every run.
        for (var index = first + 1; index < found.Count; index++)
        {
            for (var at = index; at > first && found[at].EndPlace < found[at - 1].EndPlace; at--)
                (found[at], found[at - 1]) = (found[at - 1], found[at]);
        }
    }

    private void FollowFrequency()
    {
        if (_tracker.Point < 4) _hertz = _tracker.Hertz;
        else _hertz += Math.Clamp(_tracker.Hertz - _hertz, -MostHertzChange, MostHertzChange);
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private void TakeLane(int index, double half, ReadOnlySpan<float> frames, long firstFrame, List<HalfCycle> found)
    {
        ref var state = ref _states[index];
        var lane = _lanes[index];
        var cycles = _tracker.CyclesOf(lane);
        var isAlive = _tracker.PhasorOf(lane).SquaredMagnitude >= _leastRms * _leastRms;
        var place = _tracker.Place;
        if (double.IsNaN(state.LastCycles))
        {
            // The first bound: where the phase extrapolated back crosses zero first.
            state.Next = place - (Fraction((cycles + 0.25) * 2) * half);
            state.Next -= Math.Floor((state.Next - 1) / half) * half;
            (state.Last, state.BeforeLast) = (double.NaN, double.NaN);
        }

        while (state.Next <= place)
        {
            var bound = state.Next;
            // Half cycles past the crossing, −½ to ½.
            var past = ((cycles - ((place - bound) * _hertz / _rateHertz) + 0.25) * 2);
            past -= Math.Round(past);
            if (isAlive)
            {
                var pull = state.IsDead ? past : Math.Clamp(past, -MostPull, MostPull);
                bound = Math.Max(bound - (pull * half), double.IsNaN(state.Last) ? 0 : state.Last + (0.5 * half));
                if (bound > place) { state.Next = bound; break; }
                state.IsDead = false;
            }
            else state.IsDead = true;

            var own = Integral(lane, bound, frames, firstFrame);
            var partner = Integral(lane + Lane.VoltageCount, bound, frames, firstFrame);
            if (!double.IsNaN(state.BeforeLast))
            {
                var length = bound - state.BeforeLast;
                found.Add(new HalfCycle(lane, state.BeforeLast, bound,
                    Math.Sqrt(Math.Max(own - state.OwnBeforeLast, 0) / length),
                    Math.Sqrt(Math.Max(partner - state.PartnerBeforeLast, 0) / length)));
            }

            (state.BeforeLast, state.OwnBeforeLast, state.PartnerBeforeLast) = (state.Last, state.OwnLast, state.PartnerLast);
            (state.Last, state.OwnLast, state.PartnerLast) = (bound, own, partner);
            state.Next = bound + half;
        }

        state.LastCycles = cycles;
    }

    // ∫ x² from the segment's start, by the trapezoid rule, up to a constant.
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private double Integral(int lane, double place, ReadOnlySpan<float> frames, long firstFrame)
    {
        if (lane >= Lane.Count) return 0;
        var whole = (long)place;
        var part = place - whole;
        var block = whole / _sums.Length;
        var sum = _sums.SquaresBefore(block, lane);
        for (var frame = block * _sums.Length; frame < whole; frame++) sum += Square(lane, frame, frames, firstFrame);
        var here = Square(lane, whole, frames, firstFrame);
        var next = Square(lane, whole + 1, frames, firstFrame);
        return sum + (0.5 * here) + (part * here) + (0.5 * part * part * (next - here));
    }

    private static double Square(int lane, long frame, ReadOnlySpan<float> frames, long firstFrame)
    {
        double value = frames[((int)(frame - firstFrame) * Lane.Count) + lane];
        return value * value;
    }

    private static double Fraction(double value) => value - Math.Floor(value);

    private struct LaneState
    {
        public double Next, Last, BeforeLast, LastCycles;
        public double OwnLast, OwnBeforeLast, PartnerLast, PartnerBeforeLast;
        public bool IsDead;
    }
}
