using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using Leadwright.Core.Signals.Lanes;

namespace Leadwright.Core.Signals.Flicker;

/// <summary>The flickermeter of IEC 61000-4-15 Ed. 2 for the four voltage lanes at once.</summary>
/// <remarks>
/// <para>Block 1 divides by the voltage's own slow rms (half-cycle values through 27.3 s); block 2 squares. The squares are then halved in rate
/// down to some 2,500 a second by (1, 3, 3, 1)/8 (threefold zeros wherever an overtone of the supply could fold into the band of flicker);
/// the rest of the chain runs at that rate, in double precision. A P<sub>inst</sub> value goes to the classifier some 320 times a second.</para>
/// <para>After the start of a segment the filters need to settle: the first <see cref="SettlingSeconds"/> are not classified.</para>
/// <para>Worst errors held by tests against <c>tests/vectors/flicker</c>: see <c>docs/methods/flicker.md</c>.
/// Streaming in any block size gives the same bits. Not thread-safe.</para>
/// </remarks>
public sealed class FlickerMeter
{
    /// <summary>Seconds at the start of a segment that are not classified.</summary>
    public const double SettlingSeconds = 10;

    private const double TargetRateHertz = 2560;
    private const double ClassifiedRateHertz = 320;
    private const double NormaliserSeconds = 27.3;

    private readonly FlickerChain _chain;
    private readonly int _halfCycleSteps;
    private readonly int _classifiedSteps;
    private readonly int _settlingSteps;
    private readonly Vector256<double> _follow;
    private readonly FlickerClassifier[] _classifiers = new FlickerClassifier[Lane.VoltageCount];

    private readonly Halving[] _halvings;
    private Vector256<double> _halfCycleSum, _rms, _inverse, _pinst, _largest;
    private int _halfCycleCount;
    private long _steps;

    /// <summary>Prepares.</summary>
    /// <param name="rateHertz">Samples per second.</param>
    /// <param name="lineHertz">50 or 60.</param>
    /// <param name="lamp">The lamp.</param>
    public FlickerMeter(double rateHertz, double lineHertz, FlickerLamp lamp)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(rateHertz, 8 * lineHertz);
        _halvings = new Halving[Math.Max(0, (int)Math.Round(Math.Log2(rateHertz / TargetRateHertz)))];
        RateHertz = rateHertz / (1 << _halvings.Length);
        _chain = new FlickerChain(RateHertz, lineHertz, lamp);
        _halfCycleSteps = Math.Max(1, (int)Math.Round(RateHertz / (2 * lineHertz)));
        _classifiedSteps = Math.Max(1, (int)Math.Round(RateHertz / ClassifiedRateHertz));
        _settlingSteps = (int)(SettlingSeconds * RateHertz);
        _follow = Vector256.Create(1 - Math.Exp(-_halfCycleSteps / (RateHertz * NormaliserSeconds)));
        for (var lane = 0; lane < _classifiers.Length; lane++) _classifiers[lane] = new FlickerClassifier();
        Clear();
    }

    /// <summary>P<sub>inst</sub> values computed per second.</summary>
    public double RateHertz { get; }

    /// <summary>The largest P<sub>inst</sub> of a lane since <see cref="ClearLargest"/>.</summary>
    public double Largest(int lane) => _largest[lane];

    /// <summary>The newest P<sub>inst</sub> of a lane.</summary>
    public double Pinst(int lane) => _pinst[lane];

    /// <summary>How long each level stood, of a lane, since <see cref="ClearClasses"/>.</summary>
    public FlickerClassifier Classes(int lane) => _classifiers[lane];

    /// <summary>Forgets the largest values.</summary>
    public void ClearLargest() => _largest = default;

    /// <summary>Starts a new observation period; the filters go on.</summary>
    public void ClearClasses()
    {
        foreach (var classifier in _classifiers) classifier.Clear();
    }

    /// <summary>Starts a new segment.</summary>
    public void Clear()
    {
        _chain.Clear();
        (_halfCycleCount, _steps) = (0, 0);
        _halvings.AsSpan().Clear();
        _halfCycleSum = _rms = _inverse = _pinst = _largest = default;
    }

    /// <summary>Carries the state out or in.</summary>
    internal void Carry(StateCarrier carrier)
    {
        _chain.Carry(carrier);
        foreach (var classifier in _classifiers) classifier.Carry(carrier);
        carrier.Carry(_halvings.AsSpan());
        carrier.Carry(ref _halfCycleSum);
        carrier.Carry(ref _rms);
        carrier.Carry(ref _inverse);
        carrier.Carry(ref _pinst);
        carrier.Carry(ref _largest);
        carrier.Carry(ref _halfCycleCount);
        carrier.Carry(ref _steps);
    }

    /// <summary>Takes frames.</summary>
    /// <param name="frames">The frames; lanes 0 to 3 are used.</param>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public void Add(ReadOnlySpan<float> frames)
    {
        ref var origin = ref Lane.Origin(frames);
        var count = frames.Length / Lane.Count;
        var three = Vector128.Create(3f);
        var eighth = Vector128.Create(0.125f);
        var done = _halvings.Length == 2 ? AddFours(ref origin, count) : 0;
        for (var index = done; index < count; index++)
        {
            var value = Vector128.LoadUnsafe(ref origin, (nuint)(index * Lane.Count));
            value *= value;
            var isWhole = true;
            foreach (ref var halving in _halvings.AsSpan())
            {
                if (!halving.HasFirst)
                {
                    (halving.First, halving.HasFirst, isWhole) = (value, true, false);
                    break;
                }

                var mean = eighth * (halving.Before + value + (three * (halving.Last + halving.First)));
                (halving.Before, halving.Last, halving.HasFirst) = (halving.First, value, false);
                value = mean;
            }

            if (!isWhole) continue;
            var (low, high) = Vector128.Widen(value);
            Step(Vector256.Create(low, high));
        }
    }

    // Two halvings, as at the usual rates, four frames at a time in registers; the same operations in the same order as one by one.
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private int AddFours(ref float origin, int count)
    {
        ref var outer = ref _halvings[0];
        ref var inner = ref _halvings[1];
        if (outer.HasFirst || inner.HasFirst) return 0;
        var three = Vector128.Create(3f);
        var eighth = Vector128.Create(0.125f);
        var (before, last, meanBefore, meanLast) = (outer.Before, outer.Last, inner.Before, inner.Last);
        var index = 0;
        for (nuint at = 0; index + 4 <= count; index += 4, at += 4 * Lane.Count)
        {
            var first = Vector128.LoadUnsafe(ref origin, at);
            var second = Vector128.LoadUnsafe(ref origin, at + 8);
            var third = Vector128.LoadUnsafe(ref origin, at + 16);
            var fourth = Vector128.LoadUnsafe(ref origin, at + 24);
            (first, second, third, fourth) = (first * first, second * second, third * third, fourth * fourth);
            var mean = eighth * (before + second + (three * (last + first)));
            var next = eighth * (first + fourth + (three * (second + third)));
            (before, last) = (third, fourth);
            var (low, high) = Vector128.Widen(eighth * (meanBefore + next + (three * (meanLast + mean))));
            (meanBefore, meanLast) = (mean, next);
            Step(Vector256.Create(low, high));
        }

        (outer.Before, outer.Last, inner.Before, inner.Last) = (before, last, meanBefore, meanLast);
        return index;
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private void Step(Vector256<double> square)
    {
        _steps++;
        // The first averages lack part of their samples.
        if (_steps <= 3) return;
        _halfCycleSum += square;
        if (++_halfCycleCount == _halfCycleSteps)
        {
            Normalise(Vector256.Sqrt(_halfCycleSum / _halfCycleSteps));
            (_halfCycleSum, _halfCycleCount) = (default, 0);
        }

        var deviation = (square * _inverse) - Vector256<double>.One;
        _pinst = _chain.Step(Vector256.ConditionalSelect(Vector256.Equals(_inverse, default), default, deviation));
        _largest = Vector256.Max(_largest, _pinst);
        if (_steps < _settlingSteps || _steps % _classifiedSteps != 0) return;
        for (var lane = 0; lane < Lane.VoltageCount; lane++) _classifiers[lane].Add(_pinst[lane]);
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private void Normalise(Vector256<double> rms)
    {
        var isFirst = Vector256.Equals(_rms, default);
        _rms = Vector256.ConditionalSelect(isFirst, rms, _rms + (_follow * (rms - _rms)));
        _inverse = Vector256.ConditionalSelect(
            Vector256.GreaterThan(_rms, default), Vector256<double>.One / (_rms * _rms), default);
    }

    // Half the rate: each value from the last two pairs.
    private struct Halving
    {
        public Vector128<float> Before, Last, First;
        public bool HasFirst;
    }
}
