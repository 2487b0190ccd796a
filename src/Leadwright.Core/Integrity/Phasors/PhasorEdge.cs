namespace Leadwright.Core.Integrity.Phasors;

/// <summary>Finds the row in which leads or clamps were moved.</summary>
internal static class PhasorEdge
{
    private const int LeastRows = 4;

    /// <summary>So many blocks on both sides, where they are of the same states.</summary>
    private const int Reach = 20;

    /// <summary>The first row behind a change between two blocks: the rows on both sides answer by their own laws, and stand by them at levels of their own, since the supply's unbalance shows otherwise too.</summary>
    /// <param name="blocks">The blocks.</param>
    /// <param name="states">The state of each.</param>
    /// <param name="bases">What one unit of each impedance makes of the voltages, by state.</param>
    /// <param name="law">The impedances.</param>
    /// <param name="block">The first block behind the change.</param>
    public static int Find(PhasorBlocks blocks, int[] states, double[][][,] bases, PhasorLaw law, int block)
    {
        var (before, behind, source) = (states[block - 1], states[block], blocks.Rows);
        // By night blocks hardly say which they are of: a lead that lets go shows in where the voltages stand.
        int first = Math.Max(1, (block - Reach) * blocks.PerBlock), last = Math.Min(blocks.RowCount - 1, ((block + Reach) * blocks.PerBlock) - 1);
        for (var at = block - 1; at >= Math.Max(0, block - Reach); at--)
        {
            if (states[at] != before) { first = Math.Max(1, (at + 1) * blocks.PerBlock); break; }
        }

        for (var at = block; at < Math.Min(blocks.Count, block + Reach); at++)
        {
            if (states[at] != behind) { last = Math.Min(blocks.RowCount - 1, (at * blocks.PerBlock) - 1); break; }
        }

        double[,] then = law.Of(bases[before]), now = law.Of(bases[behind]);
        int[] rows = [.. Enumerable.Range(first, last - first + 1).Where(row => blocks.Tells(row))];
        if (rows.Length < 2 * LeastRows) return block * blocks.PerBlock;
        var levels = new PhasorLevels(source, rows, then, now);
        double[] asThen = [.. rows.Select(row => source.Say(row, then))], asNow = [.. rows.Select(row => source.Say(row, now))], any = [.. rows.Select(source.SayAny)];
        var (best, most, sum) = (block * blocks.PerBlock, double.NegativeInfinity, asThen[0] - asNow[0]);
        for (var index = 1; index + 1 < rows.Length; index++)
        {
            // The row of the change itself answers to neither; nor does the one before where it fell within that.
            var whole = sum + any[index] - asNow[index] + levels.Say(index, isMixed: false);
            if (whole > most) (best, most) = (rows[index], whole);
            var mixed = sum - asThen[index - 1] + any[index - 1] + any[index] - asNow[index] + levels.Say(index, isMixed: true);
            if (index > 1 && mixed > most) (best, most) = (rows[index - 1], mixed);
            sum += asThen[index] - asNow[index];
        }

        return best;
    }
}
