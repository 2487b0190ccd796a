using System.Collections.Immutable;

namespace Leadwright.Core.Hookups;

/// <summary>Finds the changes from interval to interval that say most.</summary>
internal static class LoggedChangeFinder
{
    /// <summary>The largest changes of each clamp that are kept.</summary>
    private const int KeptPerClamp = 60;

    private const int FewestRows = 8;

    /// <summary>What moves less, in times what a clamp moves in most intervals, says nothing of its line and would bring in what other lines do.</summary>
    private const double KeptFactor = 3;

    /// <summary>A voltage that moves by more than this share from one interval to the next was in a dip or an outage.</summary>
    private const double Dip = 0.04;

    /// <summary>So many times what a clamp moves in most intervals is a load of its line.</summary>
    private const double ClaimedFactor = 5;

    /// <summary>So many times what voltages wander is a load of somebody's.</summary>
    private const double UnclaimedFactor = 5;

    /// <summary>A reading this near the highest one may stand at the end of the range.</summary>
    private const double NearHighest = 0.998;

    private const double SameSize = 0.001;

    private const double Turned = 0.01;

    private const int FewestTurns = 2;

    private const double FewestDigits = 500;

    /// <summary>Finds them.</summary>
    /// <param name="series">The series.</param>
    /// <param name="rows">Rows in which the supply was there, rising.</param>
    /// <param name="intervalSeconds">Length of an interval, seconds.</param>
    /// <param name="starts">Start of each interval, ticks.</param>
    /// <param name="intervalTicks">Length of an interval, ticks.</param>
    /// <returns>The changes; null when there are too few rows, no living voltage or no clamp.</returns>
    public static LoggedChanges? Find(
        PanelLog.PanelSeries series, int[] rows, double intervalSeconds, ReadOnlySpan<long> starts, long intervalTicks)
    {
        var clamps = Enumerable.Range(0, 3).Where(phase => series.Channels.ContainsKey(Channel.I1 + phase)).ToArray();
        var voltages = LivingVoltages(series, rows);
        if (rows.Length < FewestRows || clamps.Length == 0 || voltages.Length == 0) return null;
        var known = Array.ConvertAll(clamps, clamp => KnownOf(series, clamp, rows, voltages));
        var volts = Array.ConvertAll(voltages, channel => series.Channels[channel]);
        var means = Array.ConvertAll(volts, values => rows.Average(row => values[row]));
        var inPhase = new double[clamps.Length][];
        var lagging = new double[clamps.Length][];
        for (var clamp = 0; clamp < clamps.Length; clamp++)
            (inPhase[clamp], lagging[clamp]) = Components(series, clamps[clamp], known[clamp], rows);

        var atRail = Array.ConvertAll(clamps, clamp => RailOf(series.Channels[Channel.I1 + clamp], inPhase[Array.IndexOf(clamps, clamp)], lagging[Array.IndexOf(clamps, clamp)], rows));
        var pairs = new List<int>();
        for (var index = 1; index < rows.Length; index++)
        {
            if (rows[index] != rows[index - 1] + 1 || starts[rows[index]] - starts[rows[index - 1]] > intervalTicks * 3 / 2) continue;
            var at = index;
            var isWhole = volts.Zip(means).All(pair => Math.Abs(pair.First[rows[at]] - pair.First[rows[at - 1]]) <= Dip * pair.Second)
                && inPhase.Concat(lagging).All(values => double.IsFinite(values[at]) && double.IsFinite(values[at - 1]))
                && !Enumerable.Range(0, clamps.Length).Any(clamp => Math.Max(series.Channels[Channel.I1 + clamps[clamp]][rows[at]], series.Channels[Channel.I1 + clamps[clamp]][rows[at - 1]]) >= atRail[clamp]);
            if (isWhole) pairs.Add(index);
        }

        if (pairs.Count < FewestRows) return null;
        double Change(int clamp, int index) => Math.Sqrt(
            Square(inPhase[clamp][index] - inPhase[clamp][index - 1]) + Square(lagging[clamp][index] - lagging[clamp][index - 1]));
        var noise = Enumerable.Range(0, clamps.Length)
            .Select(clamp => Math.Max(Quantile([.. pairs.Select(index => Change(clamp, index))], 0.3), 1e-4)).ToImmutableArray();
        var (own, common) = Wandering(volts, means, rows, pairs, index => Enumerable.Range(0, clamps.Length).Sum(clamp => Change(clamp, index)));
        var chosen = Enumerable.Range(0, clamps.Length)
            .SelectMany(clamp => pairs.OrderByDescending(index => Change(clamp, index)).Take(KeptPerClamp)
                .Where((index, rank) => rank < FewestRows || Change(clamp, index) > KeptFactor * noise[clamp]))
            .Distinct().Order().ToArray();
        var unexplained = LoggedRest.Of(
            [.. chosen.Select(index => Array.ConvertAll(means, mean => 1 / mean).Zip(volts, (scale, values) => scale * (values[rows[index]] - values[rows[index - 1]])).ToArray())],
            [.. chosen.Select(index => inPhase.Concat(lagging).Select(values => values[index] - values[index - 1]).ToArray())]);
        (own, common) = (Math.Max(own, unexplained.Own), Math.Max(common, unexplained.Common));
        bool IsClaimed(int index) => Enumerable.Range(0, clamps.Length).Any(clamp => Change(clamp, index) > ClaimedFactor * noise[clamp]);
        return new LoggedChanges
        {
            Voltages = [.. voltages],
            Clamps = [.. clamps.Select(clamp => (Clamp)clamp)],
            Volts = [.. chosen.SelectMany(index => volts.Select(values => values[rows[index]] - values[rows[index - 1]]))],
            InPhase = [.. chosen.SelectMany(index => inPhase.Select(values => values[index] - values[index - 1]))],
            Lagging = [.. chosen.SelectMany(index => lagging.Select(values => values[index] - values[index - 1]))],
            Known = [.. known],
            MeanVolts = [.. means],
            OwnWandering = own,
            CommonWandering = common,
            CurrentNoise = noise,
            Unclaimed =
            [
                .. pairs.Where(index => !IsClaimed(index) && IsBeyondWandering([.. volts.Select((values, channel) => (values[rows[index]] - values[rows[index - 1]]) / means[channel])], own, common))
                    .SelectMany(index => volts.Select(values => values[rows[index]] - values[rows[index - 1]])),
            ],
            ClaimedCount = pairs.Count(IsClaimed),
            LargestAmperes = [.. clamps.Select(clamp => rows.Max(row => series.Channels[Channel.I1 + clamp][row]))],
            IntervalSeconds = intervalSeconds,
        };
    }

    private static Channel[] LivingVoltages(PanelLog.PanelSeries series, int[] rows)
    {
        var means = series.Channels.Where(entry => entry.Key <= Channel.V31)
            .Select(entry => (entry.Key, Mean: rows.Length == 0 ? 0 : rows.Average(row => entry.Value[row]))).ToList();
        var largest = means.Count == 0 ? 0 : means.Max(entry => double.IsFinite(entry.Mean) ? entry.Mean : 0);
        return [.. means.Where(entry => entry.Mean > 0.2 * largest).Select(entry => entry.Key)];
    }

    private static LoggedCurrent KnownOf(PanelLog.PanelSeries series, int clamp, int[] rows, Channel[] living)
    {
        // Against a voltage that is none, power tells nothing of the current.
        if (series.Channels.ContainsKey(Channel.V1 + clamp) && !living.Contains(Channel.V1 + clamp)) return LoggedCurrent.Size;
        if (series.Watts[clamp] is not { } watts) return LoggedCurrent.Size;
        if (series.Vars[clamp] is not { } vars) return LoggedCurrent.EitherSide;
        // Vars that are never negative while watts are may be written without their sign.
        return rows.Any(row => vars[row] < 0) || rows.All(row => !(watts[row] < 0)) ? LoggedCurrent.Vector : LoggedCurrent.EitherSide;
    }

    private static (double[] InPhase, double[] Lagging) Components(PanelLog.PanelSeries series, int clamp, LoggedCurrent known, int[] rows)
    {
        var (inPhase, lagging) = (new double[rows.Length], new double[rows.Length]);
        var amperes = series.Channels[Channel.I1 + clamp];
        // A two-clamp recorder holds its second clamp against the voltage from lead 3 to lead 2.
        var own = series.Channels.GetValueOrDefault(Channel.V1 + clamp)
            ?? series.Channels.GetValueOrDefault(clamp == 0 ? Channel.V12 : Channel.V23);
        for (var index = 0; index < rows.Length; index++)
        {
            var row = rows[index];
            if (known == LoggedCurrent.Size || own is null || !(own[row] > 0))
            {
                inPhase[index] = amperes[row];
                continue;
            }

            inPhase[index] = series.Watts[clamp]![row] / own[row];
            lagging[index] = series.Vars[clamp] is { } vars
                ? vars[row] / own[row]
                : Math.Sqrt(Math.Max(0, Square(amperes[row]) - Square(inPhase[index])));
        }

        return (inPhase, lagging);
    }

    /// <summary>The current from which on a clamp shows no more than its range; infinite where it stays within.</summary>
    /// <remarks>Beyond its range an instrument shows the same amperes whatever flows, while watts and vars still turn: a current that keeps its size to the last digit and
    /// changes its direction, more than once and at its highest reading, is at the end of the range. Common practice, no source.</remarks>
    private static double RailOf(double[] amperes, double[] inPhase, double[] lagging, int[] rows)
    {
        var rail = NearHighest * rows.Max(row => amperes[row]);
        // A size that moves by whole digits stands still without being held: such a reading has to be fine enough to say so.
        var digit = double.PositiveInfinity;
        for (var index = 1; index < rows.Length; index++)
        {
            var move = Math.Abs(amperes[rows[index]] - amperes[rows[index - 1]]);
            if (move > 0 && move < digit) digit = move;
        }

        if (!(rail > FewestDigits * digit)) return double.PositiveInfinity;
        var turns = 0;
        for (var index = 1; index < rows.Length; index++)
        {
            var (now, before) = (amperes[rows[index]], amperes[rows[index - 1]]);
            if (now < rail || before < rail || Math.Abs(now - before) > SameSize * now) continue;
            if (Math.Sqrt(Square(inPhase[index] - inPhase[index - 1]) + Square(lagging[index] - lagging[index - 1])) > Turned * now) turns++;
        }

        return turns >= FewestTurns ? rail : double.PositiveInfinity;
    }

    /// <summary>How the voltages move between intervals of little change in the currents.</summary>
    private static (double Own, double Common) Wandering(
        double[][] volts, double[] means, int[] rows, List<int> pairs, Func<int, double> change)
    {
        var quiet = pairs.OrderBy(change).Take(Math.Max(FewestRows, pairs.Count * 2 / 5)).ToArray();
        var (own, common) = (new List<double>(), new List<double>());
        foreach (var index in quiet)
        {
            var moves = volts.Select((values, channel) => (values[rows[index]] - values[rows[index - 1]]) / means[channel]).ToArray();
            var mean = moves.Average();
            common.Add(Math.Abs(mean));
            if (moves.Length > 1) own.AddRange(moves.Select(move => Math.Abs(move - mean) * Math.Sqrt(moves.Length / (moves.Length - 1.0))));
        }

        // Displayed values have a last digit below which nothing is known.
        return (own.Count == 0 ? 3e-5 : Math.Max(Spread(own), 3e-5), Math.Max(Spread(common), 3e-5));
    }

    /// <summary>True when a voltage moves, after what all share is taken off, by more than voltages wander here; the only voltage by its whole change.</summary>
    private static bool IsBeyondWandering(double[] moves, double own, double common)
    {
        if (moves.Length == 1) return Math.Abs(moves[0]) > UnclaimedFactor * common;
        var mean = moves.Average();
        return moves.Any(move => Math.Abs(move - mean) > UnclaimedFactor * own);
    }

    /// <summary>Root mean square without the few that stand out. A quantile alone is rough where values move by whole digits.</summary>
    private static double Spread(List<double> sizes)
    {
        var limit = 3 * Quantile([.. sizes], 0.8);
        double sum = 0;
        foreach (var size in sizes) sum += Square(Math.Min(size, limit));
        return Math.Sqrt(sum / sizes.Count);
    }

    private static double Quantile(double[] values, double share)
    {
        Array.Sort(values);
        return values[(int)(share * (values.Length - 1))];
    }

    private static double Square(double value) => value * value;
}
