using System.Collections.Immutable;

namespace Leadwright.Core.Studies.Load;

/// <summary>A load that switches on and off again and again.</summary>
/// <param name="Watts">Size of its steps, W (median).</param>
/// <param name="Count">Times it came on.</param>
/// <param name="OnSeconds">How long it stays on, s (median).</param>
/// <param name="PeriodSeconds">From one start to the next, s (median).</param>
/// <param name="FirstAt">When it came on first.</param>
/// <remarks>
/// <para>A step is a change between neighbouring intervals that exceeds four times the median change and a fiftieth of the highest load; an up step is paired with the next
/// down step within a fifth of its size; pairs of like size that do not overlap and come at an even
/// pace (quartiles of the period within six tenths of its median) are one load. Our own method: see docs/methods/load-study.md. Switching faster than two intervals is not seen.</para>
/// </remarks>
public sealed record LoadCycle(double Watts, int Count, double OnSeconds, double PeriodSeconds, DateTime FirstAt)
{
    private const double Alike = 0.2;
    private const double MostSpread = 0.6;
    private const int LeastCount = 4;
    private const int MostAhead = 400;

    /// <summary>Finds them.</summary>
    /// <param name="power">Mean power, W.</param>
    /// <returns>Largest first.</returns>
    public static ImmutableArray<LoadCycle> Find(StudySeries power)
    {
        ArgumentNullException.ThrowIfNull(power);
        // Below a second a start is a stretch of many values, not a step from one to the next.
        if (power.IntervalSeconds < 1 && power.Aggregate(1, isRms: false) is { } seconds) power = seconds;
        var steps = LoadStep.Find(power);
        var pairs = new List<(int On, int Off, double Watts)>();
        var used = new HashSet<int>();
        for (var index = 0; index < steps.Count; index++)
        {
            if (steps[index].Watts <= 0) continue;
            for (var later = index + 1; later < Math.Min(steps.Count, index + MostAhead); later++)
            {
                if (used.Contains(later) || Math.Abs(steps[later].Watts + steps[index].Watts) > Alike * steps[index].Watts) continue;
                used.Add(later);
                pairs.Add((steps[index].Row, steps[later].Row, (steps[index].Watts - steps[later].Watts) / 2));
                break;
            }
        }

        return [.. Groups(pairs).Where(group => group.Count >= LeastCount).Select(group => Of(group, power)).OfType<LoadCycle>().OrderByDescending(cycle => cycle.Watts)];
    }

    private static IEnumerable<List<(int On, int Off, double Watts)>> Groups(List<(int On, int Off, double Watts)> pairs)
    {
        List<(int On, int Off, double Watts)> group = [];
        foreach (var pair in pairs.OrderBy(pair => pair.Watts))
        {
            if (group.Count > 0 && pair.Watts > group[0].Watts * (1 + Alike))
            {
                yield return group;
                group = [];
            }

            group.Add(pair);
        }

        if (group.Count > 0) yield return group;
    }

    // Null where the pairs overlap or come at no even pace: then they are many loads, or none.
    private static LoadCycle? Of(List<(int On, int Off, double Watts)> group, StudySeries power)
    {
        group.Sort((left, right) => left.On.CompareTo(right.On));
        var starts = power.Starts.Span;
        var periods = new List<double>();
        for (var index = 1; index < group.Count; index++) periods.Add((double)(starts[group[index].On] - starts[group[index - 1].On]) / TimeSpan.TicksPerSecond);
        var on = new List<double>();
        foreach (var pair in group) on.Add((double)(starts[pair.Off] - starts[pair.On]) / TimeSpan.TicksPerSecond);
        double[] pace = [.. periods.Order()];
        var isEven = Percentile.Of(pace, 75) - Percentile.Of(pace, 25) <= MostSpread * Percentile.Of(pace, 50);
        var overlaps = 0;
        for (var index = 1; index < group.Count; index++) overlaps += group[index].On < group[index - 1].Off ? 1 : 0;
        if (!isEven || overlaps > group.Count / 5) return null;
        return new LoadCycle(
            Percentile.Of([.. group.Select(pair => pair.Watts).Order()], 50), group.Count, Percentile.Of([.. on.Order()], 50), Percentile.Of([.. periods.Order()], 50),
            power.StartOf(group[0].On));
    }
}
