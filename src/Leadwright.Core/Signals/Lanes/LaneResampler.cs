using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace Leadwright.Core.Signals.Lanes;

/// <summary>Reads eight channels at evenly spaced places between their samples.</summary>
/// <remarks>
/// <para>A sinc of sixteen samples under a Kaiser window (β 7.9), tabulated at 512 places between two samples with straight
/// lines between them, every set of weights scaled to a sum of one: the approach of J. O. Smith, Digital Audio Resampling
/// (from memory). Worst error against a sine of frequency f sampled at rate R, held by tests: 2e-5 of its size up to 0.005·R,
/// 8e-5 up to 0.2·R, 2e-4 up to 0.34·R (the 50th harmonic of 69 Hz at 10,240 samples a second). Above that sizes are damped: see
/// <see cref="Response"/>.</para>
/// <para>Allocates nothing after construction; thread-safe, since it only reads its table.</para>
/// </remarks>
public sealed class LaneResampler
{
    /// <summary>Samples that take part in one value: half of them before the place, half behind.</summary>
    public const int TapCount = 16;

    private const int PhaseCount = 512;
    private const double Beta = 7.9;
    private const int ResponseCount = 128;

    // Weights of a phase, then their change to the next phase.
    private readonly float[] _table = new float[PhaseCount * 2 * TapCount];

    private readonly double[] _response = new double[ResponseCount + 1];

    /// <summary>Makes the table.</summary>
    public LaneResampler()
    {
        Span<double> weights = stackalloc double[TapCount];
        Span<double> next = stackalloc double[TapCount];
        WeightsAt(0, weights);
        for (var phase = 0; phase < PhaseCount; phase++)
        {
            WeightsAt((phase + 1.0) / PhaseCount, next);
            for (var tap = 0; tap < TapCount; tap++)
            {
                _table[(phase * 2 * TapCount) + tap] = (float)weights[tap];
                _table[(phase * 2 * TapCount) + TapCount + tap] = (float)(next[tap] - weights[tap]);
            }

            next.CopyTo(weights);
        }

        for (var index = 0; index <= ResponseCount; index++) _response[index] = ResponseOf(0.5 * index / ResponseCount);
    }

    /// <summary>By how much the size of a component is kept.</summary>
    /// <param name="frequency">Its frequency over the sampling rate, 0 to 0.5.</param>
    public double Response(double frequency)
    {
        var place = Math.Clamp(frequency, 0, 0.5) * 2 * ResponseCount;
        var index = Math.Min((int)place, ResponseCount - 1);
        return _response[index] + ((place - index) * (_response[index + 1] - _response[index]));
    }

    /// <summary>Frames before the first place that must be there.</summary>
    public static int FramesBefore => (TapCount / 2) - 1;

    /// <summary>Frames behind the last place that must be there, its own sample not counted.</summary>
    public static int FramesBehind => TapCount / 2;

    /// <summary>Reads the channels at start, start + step, start + 2·step, …</summary>
    /// <param name="frames">The samples.</param>
    /// <param name="start">Place of the first value, in frames from the first of <paramref name="frames"/>.</param>
    /// <param name="step">Distance of two values in frames; above zero.</param>
    /// <param name="values">Receives the values; its length says how many.</param>
    /// <exception cref="ArgumentOutOfRangeException">A place is nearer to an end than <see cref="FramesBefore"/> or
    /// <see cref="FramesBehind"/>.</exception>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public void Read(ReadOnlySpan<float> frames, double start, double step, Span<float> values)
    {
        var count = values.Length / Lane.Count;
        var last = start + ((count - 1) * step);
        if (!(start >= FramesBefore && step > 0 && last < (frames.Length / Lane.Count) - FramesBehind))
            throw new ArgumentOutOfRangeException(nameof(start), start, "The samples don't reach far enough on both sides.");
        ref var source = ref Lane.Origin(frames);
        ref var target = ref Lane.Origin(values);
        ref var table = ref MemoryMarshal.GetArrayDataReference(_table);
        Span<float> weights = stackalloc float[4 * TapCount];
        ref var weight = ref MemoryMarshal.GetReference(weights);
        for (var index = 0; index < count; index++)
        {
            // Where a value moves on by one sample, as at most rates, four of them share what they read.
            var whole = (int)(start + (index * step));
            if (index + 4 <= count && (int)(start + ((index + 3) * step)) == whole + 3 && (int)(start + ((index + 1) * step)) == whole + 1
                && (int)(start + ((index + 2) * step)) == whole + 2)
            {
                for (var ahead = 0; ahead < 4; ahead++)
                    Weigh(start + ((index + ahead) * step), ref table, ref Unsafe.Add(ref weight, ahead * TapCount));
                Four(ref Unsafe.Add(ref source, (whole - FramesBefore) * Lane.Count), ref weight, ref Unsafe.Add(ref target, index * Lane.Count));
                index += 3;
                continue;
            }

            Weigh(start + (index * step), ref table, ref weight);
            One(ref Unsafe.Add(ref source, (whole - FramesBefore) * Lane.Count), ref weight, ref Unsafe.Add(ref target, index * Lane.Count));
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static void Weigh(double place, ref float table, ref float weight)
    {
        var fine = (place - (int)place) * PhaseCount;
        var phase = (int)fine;
        var part = Vector256.Create((float)(fine - phase));
        var row = (nuint)(phase * 2 * TapCount);
        Lane.Multiply(part, Vector256.LoadUnsafe(ref table, row + 16), Vector256.LoadUnsafe(ref table, row)).StoreUnsafe(ref weight);
        Lane.Multiply(part, Vector256.LoadUnsafe(ref table, row + 24), Vector256.LoadUnsafe(ref table, row + 8)).StoreUnsafe(ref weight, 8);
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static void One(ref float from, ref float weight, ref float target)
    {
        // Unrolled by hand: the compiler leaves a loop of sixteen steps as it is, at twice the time.
        var even = Vector256.Create(weight) * Vector256.LoadUnsafe(ref from);
        var odd = Vector256.Create(Unsafe.Add(ref weight, 1)) * Vector256.LoadUnsafe(ref from, 8);
        even = Lane.Multiply(Vector256.Create(Unsafe.Add(ref weight, 2)), Vector256.LoadUnsafe(ref from, 16), even);
        odd = Lane.Multiply(Vector256.Create(Unsafe.Add(ref weight, 3)), Vector256.LoadUnsafe(ref from, 24), odd);
        even = Lane.Multiply(Vector256.Create(Unsafe.Add(ref weight, 4)), Vector256.LoadUnsafe(ref from, 32), even);
        odd = Lane.Multiply(Vector256.Create(Unsafe.Add(ref weight, 5)), Vector256.LoadUnsafe(ref from, 40), odd);
        even = Lane.Multiply(Vector256.Create(Unsafe.Add(ref weight, 6)), Vector256.LoadUnsafe(ref from, 48), even);
        odd = Lane.Multiply(Vector256.Create(Unsafe.Add(ref weight, 7)), Vector256.LoadUnsafe(ref from, 56), odd);
        even = Lane.Multiply(Vector256.Create(Unsafe.Add(ref weight, 8)), Vector256.LoadUnsafe(ref from, 64), even);
        odd = Lane.Multiply(Vector256.Create(Unsafe.Add(ref weight, 9)), Vector256.LoadUnsafe(ref from, 72), odd);
        even = Lane.Multiply(Vector256.Create(Unsafe.Add(ref weight, 10)), Vector256.LoadUnsafe(ref from, 80), even);
        odd = Lane.Multiply(Vector256.Create(Unsafe.Add(ref weight, 11)), Vector256.LoadUnsafe(ref from, 88), odd);
        even = Lane.Multiply(Vector256.Create(Unsafe.Add(ref weight, 12)), Vector256.LoadUnsafe(ref from, 96), even);
        odd = Lane.Multiply(Vector256.Create(Unsafe.Add(ref weight, 13)), Vector256.LoadUnsafe(ref from, 104), odd);
        even = Lane.Multiply(Vector256.Create(Unsafe.Add(ref weight, 14)), Vector256.LoadUnsafe(ref from, 112), even);
        odd = Lane.Multiply(Vector256.Create(Unsafe.Add(ref weight, 15)), Vector256.LoadUnsafe(ref from, 120), odd);
        (even + odd).StoreUnsafe(ref target);
    }

    // Four values whose samples begin one after the other; the same operations in the same order as one by one.
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void Four(ref float from, ref float weight, ref float target)
    {
        var frame = Vector256.LoadUnsafe(ref from);
        var aEven = Vector256.Create(Unsafe.Add(ref weight, 0)) * frame;
        frame = Vector256.LoadUnsafe(ref from, 8);
        var aOdd = Vector256.Create(Unsafe.Add(ref weight, 1)) * frame;
        var bEven = Vector256.Create(Unsafe.Add(ref weight, 16)) * frame;
        frame = Vector256.LoadUnsafe(ref from, 16);
        aEven = Lane.Multiply(Vector256.Create(Unsafe.Add(ref weight, 2)), frame, aEven);
        var bOdd = Vector256.Create(Unsafe.Add(ref weight, 17)) * frame;
        var cEven = Vector256.Create(Unsafe.Add(ref weight, 32)) * frame;
        frame = Vector256.LoadUnsafe(ref from, 24);
        aOdd = Lane.Multiply(Vector256.Create(Unsafe.Add(ref weight, 3)), frame, aOdd);
        bEven = Lane.Multiply(Vector256.Create(Unsafe.Add(ref weight, 18)), frame, bEven);
        var cOdd = Vector256.Create(Unsafe.Add(ref weight, 33)) * frame;
        var dEven = Vector256.Create(Unsafe.Add(ref weight, 48)) * frame;
        frame = Vector256.LoadUnsafe(ref from, 32);
        aEven = Lane.Multiply(Vector256.Create(Unsafe.Add(ref weight, 4)), frame, aEven);
        bOdd = Lane.Multiply(Vector256.Create(Unsafe.Add(ref weight, 19)), frame, bOdd);
        cEven = Lane.Multiply(Vector256.Create(Unsafe.Add(ref weight, 34)), frame, cEven);
        var dOdd = Vector256.Create(Unsafe.Add(ref weight, 49)) * frame;
        frame = Vector256.LoadUnsafe(ref from, 40);
        aOdd = Lane.Multiply(Vector256.Create(Unsafe.Add(ref weight, 5)), frame, aOdd);
        bEven = Lane.Multiply(Vector256.Create(Unsafe.Add(ref weight, 20)), frame, bEven);
        cOdd = Lane.Multiply(Vector256.Create(Unsafe.Add(ref weight, 35)), frame, cOdd);
        dEven = Lane.Multiply(Vector256.Create(Unsafe.Add(ref weight, 50)), frame, dEven);
        frame = Vector256.LoadUnsafe(ref from, 48);
        aEven = Lane.Multiply(Vector256.Create(Unsafe.Add(ref weight, 6)), frame, aEven);
        bOdd = Lane.Multiply(Vector256.Create(Unsafe.Add(ref weight, 21)), frame, bOdd);
        cEven = Lane.Multiply(Vector256.Create(Unsafe.Add(ref weight, 36)), frame, cEven);
        dOdd = Lane.Multiply(Vector256.Create(Unsafe.Add(ref weight, 51)), frame, dOdd);
        frame = Vector256.LoadUnsafe(ref from, 56);
        aOdd = Lane.Multiply(Vector256.Create(Unsafe.Add(ref weight, 7)), frame, aOdd);
        bEven = Lane.Multiply(Vector256.Create(Unsafe.Add(ref weight, 22)), frame, bEven);
        cOdd = Lane.Multiply(Vector256.Create(Unsafe.Add(ref weight, 37)), frame, cOdd);
        dEven = Lane.Multiply(Vector256.Create(Unsafe.Add(ref weight, 52)), frame, dEven);
        frame = Vector256.LoadUnsafe(ref from, 64);
        aEven = Lane.Multiply(Vector256.Create(Unsafe.Add(ref weight, 8)), frame, aEven);
        bOdd = Lane.Multiply(Vector256.Create(Unsafe.Add(ref weight, 23)), frame, bOdd);
        cEven = Lane.Multiply(Vector256.Create(Unsafe.Add(ref weight, 38)), frame, cEven);
        dOdd = Lane.Multiply(Vector256.Create(Unsafe.Add(ref weight, 53)), frame, dOdd);
        frame = Vector256.LoadUnsafe(ref from, 72);
        aOdd = Lane.Multiply(Vector256.Create(Unsafe.Add(ref weight, 9)), frame, aOdd);
        bEven = Lane.Multiply(Vector256.Create(Unsafe.Add(ref weight, 24)), frame, bEven);
        cOdd = Lane.Multiply(Vector256.Create(Unsafe.Add(ref weight, 39)), frame, cOdd);
        dEven = Lane.Multiply(Vector256.Create(Unsafe.Add(ref weight, 54)), frame, dEven);
        frame = Vector256.LoadUnsafe(ref from, 80);
        aEven = Lane.Multiply(Vector256.Create(Unsafe.Add(ref weight, 10)), frame, aEven);
        bOdd = Lane.Multiply(Vector256.Create(Unsafe.Add(ref weight, 25)), frame, bOdd);
        cEven = Lane.Multiply(Vector256.Create(Unsafe.Add(ref weight, 40)), frame, cEven);
        dOdd = Lane.Multiply(Vector256.Create(Unsafe.Add(ref weight, 55)), frame, dOdd);
        frame = Vector256.LoadUnsafe(ref from, 88);
        aOdd = Lane.Multiply(Vector256.Create(Unsafe.Add(ref weight, 11)), frame, aOdd);
        bEven = Lane.Multiply(Vector256.Create(Unsafe.Add(ref weight, 26)), frame, bEven);
        cOdd = Lane.Multiply(Vector256.Create(Unsafe.Add(ref weight, 41)), frame, cOdd);
        dEven = Lane.Multiply(Vector256.Create(Unsafe.Add(ref weight, 56)), frame, dEven);
        frame = Vector256.LoadUnsafe(ref from, 96);
        aEven = Lane.Multiply(Vector256.Create(Unsafe.Add(ref weight, 12)), frame, aEven);
        bOdd = Lane.Multiply(Vector256.Create(Unsafe.Add(ref weight, 27)), frame, bOdd);
        cEven = Lane.Multiply(Vector256.Create(Unsafe.Add(ref weight, 42)), frame, cEven);
        dOdd = Lane.Multiply(Vector256.Create(Unsafe.Add(ref weight, 57)), frame, dOdd);
        frame = Vector256.LoadUnsafe(ref from, 104);
        aOdd = Lane.Multiply(Vector256.Create(Unsafe.Add(ref weight, 13)), frame, aOdd);
        bEven = Lane.Multiply(Vector256.Create(Unsafe.Add(ref weight, 28)), frame, bEven);
        cOdd = Lane.Multiply(Vector256.Create(Unsafe.Add(ref weight, 43)), frame, cOdd);
        dEven = Lane.Multiply(Vector256.Create(Unsafe.Add(ref weight, 58)), frame, dEven);
        frame = Vector256.LoadUnsafe(ref from, 112);
        aEven = Lane.Multiply(Vector256.Create(Unsafe.Add(ref weight, 14)), frame, aEven);
        bOdd = Lane.Multiply(Vector256.Create(Unsafe.Add(ref weight, 29)), frame, bOdd);
        cEven = Lane.Multiply(Vector256.Create(Unsafe.Add(ref weight, 44)), frame, cEven);
        dOdd = Lane.Multiply(Vector256.Create(Unsafe.Add(ref weight, 59)), frame, dOdd);
        frame = Vector256.LoadUnsafe(ref from, 120);
        aOdd = Lane.Multiply(Vector256.Create(Unsafe.Add(ref weight, 15)), frame, aOdd);
        bEven = Lane.Multiply(Vector256.Create(Unsafe.Add(ref weight, 30)), frame, bEven);
        cOdd = Lane.Multiply(Vector256.Create(Unsafe.Add(ref weight, 45)), frame, cOdd);
        dEven = Lane.Multiply(Vector256.Create(Unsafe.Add(ref weight, 60)), frame, dEven);
        frame = Vector256.LoadUnsafe(ref from, 128);
        bOdd = Lane.Multiply(Vector256.Create(Unsafe.Add(ref weight, 31)), frame, bOdd);
        cEven = Lane.Multiply(Vector256.Create(Unsafe.Add(ref weight, 46)), frame, cEven);
        dOdd = Lane.Multiply(Vector256.Create(Unsafe.Add(ref weight, 61)), frame, dOdd);
        frame = Vector256.LoadUnsafe(ref from, 136);
        cOdd = Lane.Multiply(Vector256.Create(Unsafe.Add(ref weight, 47)), frame, cOdd);
        dEven = Lane.Multiply(Vector256.Create(Unsafe.Add(ref weight, 62)), frame, dEven);
        frame = Vector256.LoadUnsafe(ref from, 144);
        dOdd = Lane.Multiply(Vector256.Create(Unsafe.Add(ref weight, 63)), frame, dOdd);
        (aEven + aOdd).StoreUnsafe(ref target);
        (bEven + bOdd).StoreUnsafe(ref target, 8);
        (cEven + cOdd).StoreUnsafe(ref target, 16);
        (dEven + dOdd).StoreUnsafe(ref target, 24);
    }

    // The Fourier transform of the interpolating curve, by its table.
    private double ResponseOf(double frequency)
    {
        var sum = 0.0;
        for (var phase = 0; phase < PhaseCount; phase += 8)
        {
            for (var tap = 0; tap < TapCount; tap++)
            {
                var distance = tap - FramesBefore - ((double)phase / PhaseCount);
                sum += _table[(phase * 2 * TapCount) + tap] * Math.Cos(2 * Math.PI * frequency * distance);
            }
        }

        return sum * 8 / PhaseCount;
    }

    private static void WeightsAt(double fraction, Span<double> weights)
    {
        var sum = 0.0;
        for (var tap = 0; tap < TapCount; tap++)
        {
            var distance = fraction - (tap - FramesBefore);
            var relative = distance / (TapCount / 2.0);
            var window = Math.Abs(relative) < 1 ? BesselI0(Beta * Math.Sqrt(1 - (relative * relative))) / BesselI0(Beta) : 0;
            weights[tap] = window * (distance == 0 ? 1 : Math.Sin(Math.PI * distance) / (Math.PI * distance));
            sum += weights[tap];
        }

        for (var tap = 0; tap < TapCount; tap++) weights[tap] /= sum;
    }

    // Modified Bessel function of order zero by its power series (Abramowitz and Stegun 9.6.12).
    private static double BesselI0(double x)
    {
        var (sum, term) = (1.0, 1.0);
        for (var k = 1; term > 1e-17 * sum; k++)
        {
            term *= x * x / (4.0 * k * k);
            sum += term;
        }

        return sum;
    }
}
