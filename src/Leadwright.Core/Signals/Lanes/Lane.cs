using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace Leadwright.Core.Signals.Lanes;

/// <summary>How channels lie side by side: a frame is one sample of each of eight channels, single precision, in order.</summary>
/// <remarks>
/// <para>Lanes 0 to 3 hold voltages (V1 V2 V3 VN, or V12 V23 V31), lanes 4 to 7 the currents (I1 I2 I3 IN), so that a voltage and
/// the current of its line are half a vector apart. A lane without a channel holds zeros.</para>
/// <para>Single precision carries 24 bits, more than the converters of recorders; sums that grow long are kept in double.</para>
/// </remarks>
public static class Lane
{
    /// <summary>Channels in a frame.</summary>
    public const int Count = 8;

    /// <summary>Lanes of voltages: the first half.</summary>
    public const int VoltageCount = 4;

    internal static Vector256<float> Load(ref float origin, int frame) =>
        Vector256.LoadUnsafe(ref origin, (nuint)(frame * Count));

    internal static void Store(this Vector256<float> value, ref float origin, int frame) =>
        value.StoreUnsafe(ref origin, (nuint)(frame * Count));

    /// <summary>left × right + addend, fused where the machine can.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    internal static Vector256<float> Multiply(Vector256<float> left, Vector256<float> right, Vector256<float> addend) =>
        Vector256.MultiplyAddEstimate(left, right, addend);

    /// <summary>The halves exchanged: over each voltage the current of its line, and the other way round.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    internal static Vector256<float> HalvesExchanged(Vector256<float> frame) =>
        Vector256.Create(frame.GetUpper(), frame.GetLower());

    /// <summary>Over lanes 0, 1, 2 the values of 1, 2, 0; the same in the upper half.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    internal static Vector256<float> NextPhase(Vector256<float> frame) =>
        Vector256.Shuffle(frame, Vector256.Create(1, 2, 0, 3, 5, 6, 4, 7));

    /// <summary>Over lanes 0, 1, 2 the values of 2, 0, 1; the same in the upper half.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    internal static Vector256<float> PreviousPhase(Vector256<float> frame) =>
        Vector256.Shuffle(frame, Vector256.Create(2, 0, 1, 3, 6, 4, 5, 7));

    internal static ref float Origin(Span<float> frames) => ref MemoryMarshal.GetReference(frames);

    internal static ref float Origin(ReadOnlySpan<float> frames) => ref MemoryMarshal.GetReference(frames);
}
