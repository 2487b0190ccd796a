using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using Leadwright.Core.Signals.Lanes;

namespace Leadwright.Core.Signals.Windows;

/// <summary>Means over a window of squares and products of the lanes, and their peaks.</summary>
internal sealed class WindowSums
{
    // Frames added up in single precision before they go into double: keeps rounding near 1e-7.
    private const int Block = 32;

    private const int RowCount = 4;
    private readonly double[] _means = new double[RowCount * Lane.Count];

    /// <summary>Mean square of each lane.</summary>
    public ReadOnlySpan<double> Squares => _means.AsSpan(0, Lane.Count);

    /// <summary>Mean of each voltage with the current of its own line (lanes 0 to 3).</summary>
    public ReadOnlySpan<double> OwnProducts => _means.AsSpan(Lane.Count, Lane.Count);

    /// <summary>Mean of each lane with the next phase's: over lane 0 of 0 and 1, over 1 of 1 and 2, over 2 of 2 and 0.</summary>
    public ReadOnlySpan<double> NextProducts => _means.AsSpan(2 * Lane.Count, Lane.Count);

    /// <summary>Mean of the voltage before with each line's current: over lane 0 of V31 and I1, and so on.</summary>
    public ReadOnlySpan<double> PreviousProducts => _means.AsSpan(3 * Lane.Count, Lane.Count);

    /// <summary>Largest instantaneous size of each lane.</summary>
    public float[] Peaks { get; } = new float[Lane.Count];

    /// <summary>Works through a window.</summary>
    /// <param name="frames">The window's frames, a multiple of 32.</param>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public void Take(ReadOnlySpan<float> frames)
    {
        var count = frames.Length / Lane.Count;
        ref var origin = ref Lane.Origin(frames);
        ref var means = ref _means[0];
        _means.AsSpan().Clear();
        var peak = Vector256<float>.Zero;
        nuint at = 0;
        for (var first = 0; first < count; first += Block)
        {
            Vector256<float> square = default, own = default, next = default, previous = default;
            for (var index = first; index < first + Block; index++)
            {
                var value = Vector256.LoadUnsafe(ref origin, at);
                at += Lane.Count;
                var exchanged = Lane.HalvesExchanged(value);
                square = Lane.Multiply(value, value, square);
                own = Lane.Multiply(value, exchanged, own);
                next = Lane.Multiply(value, Lane.NextPhase(value), next);
                previous = Lane.Multiply(Lane.PreviousPhase(value), exchanged, previous);
                peak = Vector256.Max(peak, Vector256.Abs(value));
            }

            Accumulate(ref means, 0, square);
            Accumulate(ref means, 1, own);
            Accumulate(ref means, 2, next);
            Accumulate(ref means, 3, previous);
        }

        for (var index = 0; index < _means.Length; index++) _means[index] /= count;
        peak.CopyTo(Peaks);
    }

    private static void Accumulate(ref double means, int row, Vector256<float> sum)
    {
        var (low, high) = Vector256.Widen(sum);
        var at = (nuint)(row * Lane.Count);
        (Vector256.LoadUnsafe(ref means, at) + low).StoreUnsafe(ref means, at);
        (Vector256.LoadUnsafe(ref means, at + 4) + high).StoreUnsafe(ref means, at + 4);
    }
}
