namespace Leadwright.Core.Signals.Flicker;

/// <summary>Block 5 of the flickermeter: how long P<sub>inst</sub> stood at which level, and P<sub>st</sub> from that.</summary>
/// <remarks>
/// <para>Classes are 1/512 of an octave wide, from 2⁻²⁴ to 2¹⁶; within a class levels are taken as evenly spread, so that
/// P<sub>st</sub> is off by less than a thousandth. Values outside go to the outermost class; NaN is not counted.</para>
/// <para>IEC 61000-4-15 Ed. 2 clause 5.7.2: Pst = √(0.0314·P0.1 + 0.0525·P1s + 0.0657·P3s + 0.28·P10s + 0.08·P50s).</para>
/// </remarks>
public sealed class FlickerClassifier
{
    private const int FinenessBits = 9;
    private const int LowestExponent = -24;
    private const int Octaves = 40;
    private const int Shift = 23 - FinenessBits;
    private const int FirstClass = (127 + LowestExponent) << FinenessBits;

    private readonly int[] _counts = new int[Octaves << FinenessBits];

    /// <summary>Values counted so far.</summary>
    public long Count { get; private set; }

    /// <summary>Forgets everything.</summary>
    public void Clear()
    {
        _counts.AsSpan().Clear();
        Count = 0;
    }

    /// <summary>Carries the state out or in.</summary>
    internal void Carry(StateCarrier carrier)
    {
        carrier.Carry(_counts.AsSpan());
        var count = Count;
        carrier.Carry(ref count);
        Count = count;
    }

    /// <summary>Counts a value.</summary>
    /// <param name="pinst">The instantaneous flicker sensation.</param>
    public void Add(double pinst)
    {
        if (double.IsNaN(pinst)) return;
        var index = (int)(BitConverter.SingleToUInt32Bits((float)Math.Max(pinst, 0)) >> Shift) - FirstClass;
        _counts[Math.Clamp(index, 0, _counts.Length - 1)]++;
        Count++;
    }

    /// <summary>The level that is exceeded during a share of the time.</summary>
    /// <param name="percent">The share, percent.</param>
    /// <returns>The level; NaN when nothing was counted.</returns>
    public double Exceeded(double percent)
    {
        if (Count == 0) return double.NaN;
        var above = percent / 100 * Count;
        for (var index = _counts.Length - 1; index >= 0; index--)
        {
            var count = _counts[index];
            if (count > 0 && above <= count)
                return LowerBound(index + 1) + (above / count * (LowerBound(index) - LowerBound(index + 1)));
            above -= count;
        }

        return LowerBound(0);
    }

    /// <summary>The short-term severity of what was counted.</summary>
    /// <returns>P<sub>st</sub>; NaN when nothing was counted.</returns>
    public double Pst()
    {
        var p50 = (Exceeded(30) + Exceeded(50) + Exceeded(80)) / 3;
        var p10 = (Exceeded(6) + Exceeded(8) + Exceeded(10) + Exceeded(13) + Exceeded(17)) / 5;
        var p3 = (Exceeded(2.2) + Exceeded(3) + Exceeded(4)) / 3;
        var p1 = (Exceeded(0.7) + Exceeded(1) + Exceeded(1.5)) / 3;
        return Math.Sqrt((0.0314 * Exceeded(0.1)) + (0.0525 * p1) + (0.0657 * p3) + (0.28 * p10) + (0.08 * p50));
    }

    /// <summary>The long-term severity: the cube root of the mean cube.</summary>
    /// <param name="pst">Consecutive short-term values; twelve make two hours.</param>
    /// <returns>P<sub>lt</sub>; NaN when there are none or one is NaN.</returns>
    public static double Plt(ReadOnlySpan<double> pst)
    {
        var sum = 0.0;
        foreach (var value in pst) sum += value * value * value;
        return pst.IsEmpty ? double.NaN : Math.Cbrt(sum / pst.Length);
    }

    private static double LowerBound(int index) => BitConverter.UInt32BitsToSingle((uint)(index + FirstClass) << Shift);
}
