using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Integrity.Samples;

/// <summary>Settles the rows of half cycles in which the voltages change all at once.</summary>
/// <remarks>
/// A row covers one cycle, so that a change falls in two rows, and both read something between before and after that there never was: a quarter of the current beside no voltage
/// looks like a lead that is off and a load that goes on. A cycle whose two halves differ is one in which the change fell. It says nothing by itself: what it reads is taken from the row before or behind,
/// and the change lies between the two. A change of another kind, a load that is switched or a clamp that is turned, leaves the halves of the voltage alike.
/// </remarks>
internal static class EdgeRows
{
    /// <summary>So far apart no two halves of a cycle are by distortion or an offset; a motor that holds its voltage up lets it down more slowly.</summary>
    private const double LeastJump = 0.12;

    /// <summary>Rows overlap, so that a change touches three: beside the two that show it one may hold its first or its last few samples, and a lead that reads a little there beside a little current.</summary>
    private const double LeastBeside = 0.01;

    /// <summary>Poles that open one after the other take three rows or four; what takes longer is a course of its own.</summary>
    private const int MostRows = 4;

    /// <summary>Gives the rows of edges what stands beside them.</summary>
    /// <param name="starts">Start of each row, ticks.</param>
    /// <param name="values">The columns; changed in place.</param>
    /// <param name="volts">How many of the columns, from the first, are voltages.</param>
    /// <param name="jumps">By how many volts the halves of each row differ at most.</param>
    /// <param name="stepTicks">From one row to the next.</param>
    public static void Settle(IReadOnlyList<long> starts, double[][] values, int volts, IReadOnlyList<double> jumps, long stepTicks)
    {
        if (volts == 0) return;
        var usual = values.Take(volts).Max(column => Robust.Quantile(column, 0.9));
        if (!(usual > 0)) return;
        for (var row = 0; row < starts.Count; row++)
        {
            if (!IsEdge(row)) continue;
            var last = row;
            while (last + 1 < starts.Count && IsEdge(last + 1) && Follows(last + 1)) last++;
            bool hasBefore = row > 0 && Follows(row), hasAfter = last + 1 < starts.Count && Follows(last + 1);
            var count = last - row + 1;
            var (touched, full) = (IsFull(row) ? 0 : 1, count - (IsFull(row) ? 0 : 1) - (IsFull(last) ? 0 : 1));
            var before = !hasBefore ? 0 : !hasAfter ? count : full > MostRows ? touched + 1 : touched + ((full + 1) / 2);
            // Of a longer course the first row alone is known to be mixed.
            var after = full > MostRows || !hasAfter ? 0 : count - before;
            foreach (var column in values)
            {
                for (var at = row; at < row + before; at++) column[at] = column[row - 1];
                for (var at = last; at > last - after; at--) column[at] = column[last + 1];
            }

            row = last;
        }

        bool IsFull(int row) => jumps[row] > LeastJump * usual;
        bool IsEdge(int row) => IsFull(row) || (jumps[row] > LeastBeside * usual && ((row > 0 && Follows(row) && IsFull(row - 1)) || (row + 1 < starts.Count && Follows(row + 1) && IsFull(row + 1))));
        bool Follows(int row) => starts[row] - starts[row - 1] < 1.5 * stepTicks;
    }
}
