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

    public static void TakeBack(GuardFrame frame, VoltageState[] states, byte[] history)
    {
        if (frame.Log.IntervalSeconds > LongestRowSeconds) return;
        for (var row = 1; row < history.Length; row++)
        {
            if (history[row] == 0 || history[row - 1] != 0) continue;
            var last = row;
            var isDip = true;
            while (last < history.Length && history[last] != 0) isDip &= MayBeDip(frame, states[history[last]], last++);
            if (last == history.Length) return;
            if (isDip && frame.Starts[last] - frame.Starts[row] < LongestSeconds * TimeSpan.TicksPerSecond) Array.Clear(history, row, last - row);
            row = last;
        }
    }

    private static bool MayBeDip(GuardFrame frame, VoltageState state, int row) => state.Kind switch
    {
        VoltageStateKind.SupplyNeutralLost or VoltageStateKind.UpstreamPhaseLost => true,
        VoltageStateKind.Leads => state.Line < 3 && !Enumerable.Range(0, frame.Lines).Any(index => frame.Volts[index] is { } volts && volts[row] < NextToNothing),
        _ => false,
    };
}
