namespace Leadwright.Core.Integrity.Chains;

/// <summary>Finds the stretches of a current that all their rows, together, say were multiplied.</summary>
/// <remarks>The likeliest history of two states, as it is and multiplied, by dynamic programming (see <see cref="StateChain"/>): each row says what its rest, given that of the row before, is worth in both, and
/// every change costs. Where neighbours are hardly alike, as among loads that switch all the time, many rows tell what no single leap does.</remarks>
internal static class LevelSegments
{
    private const int Most = 2;

    /// <summary>The stretches, from the first row to the one behind the last, that say most.</summary>
    /// <param name="series">The current.</param>
    /// <param name="log">Natural logarithm of what it would be multiplied by.</param>
    /// <param name="ofEdge">What a change costs, nats.</param>
    public static IEnumerable<(int From, int End)> Find(LevelSeries series, double log, double ofEdge)
    {
        var logs = series.Logs;
        var count = logs.Length;
        var came = new byte[count];
        var gains = new double[count];
        double plain = 0, scaled = -ofEdge;
        var before = -1;
        for (var row = 0; row < count; row++)
        {
            came[row] = 2;
            var now = series.Rest(row, logs[row]);
            if (double.IsNaN(now)) continue;
            if (before >= 0 && row - before <= 2)
            {
                var then = series.Rest(before, logs[before]);
                var none = series.Density(then, now, row - before);
                double stays = scaled + series.Density(then - log, now - log, row - before) - none, begins = plain - ofEdge + series.Density(then, now - log, row - before) - none;
                var ends = scaled - ofEdge + series.Density(then - log, now, row - before) - none;
                // The lower bit: the plain state came from the scaled one; the higher: the scaled state stayed.
                came[row] = (byte)((ends > plain ? 1 : 0) | (stays >= begins ? 2 : 0));
                gains[row] = ends > plain ? ends - plain : 0;
                (plain, scaled) = (Math.Max(plain, ends), Math.Max(stays, begins));
            }

            before = row;
        }

        var found = new List<(int From, int End, double Gain)>();
        var isScaled = scaled > plain;
        var (end, gain) = (count, Math.Max(0, scaled - plain));
        for (var row = count - 1; row >= 0; row--)
        {
            if (isScaled && (came[row] & 2) == 0)
            {
                found.Add((row, end, gain));
                isScaled = false;
            }
            else if (!isScaled && (came[row] & 1) == 1)
            {
                (isScaled, end, gain) = (true, row, gains[row]);
            }
        }

        if (isScaled) found.Add((0, end, gain));
        return found.OrderByDescending(entry => entry.Gain).Take(Most).Select(entry => (entry.From, entry.End));
    }
}
