using Leadwright.Core.Integrity.Chains;
using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Integrity.Recorder;

/// <summary>Finds a clamp that came off, or was put on late, by its current alone, for a day or more, or for six hours in a recording of days: the line never carries little at any other hour, and nothing at all then, while the other lines go on.</summary>
/// <remarks>The many loads of a line are not switched off together for all hours of a day without its voltage going too: common practice, no source.</remarks>
internal static class BaseLoad
{
    private const double DaySeconds = 24 * 3600;
    private const double LeastSeconds = 6 * 3600;
    private const int DaysOfRest = 3;
    private const double OfFloor = 2;
    private const double LeastOver = 8;
    private const double LeastOverMost = 2.5;
    private const double LeastOfOthers = 0.3;

    /// <summary>Puts what is found into the histories of the clamps.</summary>
    /// <param name="frame">The log.</param>
    /// <param name="voltages">Where the voltages are sound.</param>
    /// <param name="currents">The clamps' histories.</param>
    /// <returns>The rows in which a clamp was off; null where none was.</returns>
    public static bool[]? Override(GuardFrame frame, VoltageHistory voltages, CurrentHistory?[] currents)
    {
        int day = (int)(DaySeconds / frame.Log.IntervalSeconds), least = (int)(LeastSeconds / frame.Log.IntervalSeconds);
        if (frame.Lines < 2 || frame.Count < 2 * day) return null;
        bool[]? isOff = null;
        for (var clamp = 0; clamp < frame.Lines; clamp++)
        {
            if (currents[clamp] is not { } current || frame.Amperes[clamp] is not { } amperes || Array.Exists(current.Rows, row => current.Scales[row] is not (0 or 1))) continue;
            if (Silent(amperes, OfFloor * voltages.Floors[clamp]) is not var (from, end) || end - from < (frame.Count - (end - from) < DaysOfRest * day ? day : least) || frame.Count - (end - from) < day) continue;
            var (inside, outside) = Split(amperes, voltages, from, end);
            if (2 * inside.Length < end - from || outside.Length < day / 2 || !(Robust.Quantile(outside, 0.01) > Math.Max(LeastOver * Robust.Median(inside), LeastOverMost * Robust.Quantile(inside, 0.99))) || !OthersGoOn(frame, voltages, clamp, from, end)) continue;
            Array.Fill(isOff ??= new bool[frame.Count], true, from, end - from);
            // Beside it the line carried little, and was read.
            for (var row = from - 1; row >= 0 && current.Scales[current.Rows[row]] == 0; row--) current.Rows[row] = 0;
            for (var row = end; row < current.Rows.Length && current.Scales[current.Rows[row]] == 0; row++) current.Rows[row] = 0;
            Array.Fill(current.Rows, (byte)Array.IndexOf(current.Scales, 0), from, end - from);
        }

        return isOff;
    }

    /// <summary>The longest stretch below what a clamp on nothing reads.</summary>
    private static (int From, int End)? Silent(double[] amperes, double floor)
    {
        (int From, int End)? best = null;
        for (var row = 0; row < amperes.Length; row++)
        {
            if (!(amperes[row] < floor)) continue;
            var end = row;
            while (end < amperes.Length && !(amperes[end] >= floor)) end++;
            if (best is null || end - row > best.Value.End - best.Value.From) best = (row, end);
            row = end;
        }

        return best;
    }

    private static (double[] Inside, double[] Outside) Split(double[] amperes, VoltageHistory voltages, int from, int end)
    {
        List<double> inside = [], outside = [];
        for (var row = 0; row < amperes.Length; row++)
        {
            if (double.IsNaN(amperes[row]) || voltages.At(row).Kind is not (VoltageStateKind.Sound or VoltageStateKind.Leads)) continue;
            if (row == from || row == end - 1 || row == end || row == from - 1) continue;
            (row >= from && row < end ? inside : outside).Add(amperes[row]);
        }

        return ([.. inside], [.. outside]);
    }

    private static bool OthersGoOn(GuardFrame frame, VoltageHistory voltages, int clamp, int from, int end)
    {
        for (var other = 0; other < frame.Lines; other++)
        {
            if (other == clamp || frame.Amperes[other] is not { } column) continue;
            var (inside, outside) = Split(column, voltages, from, end);
            if (!(Robust.Quantile(inside, 0.9) > LeastOfOthers * Robust.Quantile(outside, 0.9))) return false;
        }

        return true;
    }
}
