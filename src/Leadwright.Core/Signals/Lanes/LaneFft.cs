using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace Leadwright.Core.Signals.Lanes;

/// <summary>Fourier transform of eight real signals at once, one in each vector lane.</summary>
/// <remarks>
/// <para>X[k] = Σ x[n]·e^(−j2πkn/N), without scaling. Two real samples in a row make one complex one, so that a complex
/// transform of half the length does; Stockham's radix-4 steps, which need no reordering, then the usual separation
/// (W. H. Press et al., Numerical Recipes, on the transform of real functions; textbook, from memory).</para>
/// <para>A plan owns its tables and allocates nothing afterwards. Not thread-safe: it owns its buffers too.</para>
/// <para>A NaN in a lane makes that lane NaN and no other.</para>
/// </remarks>
public sealed class LaneFft
{
    private readonly int _half;
    private readonly float[] _first;
    private readonly float[] _second;
    private readonly float[] _twiddles;
    private readonly float[] _separation;

    /// <summary>Plans a transform.</summary>
    /// <param name="length">Real samples, N: a power of two, at least 8.</param>
    /// <exception cref="ArgumentOutOfRangeException">The length is no power of two, or below 8.</exception>
    public LaneFft(int length)
    {
        if (length < 8 || (length & (length - 1)) != 0)
            throw new ArgumentOutOfRangeException(nameof(length), length, "The length must be a power of two, at least 8.");
        Length = length;
        _half = length / 2;
        _first = GC.AllocateArray<float>(_half * 2 * Lane.Count, pinned: true);
        _second = GC.AllocateArray<float>(_half * 2 * Lane.Count, pinned: true);
        // Three twiddles for each butterfly of every pass, in the order in which the passes read them.
        var twiddles = new List<float>();
        for (var n = _half; n >= 4; n /= 4)
        {
            for (var p = 0; p < n / 4; p++)
            {
                for (var power = 1; power <= 3; power++)
                {
                    var (sine, cosine) = Math.SinCos(-2 * Math.PI * power * p / n);
                    twiddles.Add((float)cosine);
                    twiddles.Add((float)sine);
                }
            }
        }

        _twiddles = [.. twiddles];
        _separation = new float[2 * (_half + 1)];
        for (var k = 0; k <= _half; k++)
        {
            var (sine, cosine) = Math.SinCos(-2 * Math.PI * k / length);
            _separation[2 * k] = (float)cosine;
            _separation[(2 * k) + 1] = (float)sine;
        }
    }

    /// <summary>Real samples, N.</summary>
    public int Length { get; }

    /// <summary>Where the samples go before <see cref="Transform"/>: N frames. Overwritten by it.</summary>
    public Span<float> Input => _first;

    /// <summary>Transforms what stands in <see cref="Input"/>.</summary>
    /// <param name="bins">Receives bins 0 to <paramref name="binCount"/> − 1, for each a frame of real parts and a frame of
    /// imaginary parts.</param>
    /// <param name="binCount">Bins wanted, at most N/2 + 1.</param>
    /// <exception cref="ArgumentOutOfRangeException">More bins are asked for than there are.</exception>
    /// <exception cref="ArgumentException"><paramref name="bins"/> is too short.</exception>
    public void Transform(Span<float> bins, int binCount)
    {
        ArgumentOutOfRangeException.ThrowIfGreaterThan(binCount, _half + 1);
        if (bins.Length < binCount * 2 * Lane.Count)
            throw new ArgumentException("The span must hold two frames for each bin.", nameof(bins));
        var (source, target) = (_first, _second);
        var (n, stride, twiddle) = (_half, 1, 0);
        while (n >= 4)
        {
            RadixFour(ref source[0], ref target[0], ref _twiddles[twiddle], n, stride);
            (source, target) = (target, source);
            twiddle += 6 * (n / 4);
            n /= 4;
            stride *= 4;
        }

        if (n == 2)
        {
            RadixTwo(ref source[0], ref target[0], stride);
            source = target;
        }

        Separate(ref source[0], ref Lane.Origin(bins), binCount);
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void RadixFour(ref float source, ref float target, ref float twiddles, int n, int stride)
    {
        var quarter = n / 4;
        for (var p = 0; p < quarter; p++)
        {
            var w1Real = Vector256.Create(Unsafe.Add(ref twiddles, 6 * p));
            var w1Imaginary = Vector256.Create(Unsafe.Add(ref twiddles, (6 * p) + 1));
            var w2Real = Vector256.Create(Unsafe.Add(ref twiddles, (6 * p) + 2));
            var w2Imaginary = Vector256.Create(Unsafe.Add(ref twiddles, (6 * p) + 3));
            var w3Real = Vector256.Create(Unsafe.Add(ref twiddles, (6 * p) + 4));
            var w3Imaginary = Vector256.Create(Unsafe.Add(ref twiddles, (6 * p) + 5));
            var step = (nuint)(2 * Lane.Count * stride * quarter);
            var next = (nuint)(2 * Lane.Count * stride);
            var at = (nuint)(2 * Lane.Count * stride * p);
            var to = 4 * at;
            for (var q = 0; q < stride; q++)
            {
                var aReal = Vector256.LoadUnsafe(ref source, at);
                var aImaginary = Vector256.LoadUnsafe(ref source, at + 8);
                var bReal = Vector256.LoadUnsafe(ref source, at + step);
                var bImaginary = Vector256.LoadUnsafe(ref source, at + step + 8);
                var cReal = Vector256.LoadUnsafe(ref source, at + (2 * step));
                var cImaginary = Vector256.LoadUnsafe(ref source, at + (2 * step) + 8);
                var dReal = Vector256.LoadUnsafe(ref source, at + (3 * step));
                var dImaginary = Vector256.LoadUnsafe(ref source, at + (3 * step) + 8);
                var (sumReal, sumImaginary) = (aReal + cReal, aImaginary + cImaginary);
                var (differenceReal, differenceImaginary) = (aReal - cReal, aImaginary - cImaginary);
                var (oddReal, oddImaginary) = (bReal + dReal, bImaginary + dImaginary);
                // j(b − d)
                var (turnedReal, turnedImaginary) = (dImaginary - bImaginary, bReal - dReal);

                (sumReal + oddReal).StoreUnsafe(ref target, to);
                (sumImaginary + oddImaginary).StoreUnsafe(ref target, to + 8);
                var (real, imaginary) = (differenceReal - turnedReal, differenceImaginary - turnedImaginary);
                ((real * w1Real) - (imaginary * w1Imaginary)).StoreUnsafe(ref target, to + next);
                Lane.Multiply(real, w1Imaginary, imaginary * w1Real).StoreUnsafe(ref target, to + next + 8);
                (real, imaginary) = (sumReal - oddReal, sumImaginary - oddImaginary);
                ((real * w2Real) - (imaginary * w2Imaginary)).StoreUnsafe(ref target, to + (2 * next));
                Lane.Multiply(real, w2Imaginary, imaginary * w2Real).StoreUnsafe(ref target, to + (2 * next) + 8);
                (real, imaginary) = (differenceReal + turnedReal, differenceImaginary + turnedImaginary);
                ((real * w3Real) - (imaginary * w3Imaginary)).StoreUnsafe(ref target, to + (3 * next));
                Lane.Multiply(real, w3Imaginary, imaginary * w3Real).StoreUnsafe(ref target, to + (3 * next) + 8);
                at += 2 * Lane.Count;
                to += 2 * Lane.Count;
            }
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void RadixTwo(ref float source, ref float target, int stride)
    {
        for (var frame = 0; frame < 2 * stride; frame++)
        {
            var a = Lane.Load(ref source, frame);
            var b = Lane.Load(ref source, frame + (2 * stride));
            (a + b).Store(ref target, frame);
            (a - b).Store(ref target, frame + (2 * stride));
        }
    }

    // X[k] = (Z[k] + Z*[M−k])/2 − j·e^(−j2πk/N)·(Z[k] − Z*[M−k])/2
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private void Separate(ref float source, ref float bins, int binCount)
    {
        var mask = _half - 1;
        var oneHalf = Vector256.Create(0.5f);
        for (var k = 0; k < binCount; k++)
        {
            var forward = 2 * (k & mask);
            var backward = 2 * ((_half - k) & mask);
            var zReal = Lane.Load(ref source, forward);
            var zImaginary = Lane.Load(ref source, forward + 1);
            var yReal = Lane.Load(ref source, backward);
            var yImaginary = Lane.Load(ref source, backward + 1);
            var evenReal = oneHalf * (zReal + yReal);
            var evenImaginary = oneHalf * (zImaginary - yImaginary);
            var oddReal = oneHalf * (zImaginary + yImaginary);
            var oddImaginary = oneHalf * (yReal - zReal);
            var cosine = Vector256.Create(_separation[2 * k]);
            var sine = Vector256.Create(_separation[(2 * k) + 1]);
            (evenReal + ((oddReal * cosine) - (oddImaginary * sine))).Store(ref bins, 2 * k);
            (evenImaginary + Lane.Multiply(oddReal, sine, oddImaginary * cosine)).Store(ref bins, (2 * k) + 1);
        }
    }
}
