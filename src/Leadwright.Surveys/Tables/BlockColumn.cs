using Leadwright.Core.Logs;

namespace Leadwright.Surveys.Tables;

/// <summary>Summaries of one column, a block each: smallest, largest, sum and number of the values that are there, and the worst standing.</summary>
/// <remarks>A NaN is a value that is not there. Infinities are values: the sum of both is NaN, as in any arithmetic.</remarks>
internal sealed class BlockColumn
{
    public BlockColumn(int capacity)
    {
        Least = new double[capacity];
        Greatest = new double[capacity];
        Sums = new double[capacity];
        Counts = new int[capacity];
        Worst = new byte[capacity];
        Clear(0, capacity);
    }

    public double[] Least { get; private set; }

    public double[] Greatest { get; private set; }

    public double[] Sums { get; private set; }

    public int[] Counts { get; private set; }

    public byte[] Worst { get; private set; }

    /// <summary>Adds values of rows to a block.</summary>
    public void Add(int block, ReadOnlySpan<double> values, ReadOnlySpan<Standing> standings)
    {
        var (least, greatest, sum, count) = (Least[block], Greatest[block], Sums[block], Counts[block]);
        foreach (var value in values)
        {
            if (double.IsNaN(value)) continue;
            if (value < least) least = value;
            if (value > greatest) greatest = value;
            sum += value;
            count++;
        }

        (Least[block], Greatest[block], Sums[block], Counts[block]) = (least, greatest, sum, count);
        foreach (var standing in standings) Worst[block] = Math.Max(Worst[block], (byte)standing);
    }

    /// <summary>Adds a summary to a block.</summary>
    public void Add(int block, double least, double greatest, double sum, int count, byte worst)
    {
        Worst[block] = Math.Max(Worst[block], worst);
        if (count == 0) return;
        if (least < Least[block]) Least[block] = least;
        if (greatest > Greatest[block]) Greatest[block] = greatest;
        Sums[block] += sum;
        Counts[block] += count;
    }

    /// <summary>Makes room.</summary>
    public void Grow(int capacity)
    {
        var before = Counts.Length;
        if (capacity <= before) return;
        Least = Grown(Least, capacity);
        Greatest = Grown(Greatest, capacity);
        Sums = Grown(Sums, capacity);
        Counts = Grown(Counts, capacity);
        Worst = Grown(Worst, capacity);
        Clear(before, capacity - before);
    }

    /// <summary>Drops the first blocks.</summary>
    public void Drop(int dropped, int count)
    {
        var kept = count - dropped;
        Array.Copy(Least, dropped, Least, 0, kept);
        Array.Copy(Greatest, dropped, Greatest, 0, kept);
        Array.Copy(Sums, dropped, Sums, 0, kept);
        Array.Copy(Counts, dropped, Counts, 0, kept);
        Array.Copy(Worst, dropped, Worst, 0, kept);
        Clear(kept, dropped);
    }

    private static T[] Grown<T>(T[] array, int capacity)
    {
        Array.Resize(ref array, capacity);
        return array;
    }

    private void Clear(int from, int count)
    {
        Array.Fill(Least, double.PositiveInfinity, from, count);
        Array.Fill(Greatest, double.NegativeInfinity, from, count);
        Array.Clear(Sums, from, count);
        Array.Clear(Counts, from, count);
        Array.Clear(Worst, from, count);
    }
}
