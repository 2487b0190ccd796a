using Leadwright.Core.Integrity.Chains;
using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Integrity.Recorder;

/// <summary>Whether a clamp that is said to open, or to stand at another ratio, showed as much as ever at the hours in which its line always carries about the same: then it is the voltage that answers to something else.</summary>
/// <remarks>A jaw that shows seven tenths shows them of the night's standing load too. Hours count whose means on other days keep within a part of what would be missing; where the other lines carry less as
/// well, so much less is the site's own.</remarks>
internal static class ShowsAsMuch
{
    // Answers that fall all along speak for themselves: false falls had up to 25 nats, true ones 20 to 640 (outside weeks, and own).
    private const double LoudOdds = 40;
    private const double Least = 0.35;
    private const double Within = 0.6;
    private const double Fallen = 0.5;
    private const double LeastSpread = 0.05;
    private const int LeastHours = 4;
    private const int LeastDays = 3;

    /// <summary>True where a clamp whose gain is said to have fallen did.</summary>
    /// <param name="frame">The log.</param>
    /// <param name="clamp">The clamp.</param>
    /// <param name="isUsable">Rows whose readings are the line's.</param>
    /// <param name="drift">How its gain is said to have fallen.</param>
    public static bool As(GuardFrame frame, int clamp, bool[] isUsable, Drift drift) =>
        drift.Odds < LoudOdds && Share(frame, clamp, isUsable, drift.From, drift.To, row => Math.Log(GainAt(drift, row)), Fallen * Math.Log(drift.Rest)) < Least;

    /// <summary>Drops the ratios of two or five at which a clamp showed what it shows at its own.</summary>
    public static void Drop(GuardFrame frame, VoltageHistory voltages, CurrentHistory?[] currents)
    {
        bool[]? isUsable = null;
        for (var clamp = 0; clamp < frame.Lines; clamp++)
        {
            if (currents[clamp] is not { } current) continue;
            for (var row = 0; row < current.Rows.Length; row++)
            {
                var (state, last) = (current.Rows[row], row);
                while (last + 1 < current.Rows.Length && current.Rows[last + 1] == state) last++;
                if (current.Scales[state] is 2 or 0.5 or 5 or 0.2 && !IsShared(currents, clamp, row, last))
                {
                    var log = Math.Log(current.Scales[state]);
                    isUsable ??= [.. Enumerable.Range(0, frame.Count).Select(at => voltages.At(at).Kind is VoltageStateKind.Sound or VoltageStateKind.Leads)];
                    if (Share(frame, clamp, isUsable, row, last, _ => log, 0) < Least) Array.Clear(current.Rows, row, last - row + 1);
                }

                row = last;
            }
        }
    }

    /// <summary>True where another clamp of a line is said to stand at another ratio as well: beside it nothing is usual.</summary>
    private static bool IsShared(CurrentHistory?[] currents, int clamp, int from, int to)
    {
        for (var other = 0; other < 3; other++)
        {
            if (other == clamp || currents[other] is not { } beside) continue;
            var rows = 0;
            for (var row = from; row <= to; row++) rows += beside.Scales[beside.Rows[row]] is not (0 or 1) ? 1 : 0;
            if (2 * rows > to - from + 1) return true;
        }

        return false;
    }

    /// <summary>The share of what a gain would have made of the readings of some rows that they show, at the hours that tell; NaN where too few do.</summary>
    private static double Share(GuardFrame frame, int clamp, bool[] isUsable, int from, int to, Func<int, double> logGain, double most)
    {
        var hours = Hours(frame);
        var own = Offs(frame, clamp, isUsable, from, to, hours);
        var others = Enumerable.Range(0, frame.Lines).Where(line => line != clamp && frame.Amperes[line] is not null).Select(line => Offs(frame, line, isUsable, from, to, hours)).ToArray();
        List<double> off = [], missing = [];
        for (var index = 0; index < hours.Count; index++)
        {
            if (hours[index].From < from || hours[index].End > to + 1 || double.IsNaN(own[index].Off)) continue;
            var expected = Enumerable.Range(hours[index].From, hours[index].End - hours[index].From).Average(logGain);
            if ((most < 0 && expected > most) || !(Math.Max(LeastSpread, own[index].Spread) < Within * Math.Abs(expected))) continue;
            // The site's own: what every other line carries less, or more, at the least.
            double[] ofSite = [.. others.Select(line => Math.Sign(expected) * line[index].Off).Where(double.IsFinite)];
            off.Add(own[index].Off - (Math.Sign(expected) * Math.Max(0, ofSite.DefaultIfEmpty(0).Min())));
            missing.Add(expected);
        }

        return off.Count < LeastHours ? double.NaN : Robust.Median([.. off]) / Robust.Median([.. missing]);
    }

    /// <summary>Rows from each full hour of the day to the next.</summary>
    private static List<(int From, int End)> Hours(GuardFrame frame)
    {
        var hours = new List<(int From, int End)>();
        for (var row = 0; row < frame.Count;)
        {
            var (start, end) = (frame.From(row), row);
            while (end < frame.Count && frame.From(end).Hour == start.Hour && frame.From(end) - start < TimeSpan.FromHours(1)) end++;
            hours.Add((row, end));
            row = end;
        }

        return hours;
    }

    /// <summary>How far each hour's mean lies off that of the hour on days outside some rows, and how these are spread; NaN where too few are known. What switches by itself within an hour evens out.</summary>
    private static (double Off, double Spread)[] Offs(GuardFrame frame, int line, bool[] isUsable, int first, int last, List<(int From, int End)> hours)
    {
        var amperes = frame.Amperes[line]!;
        var means = new double[hours.Count];
        var usual = new List<double>[24];
        for (var hour = 0; hour < 24; hour++) usual[hour] = [];
        for (var index = 0; index < means.Length; index++)
        {
            var (from, end) = hours[index];
            double[] values = [.. Enumerable.Range(from, end - from).Where(row => isUsable[row] && amperes[row] > 0).Select(row => amperes[row])];
            means[index] = 2 * values.Length < end - from || values.Length == 0 ? double.NaN : Math.Log(values.Average());
            if (!double.IsNaN(means[index]) && (end <= first || from > last)) usual[frame.From(from).Hour].Add(means[index]);
        }

        return [.. means.Select((mean, index) => usual[frame.From(hours[index].From).Hour] is { Count: >= LeastDays } days
            ? (mean - Robust.Median([.. days]), Robust.Deviation([.. days])) : (double.NaN, double.NaN))];
    }

    private static double GainAt(Drift drift, int row)
    {
        var low = drift.LowFrom ?? drift.To + 1;
        return row >= low ? drift.Rest : 1 - ((1 - drift.Rest) * (row - drift.From + 0.5) / (low - drift.From));
    }
}
