namespace Leadwright.Surveys.Tables;

/// <summary>The blocks of time of a pyramid. A block of a level lies on a multiple of its length since the least date, so that blocks of any two levels and of any
/// two surveys fit into each other.</summary>
internal static class PyramidGrid
{
    /// <summary>Intervals in a block of the lowest level.</summary>
    public const int LowestIntervals = 20;

    /// <summary>Blocks of a level in one of the next.</summary>
    public const int Step = 8;

    // A level is worth having while it is long.
    private const int LeastBlocks = 256;

    /// <summary>Levels of a table; none when it has no row.</summary>
    public static int LevelsOf(long rows)
    {
        var levels = rows > 0 ? 1 : 0;
        for (var intervals = (long)LowestIntervals * Step; rows / intervals >= LeastBlocks; intervals *= Step) levels++;
        return levels;
    }

    /// <summary>Length of a block, ticks.</summary>
    public static long TicksOf(int level, long intervalTicks)
    {
        var ticks = intervalTicks * LowestIntervals;
        for (; level > 0; level--) ticks *= Step;
        return ticks;
    }
}
