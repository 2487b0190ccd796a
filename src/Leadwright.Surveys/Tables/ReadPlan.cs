namespace Leadwright.Surveys.Tables;

/// <summary>From where a span is read, and in which buckets.</summary>
/// <param name="Level">Level of the pyramid; −1 for the table itself.</param>
/// <param name="WidthTicks">Length of a bucket.</param>
/// <param name="AreRows">True when the rows are few enough to be given as they stand.</param>
internal readonly record struct ReadPlan(int Level, long WidthTicks, bool AreRows)
{
    // Fewer blocks than these in a bucket would round its width too coarsely. The lowest level is worth more rounding than reading every row.
    private const int LeastBlocks = 3;
    private const int LeastLowestBlocks = 2;

    /// <summary>Chooses.</summary>
    /// <param name="spanTicks">Length of the span; above zero.</param>
    /// <param name="buckets">How many buckets are wanted at most.</param>
    /// <param name="intervalTicks">Length of an interval.</param>
    /// <param name="levels">Levels of the pyramid.</param>
    public static ReadPlan Of(long spanTicks, int buckets, long intervalTicks, int levels)
    {
        if (spanTicks / intervalTicks < buckets) return new(-1, intervalTicks, true);
        return Bucketed(spanTicks, buckets, intervalTicks, levels);
    }

    public static ReadPlan Bucketed(long spanTicks, int buckets, long intervalTicks, int levels)
    {
        var wanted = Up(spanTicks, buckets);
        for (var level = levels - 1; level >= 0; level--)
        {
            var block = PyramidGrid.TicksOf(level, intervalTicks);
            if (wanted >= block * (level == 0 ? LeastLowestBlocks : LeastBlocks)) return new(level, Up(wanted, block) * block, false);
        }

        return new(-1, Up(wanted, intervalTicks) * intervalTicks, false);
    }

    public static long Down(long ticks, long unit) => ticks - (ticks % unit);

    private static long Up(long ticks, long unit) => ((ticks - 1) / unit) + 1;
}
