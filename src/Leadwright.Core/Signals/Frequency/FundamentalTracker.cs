using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using Leadwright.Core.Circuits;
using Leadwright.Core.Signals.Lanes;

namespace Leadwright.Core.Signals.Frequency;

/// <summary>Follows the fundamental of every lane, about twice a cycle, and the phase common to the voltages.</summary>
/// <remarks>
/// <para>Demodulation at nominal frequency under a four-term Blackman-Harris window of six nominal cycles (F. J. Harris, Proc. IEEE
/// 66 (1978) 51–83; coefficients from memory): what lies more than about 34 Hz from the carrier, every harmonic and the image
/// at twice the carrier included, is down by 92 dB, over the whole range of frequencies. The frequency is the advance of phase.</para>
/// <para>The advance common to the voltages is that of Σ z·z̄', summed over the lanes of the reference: a channel that is lost drops out
/// by itself, and a phase that jumps in one line moves it by a part only. Below a floor of the size the last frequency is held.</para>
/// </remarks>
internal sealed class FundamentalTracker
{
    /// <summary>Blocks under the window.</summary>
    public const int WindowBlocks = 6 * BlockSums.BlocksPerCycle;

    /// <summary>Blocks between two points.</summary>
    public const int PointBlocks = BlockSums.BlocksPerCycle / 2;

    private readonly double _rateHertz;
    private readonly double _carrierHertz;
    private readonly bool[] _isReference;
    private readonly double _floorSquare;
    private readonly float[] _weights = new float[WindowBlocks];
    private readonly BlockSums _sums;
    private readonly float[] _last = new float[2 * Lane.Count];
    private bool _hasLast;

    /// <summary>Prepares the tracking.</summary>
    /// <param name="sums">The blocks.</param>
    /// <param name="rateHertz">Samples per second.</param>
    /// <param name="carrierHertz">The nominal line frequency.</param>
    /// <param name="isReference">For each lane, whether it takes part in the common phase.</param>
    /// <param name="floorSquare">Square of the rms below which the reference lanes together say nothing.</param>
    public FundamentalTracker(
        BlockSums sums, double rateHertz, double carrierHertz, ReadOnlySpan<bool> isReference, double floorSquare)
    {
        (_sums, _rateHertz, _carrierHertz, _isReference, _floorSquare) = (sums, rateHertz, carrierHertz, isReference.ToArray(), floorSquare);
        var total = 0.0;
        Span<double> weights = stackalloc double[WindowBlocks];
        for (var index = 0; index < WindowBlocks; index++)
        {
            var turn = 2 * Math.PI * (index + 0.5) / WindowBlocks;
            weights[index] = 0.35875 - (0.48829 * Math.Cos(turn)) + (0.14128 * Math.Cos(2 * turn)) - (0.01168 * Math.Cos(3 * turn));
            total += weights[index];
        }

        for (var index = 0; index < WindowBlocks; index++) _weights[index] = (float)(weights[index] * Math.Sqrt(2) / (total * sums.Length));
    }

    /// <summary>Frames between two points.</summary>
    public int PointFrames => PointBlocks * _sums.Length;

    /// <summary>Number of the newest point, from 0; −1 before the first.</summary>
    public long Point { get; private set; } = -1;

    /// <summary>Place of the newest point in frames.</summary>
    public double Place => PlaceOf(Point);

    /// <summary>Cycles that the common phase has advanced from the first point to the newest.</summary>
    public double Cycles { get; private set; }

    /// <summary>Frequency between the last two points; held where there is no signal. Before the second point: nominal.</summary>
    public double Hertz { get; private set; }

    /// <summary>False while the reference lanes say nothing.</summary>
    public bool HasSignal { get; private set; }

    /// <summary>The phasors at the newest point: eight real parts, eight imaginary parts, rms, against a carrier that has
    /// phase zero at frame zero.</summary>
    public float[] Phasors { get; } = new float[2 * Lane.Count];

    /// <summary>Place of a point.</summary>
    public double PlaceOf(long point) => (((point * PointBlocks) + (WindowBlocks / 2)) * _sums.Length) - 0.5;

    /// <summary>Starts a new segment.</summary>
    public void Clear()
    {
        Point = -1;
        (Cycles, _hasLast, HasSignal, Hertz) = (0, false, false, _carrierHertz);
    }

    /// <summary>Carries the state out or in.</summary>
    public void Carry(StateCarrier carrier)
    {
        var (point, cycles, hertz, hasSignal) = (Point, Cycles, Hertz, HasSignal);
        carrier.Carry(ref point);
        carrier.Carry(ref cycles);
        carrier.Carry(ref hertz);
        carrier.Carry(ref hasSignal);
        (Point, Cycles, Hertz, HasSignal) = (point, cycles, hertz, hasSignal);
        carrier.Carry(Phasors.AsSpan());
        carrier.Carry(_last.AsSpan());
        carrier.Carry(ref _hasLast);
    }

    /// <summary>Goes on to the next point when its blocks are there.</summary>
    public bool Next()
    {
        var first = (Point + 1) * PointBlocks;
        if (first + WindowBlocks > _sums.EndBlock) return false;
        Phasors.CopyTo(_last, 0);
        Weigh(_sums.ProductsFrom(first), _weights, Phasors);
        Point++;
        Advance();
        return true;
    }

    /// <summary>The phase of a lane at the newest point, in cycles, with the carrier's own; any whole number may be added.</summary>
    public double CyclesOf(int lane) =>
        (Math.Atan2(Phasors[Lane.Count + lane], Phasors[lane]) / (2 * Math.PI)) + (_carrierHertz * Place / _rateHertz);

    /// <summary>The phasor of a lane at the newest point.</summary>
    public Phasor PhasorOf(int lane) => new(Phasors[lane], Phasors[Lane.Count + lane]);

    private void Advance()
    {
        double along = 0, across = 0, size = 0;
        for (var lane = 0; lane < Lane.Count; lane++)
        {
            if (!_isReference[lane]) continue;
            double real = Phasors[lane], imaginary = Phasors[Lane.Count + lane];
            double lastReal = _last[lane], lastImaginary = _last[Lane.Count + lane];
            along += (real * lastReal) + (imaginary * lastImaginary);
            across += (imaginary * lastReal) - (real * lastImaginary);
            size += (real * real) + (imaginary * imaginary);
        }

        HasSignal = size > _floorSquare;
        var pointSeconds = PointFrames / _rateHertz;
        if (_hasLast)
        {
            var hertz = _carrierHertz + (Math.Atan2(across, along) / (2 * Math.PI * pointSeconds));
            if (HasSignal && hertz is >= FrequencyMeasurement.LowestHertz - 1 and <= FrequencyMeasurement.HighestHertz + 1) Hertz = hertz;
            Cycles += Hertz * pointSeconds;
        }
        else Hertz = _carrierHertz;
        _hasLast = true;
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void Weigh(ReadOnlySpan<float> products, ReadOnlySpan<float> weights, Span<float> phasors)
    {
        ref var product = ref Lane.Origin(products);
        ref var weight = ref Lane.Origin(weights);
        Vector256<float> realEven = default, imaginaryEven = default, realOdd = default, imaginaryOdd = default;
        nuint at = 0;
        for (nuint index = 0; index < (nuint)weights.Length; index += 2)
        {
            var even = Vector256.Create(Unsafe.Add(ref weight, index));
            var odd = Vector256.Create(Unsafe.Add(ref weight, index + 1));
            realEven = Lane.Multiply(even, Vector256.LoadUnsafe(ref product, at), realEven);
            imaginaryEven = Lane.Multiply(even, Vector256.LoadUnsafe(ref product, at + 8), imaginaryEven);
            realOdd = Lane.Multiply(odd, Vector256.LoadUnsafe(ref product, at + 16), realOdd);
            imaginaryOdd = Lane.Multiply(odd, Vector256.LoadUnsafe(ref product, at + 24), imaginaryOdd);
            at += 32;
        }

        (realEven + realOdd).Store(ref Lane.Origin(phasors), 0);
        (imaginaryEven + imaginaryOdd).Store(ref Lane.Origin(phasors), 1);
    }
}
