using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Integrity.Chains;

/// <summary>Takes back what was said of leads, or of the supply's neutral, in the moments of a fault somewhere in the network.</summary>
/// <remarks>A dip lasts from half a cycle to a minute (IEEE 1159, sags; from memory), and where the network's star point is not held an earth fault moves it for as long: the voltages stand in the same
/// proportions as with a lead in the air that picks something up, or a neutral that is lost. But no hand takes a lead off and puts it back within that time, and no broken neutral
/// heals. A lead that reads next to nothing while its current goes on is let stand, since no dip goes so deep with the load kept. In rows of minutes a dip is a part of one row, and the chain's heavy tails
/// take it.</remarks>
internal static class SupplyDips
{
    private const double LongestSeconds = 60;
    private const double LongestRowSeconds = 10;

    /// <summary>A lead that is off reads less than this share of nominal; an open one that picks up more is told by its lasting.</summary>
    private const double NextToNothing = 0.1;
    private const double Beyond = 0.1;

    /// <summary>A lost line carries nothing; in a dip its load goes on, with less.</summary>
    private const double GoesOn = 0.3;

    public static void TakeBack(GuardFrame frame, VoltageState[] states, byte[] history)
    {
        if (frame.Log.IntervalSeconds > LongestRowSeconds) return;
        for (var row = 1; row < history.Length; row++)
        {
            if (history[row] == 0 || history[row - 1] != 0) continue;
            var last = row;
            var isDip = true;
            while (last < history.Length && history[last] != 0) isDip &= MayBeDip(frame, states[history[last]], row - 1, last++);
            if (last == history.Length) return;
            if (isDip && frame.Starts[last] - frame.Starts[row] < LongestSeconds * TimeSpan.TicksPerSecond) Array.Clear(history, row, last - row);
            row = last;
        }
    }

    /// <summary>The rows of dips and swells, and the first and last of what lasts longer: what the voltages do from such a row to the next, no load of the site did. Empty where rows are too long to hold one.</summary>
    /// <remarks>Beyond a tenth of nominal is what the standards call a dip or a swell (IEC 61000-4-30, from memory); here it is a tenth of the line's own middle, so that a badly stated nominal makes none.</remarks>
    public static bool[] Rows(GuardFrame frame)
    {
        if (frame.Log.IntervalSeconds > LongestRowSeconds) return [];
        var isBeyond = new bool[frame.Count];
        for (var index = 0; index < frame.Lines; index++)
        {
            if (frame.Volts[index] is not { } volts) continue;
            var middle = Robust.Median(volts);
            for (var row = 0; row < volts.Length; row++) isBeyond[row] |= Math.Abs(volts[row] - middle) > Beyond * middle;
        }

        for (var row = 0; row < isBeyond.Length; row++)
        {
            if (!isBeyond[row]) continue;
            var first = row;
            while (row + 1 < isBeyond.Length && isBeyond[row + 1]) row++;
            if (frame.Starts[row] - frame.Starts[first] >= LongestSeconds * TimeSpan.TicksPerSecond) isBeyond.AsSpan(first + 1, row - first - 1).Clear();
        }

        return isBeyond;
    }

    private static bool MayBeDip(GuardFrame frame, VoltageState state, int before, int row) => state.Kind switch
    {
        VoltageStateKind.SupplyNeutralLost or VoltageStateKind.UpstreamPhaseLost => true,
        VoltageStateKind.Leads => state.Line < 3 && !Enumerable.Range(0, frame.Lines).Any(index => frame.Volts[index] is { } volts && volts[row] < NextToNothing),
        VoltageStateKind.LineLost => frame.Amperes[state.Line] is { } amperes && amperes[row] > GoesOn * amperes[before],
        _ => false,
    };
}
