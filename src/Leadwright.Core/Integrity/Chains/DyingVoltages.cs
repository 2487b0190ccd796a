using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Integrity.Chains;

/// <summary>Dates an outage in rows of half cycles from the moment in which all currents went, where motors hold a voltage up that dies away.</summary>
/// <remarks>
/// A motor that runs on without a supply is a generator for some tenths of a second: the voltage falls by steps too small to be an edge, and on the way passes through all that leads in the air may pick up.
/// But all currents went in one half cycle, and from then on every line's voltage was lower than before and fell: a load that is switched off lets it rise. From there to where voltage or current come back the supply was gone.
/// </remarks>
internal static class DyingVoltages
{
    private const double LongestHalfCycleSeconds = 0.031;

    /// <summary>What is left of the currents, where motors feed others on the same line.</summary>
    private const double Gone = 0.25;
    private const double Lower = 0.985;
    private const double Fallen = 0.9;

    /// <summary>By so much of what it was before no voltage rises that nothing feeds.</summary>
    private const double Back = 0.04;
    private const int Before = 3;

    public static void Date(GuardFrame frame, VoltageState[] states, byte[] history, double[] floors)
    {
        var outage = Array.FindIndex(states, state => state.Kind == VoltageStateKind.Outage);
        double[][] volts = [.. frame.Volts.Take(frame.Lines).OfType<double[]>()];
        (double[] Values, double Floor)[] amperes = [.. Enumerable.Range(0, frame.Lines).Where(line => frame.Amperes[line] is not null).Select(line => (frame.Amperes[line]!, floors[line]))];
        if (frame.Log.IntervalSeconds > LongestHalfCycleSeconds || outage < 0 || volts.Length == 0 || amperes.Length == 0) return;
        for (var row = Before; row + 1 < history.Length; row++)
        {
            if (history[row - Before] != 0 || !Went(row)) continue;
            var last = row;
            while (last + 1 < history.Length && !IsBack(row, last + 1)) last++;
            if (Array.TrueForAll(volts, column => Least(column, row, last) < Fallen * column[row - Before])) Array.Fill(history, (byte)outage, row, last - row + 1);
            row = last;
        }

        // All that flowed went within two rows, and all voltages with it.
        bool Went(int row) =>
            Array.Exists(amperes, clamp => Flowed(clamp, row) && clamp.Values[row - 1] >= Gone * clamp.Values[row - Before])
            && Array.TrueForAll(amperes, clamp => !Flowed(clamp, row) || clamp.Values[row] < Gone * clamp.Values[row - Before])
            && Array.TrueForAll(volts, column => column[row + 1] < Lower * column[row - Before]);

        bool Flowed((double[] Values, double Floor) clamp, int row) => clamp.Values[row - Before] > 3 * clamp.Floor;

        bool IsBack(int first, int row) =>
            Array.Exists(amperes, clamp => Flowed(clamp, first) && !(clamp.Values[row] < Gone * clamp.Values[first - Before]))
            || Array.Exists(volts, column => !(column[row] < column[row - 1] + (Back * column[first - Before])));
    }

    private static double Least(double[] column, int from, int to)
    {
        var least = double.PositiveInfinity;
        for (var row = from; row <= to; row++) least = Math.Min(least, column[row]);
        return least;
    }
}
