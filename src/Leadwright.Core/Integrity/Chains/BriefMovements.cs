namespace Leadwright.Core.Integrity.Chains;

/// <summary>Takes out of a likeliest history what is over sooner than hands move a lead or clamp and put it back.</summary>
internal static class BriefMovements
{
    private const int LeastRows = 3;
    private const double LeastSeconds = 1200;
    private const int TooOften = 3;
    private const double SecondsOfOften = 7200;

    /// <summary>Puts state 0 where another lasts for less than three rows or twenty minutes, or for less than two hours three times or more: that is the sun's or a load's.</summary>
    /// <param name="history">The state of each row; 0 is the one in which nothing was moved. Changed in place.</param>
    /// <param name="intervalSeconds">Length of a row, seconds.</param>
    public static void Drop(Span<byte> history, double intervalSeconds)
    {
        foreach (var run in RunsOf(history))
        {
            if (run.Length < LeastRows || run.Length * intervalSeconds < LeastSeconds) history.Slice(run.From, run.Length).Clear();
        }

        foreach (var often in RunsOf(history).Where(run => run.Length * intervalSeconds < SecondsOfOften).GroupBy(run => run.State).Where(group => group.Count() >= TooOften))
        {
            foreach (var run in often) history.Slice(run.From, run.Length).Clear();
        }
    }

    /// <summary>The runs of rows in which something is moved.</summary>
    private static List<(byte State, int From, int Length)> RunsOf(ReadOnlySpan<byte> history)
    {
        var runs = new List<(byte State, int From, int Length)>();
        for (var row = 0; row < history.Length; row++)
        {
            var last = row;
            while (last + 1 < history.Length && history[last + 1] == history[row]) last++;
            if (history[row] != 0) runs.Add((history[row], row, last - row + 1));
            row = last;
        }

        return runs;
    }
}
