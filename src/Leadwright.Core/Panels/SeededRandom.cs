namespace Leadwright.Core.Panels;

/// <summary>A small seeded source of random numbers: xoshiro256** filled by SplitMix64.</summary>
/// <remarks>
/// <para>The platform's own generator may change between versions; this one gives the same bits for the same seed on every
/// machine. <see cref="Gaussian"/> goes through the logarithm and the sine of the platform and may differ in the last
/// place from one platform to another.</para>
/// <para>Sources: D. Blackman, S. Vigna, "Scrambled linear pseudorandom number generators", ACM Trans. Math. Softw. 47
/// (2021) 36; G. L. Steele, D. Lea, C. H. Flood, "Fast splittable pseudorandom number generators", OOPSLA 2014. Not for
/// cryptography. Not thread-safe: give each thread its own <see cref="Fork"/>.</para>
/// </remarks>
public sealed class SeededRandom
{
    private readonly ulong _seed;
    private ulong _s0;
    private ulong _s1;
    private ulong _s2;
    private ulong _s3;
    private double _spareGaussian = double.NaN;

    /// <summary>Starts the sequence that belongs to a seed.</summary>
    /// <param name="seed">Any number, zero included.</param>
    public SeededRandom(ulong seed)
    {
        _seed = seed;
        var state = seed;
        _s0 = SplitMix64(ref state);
        _s1 = SplitMix64(ref state);
        _s2 = SplitMix64(ref state);
        _s3 = SplitMix64(ref state);
    }

    private SeededRandom(ulong s0, ulong s1, ulong s2, ulong s3)
    {
        (_seed, _s0, _s1, _s2, _s3) = (s0, s0, s1, s2, s3);
    }

    /// <summary>Starts from the four words of state, as the published test values do.</summary>
    /// <exception cref="ArgumentException">All four words are zero.</exception>
    public static SeededRandom FromState(ulong s0, ulong s1, ulong s2, ulong s3) =>
        (s0 | s1 | s2 | s3) == 0
            ? throw new ArgumentException("At least one of the four words of state must differ from zero.", nameof(s0))
            : new SeededRandom(s0, s1, s2, s3);

    /// <summary>One step of SplitMix64.</summary>
    /// <param name="state">Its state; moved on by the call.</param>
    public static ulong SplitMix64(ref ulong state)
    {
        state += 0x9E3779B97F4A7C15;
        var z = state;
        z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9;
        z = (z ^ (z >> 27)) * 0x94D049BB133111EB;
        return z ^ (z >> 31);
    }

    /// <summary>Another sequence that belongs to the same seed. It does not depend on how much of this one was used.</summary>
    /// <param name="stream">Number of the sequence.</param>
    public SeededRandom Fork(ulong stream)
    {
        var state = stream;
        var mixed = _seed ^ SplitMix64(ref state);
        return new SeededRandom(SplitMix64(ref mixed));
    }

    /// <summary>The next 64 bits.</summary>
    public ulong NextBits()
    {
        var result = ulong.RotateLeft(_s1 * 5, 7) * 9;
        var shifted = _s1 << 17;
        _s2 ^= _s0;
        _s3 ^= _s1;
        _s1 ^= _s2;
        _s0 ^= _s3;
        _s2 ^= shifted;
        _s3 = ulong.RotateLeft(_s3, 45);
        return result;
    }

    /// <summary>A number from 0 up to, but not including, 1.</summary>
    public double NextUnit() => (NextBits() >> 11) * (1.0 / (1UL << 53));

    /// <summary>A number between two limits, all alike.</summary>
    public double Uniform(double low, double high) => low + ((high - low) * NextUnit());

    /// <summary>A number between two limits above zero whose logarithm is uniform.</summary>
    public double LogUniform(double low, double high) => low * Math.Exp(Math.Log(high / low) * NextUnit());

    /// <summary>A whole number from 0 up to, but not including, <paramref name="count"/>.</summary>
    /// <exception cref="ArgumentOutOfRangeException"><paramref name="count"/> is below 1.</exception>
    public int Below(int count)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(count, 1);
        return (int)Math.BigMul(NextBits(), (ulong)count, out _);
    }

    /// <summary>True with a probability.</summary>
    public bool Chance(double probability) => NextUnit() < probability;

    /// <summary>A number of the normal distribution with mean 0 and standard deviation 1 (Box and Muller, Ann. Math.
    /// Statist. 29 (1958) 610).</summary>
    public double Gaussian()
    {
        if (!double.IsNaN(_spareGaussian))
        {
            var spare = _spareGaussian;
            _spareGaussian = double.NaN;
            return spare;
        }

        // 1 - u lies above 0, so the logarithm is finite.
        var radius = Math.Sqrt(-2 * Math.Log(1 - NextUnit()));
        var (sine, cosine) = Math.SinCos(2 * Math.PI * NextUnit());
        _spareGaussian = radius * sine;
        return radius * cosine;
    }
}
