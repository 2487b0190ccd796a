using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using Leadwright.Core.Signals.Lanes;

namespace Leadwright.Core.Signals.Frequency;

/// <summary>One pass over the frames that gives, for blocks of a thirty-second of a cycle, the product with a carrier at nominal
/// frequency and the running sum of squares.</summary>
/// <remarks>Everything that follows the fundamental or the rms value within a cycle works on these, thirty-two a cycle,
/// instead of on the samples.</remarks>
internal sealed class BlockSums
{
    /// <summary>Blocks in a nominal cycle, about.</summary>
    public const int BlocksPerCycle = 32;

    private const int Capacity = 4096;

    private readonly double _carrierTurnsPerBlock;
    private readonly float[] _cosines;
    private readonly float[] _sines;
    private readonly float[] _products = new float[Capacity * 2 * Lane.Count];
    private readonly double[] _squares = new double[(Capacity + 1) * Lane.Count];
    private readonly int _kept;

    // Cosine and sine of the carrier at the start of each block, where they come round again after some blocks, as at all usual rates; else empty.
    private readonly float[] _turns;
    private int _count;

    /// <summary>Prepares the pass.</summary>
    /// <param name="rateHertz">Samples per second.</param>
    /// <param name="carrierHertz">The nominal line frequency.</param>
    /// <param name="kept">Blocks that stay at hand behind the newest.</param>
    public BlockSums(double rateHertz, double carrierHertz, int kept)
    {
        Length = Math.Max(1, (int)Math.Round(rateHertz / (BlocksPerCycle * carrierHertz)));
        _carrierTurnsPerBlock = Length * carrierHertz / rateHertz;
        _kept = kept;
        _cosines = new float[Length];
        _sines = new float[Length];
        for (var index = 0; index < Length; index++)
        {
            var (sine, cosine) = Math.SinCos(-2 * Math.PI * carrierHertz * index / rateHertz);
            (_cosines[index], _sines[index]) = ((float)cosine, (float)sine);
        }

        _turns = TurnsThatRepeat();
    }

    // At 10,240 samples a second and 50 Hz the carrier comes round every 512 blocks.
    private float[] TurnsThatRepeat()
    {
        for (var count = 1; count <= 4096; count++)
        {
            var whole = count * _carrierTurnsPerBlock;
            if (Math.Abs(whole - Math.Round(whole)) > 1e-12) continue;
            var turns = new float[2 * count];
            for (var block = 0; block < count; block++) (turns[2 * block], turns[(2 * block) + 1]) = TurnOf(block);
            return turns;
        }

        return [];
    }

    private (float Cosine, float Sine) TurnOf(long block)
    {
        if (_turns is { Length: > 0 })
        {
            var at = (int)(block % (_turns.Length / 2)) * 2;
            return (_turns[at], _turns[at + 1]);
        }

        var turns = block * _carrierTurnsPerBlock;
        var (sine, cosine) = Math.SinCos(-2 * Math.PI * (turns - Math.Floor(turns)));
        return ((float)cosine, (float)sine);
    }

    /// <summary>Frames in a block.</summary>
    public int Length { get; }

    /// <summary>Number of the oldest block at hand, counted from the start of the segment.</summary>
    public long FirstBlock { get; private set; }

    /// <summary>Number of the block after the newest.</summary>
    public long EndBlock => FirstBlock + _count;

    /// <summary>The products of a block: eight real parts, eight imaginary parts.</summary>
    public ReadOnlySpan<float> ProductsFrom(long block) => _products.AsSpan((int)(block - FirstBlock) * 2 * Lane.Count);

    /// <summary>The sum of the squares of all samples of a lane before a block.</summary>
    public double SquaresBefore(long block, int lane) => _squares[((int)(block - FirstBlock) * Lane.Count) + lane];

    /// <summary>Starts a new segment.</summary>
    public void Clear()
    {
        (_count, FirstBlock) = (0, 0);
        _squares.AsSpan(0, Lane.Count).Clear();
    }

    /// <summary>Carries the state out or in.</summary>
    public void Carry(StateCarrier carrier)
    {
        carrier.Carry(ref _count);
        var firstBlock = FirstBlock;
        carrier.Carry(ref firstBlock);
        FirstBlock = firstBlock;
        carrier.Carry(_products.AsSpan(0, _count * 2 * Lane.Count));
        carrier.Carry(_squares.AsSpan(0, (_count + 1) * Lane.Count));
    }

    /// <summary>Takes whole blocks of frames.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public void Add(ReadOnlySpan<float> frames)
    {
        var length = Length;
        var blocks = frames.Length / (length * Lane.Count);
        if (_count + blocks > Capacity) Drop();
        ref var frame = ref Lane.Origin(frames);
        ref var product = ref MemoryMarshal.GetArrayDataReference(_products);
        ref var squares = ref MemoryMarshal.GetArrayDataReference(_squares);
        ref var cosine = ref MemoryMarshal.GetArrayDataReference(_cosines);
        ref var sine = ref MemoryMarshal.GetArrayDataReference(_sines);
        nuint at = 0;
        for (var block = 0; block < blocks; block++)
        {
            var real = Vector256<float>.Zero;
            var imaginary = Vector256<float>.Zero;
            var square = Vector256<float>.Zero;
            for (var index = 0; index < length; index++)
            {
                var value = Vector256.LoadUnsafe(ref frame, at);
                at += Lane.Count;
                real = Lane.Multiply(value, Vector256.Create(Unsafe.Add(ref cosine, index)), real);
                imaginary = Lane.Multiply(value, Vector256.Create(Unsafe.Add(ref sine, index)), imaginary);
                square = Lane.Multiply(value, value, square);
            }

            var (turnCosine, turnSine) = TurnOf(FirstBlock + _count);
            var (across, along) = (Vector256.Create(turnSine), Vector256.Create(turnCosine));
            ((real * along) - (imaginary * across)).Store(ref product, 2 * _count);
            Lane.Multiply(real, across, imaginary * along).Store(ref product, (2 * _count) + 1);
            var (low, high) = Vector256.Widen(square);
            var row = (nuint)(_count * Lane.Count);
            (Vector256.LoadUnsafe(ref squares, row) + low).StoreUnsafe(ref squares, row + 8);
            (Vector256.LoadUnsafe(ref squares, row + 4) + high).StoreUnsafe(ref squares, row + 12);
            _count++;
        }
    }

    private void Drop()
    {
        var dropped = _count - Math.Min(_kept, _count);
        Array.Copy(_products, dropped * 2 * Lane.Count, _products, 0, (_count - dropped) * 2 * Lane.Count);
        Array.Copy(_squares, dropped * Lane.Count, _squares, 0, (_count - dropped + 1) * Lane.Count);
        FirstBlock += dropped;
        _count -= dropped;
    }
}
