using System.Collections.Immutable;
using Leadwright.Core.Logs;
using Leadwright.Core.Wording;

namespace Leadwright.Core.Studies.Findings;

/// <summary>A measure in two spans.</summary>
/// <param name="Name">What is compared.</param>
/// <param name="Unit">Its unit.</param>
/// <param name="Before">Its mean in the first span.</param>
/// <param name="After">Its mean in the second span.</param>
/// <param name="Uncertainty">Expanded uncertainty of the difference; NaN with fewer than three samples in a span.</param>
/// <param name="Samples">Samples in the first and in the second span.</param>
public sealed record ComparedMeasure(string Name, string Unit, double Before, double After, double Uncertainty, (int Before, int After) Samples)
{
    /// <summary>After less before.</summary>
    public double Difference => After - Before;

    /// <summary>Whether the difference exceeds its uncertainty; null when that is not known.</summary>
    public bool? IsBeyondUncertainty => double.IsNaN(Uncertainty) ? null : Math.Abs(Difference) > Uncertainty;
}

/// <summary>Two spans or two records side by side.</summary>
/// <param name="Measures">The measures that both have.</param>
/// <param name="IsByDay">True when the samples are means of whole days, false when they are means of hours.</param>
/// <remarks>
/// <para>Samples are means of days, where both spans have three whole ones; else of hours, which are not independent of each other, so that their uncertainty is too small.
/// u² = s1²/n1 + s2²/n2 + (r·mean)², r the share that the instrument is good for; expanded by k = 2 (JCGM 100, some 95 %). The same weekdays and weather in both spans are the
/// user's to see to.</para>
/// </remarks>
public sealed record StudyComparison(ImmutableArray<ComparedMeasure> Measures, bool IsByDay)
{
    private const double Coverage = 2;
    private const int LeastSamples = 3;

    /// <summary>Compares.</summary>
    /// <param name="before">The first span.</param>
    /// <param name="after">The second span.</param>
    /// <param name="instrumentPercent">Standard uncertainty of the instrument between the spans, percent of reading.</param>
    public static StudyComparison Of(StudyData before, StudyData after, double instrumentPercent)
    {
        ArgumentNullException.ThrowIfNull(before);
        ArgumentNullException.ThrowIfNull(after);
        var pairs = Pairs(before, after).ToList();
        var isByDay = pairs.Count > 0 && pairs.TrueForAll(pair => Means(pair.Before, 86400).Count >= LeastSamples && Means(pair.After, 86400).Count >= LeastSamples);
        return new StudyComparison([.. pairs.Select(pair => Compare(pair.Name, pair.Unit, Means(pair.Before, isByDay ? 86400 : 3600), Means(pair.After, isByDay ? 86400 : 3600), instrumentPercent))], isByDay);
    }

    private static IEnumerable<(string Name, string Unit, StudySeries Before, StudySeries After)> Pairs(StudyData before, StudyData after)
    {
        if (before.ActivePower(LogPlace.Whole) is { } first && after.ActivePower(LogPlace.Whole) is { } second) yield return (Say.Of("compare.mean-power", "mean power"), "W", first, second);
        if (before.ReactivePower(LogPlace.Whole) is { } lagging && after.ReactivePower(LogPlace.Whole) is { } later) yield return (Say.Of("compare.mean-reactive-power", "mean reactive power"), "var", lagging, later);
        LogPlace[] places = [LogPlace.Whole, LogPlace.Phase1, LogPlace.Phase2, LogPlace.Phase3, LogPlace.Neutral, LogPlace.Pair12, LogPlace.Pair23, LogPlace.Pair31];
        (LogQuantity Quantity, string Name, string Unit)[] quantities =
        [
            (LogQuantity.Voltage, Say.Of("compare.voltage", "voltage"), "V"), (LogQuantity.Current, Say.Of("compare.current", "current"), "A"), (LogQuantity.VoltageDistortion, Say.Of("compare.voltage-thd", "voltage THD"), "%"),
            (LogQuantity.CurrentDistortion, Say.Of("compare.current-thd", "current THD"), "%"), (LogQuantity.VoltageUnbalance, Say.Of("compare.voltage-unbalance", "voltage unbalance"), "%"),
        ];
        foreach (var (quantity, name, unit) in quantities)
        {
            foreach (var place in places)
            {
                if (before.Series(quantity, place) is { } one && after.Series(quantity, place) is { } two) yield return (place == LogPlace.Whole ? name : $"{name} {Short(place)}", unit, one, two);
            }
        }
    }

    private static string Short(LogPlace place) => place switch
    {
        LogPlace.Phase1 => "1",
        LogPlace.Phase2 => "2",
        LogPlace.Phase3 => "3",
        LogPlace.Neutral => "N",
        LogPlace.Pair12 => "12",
        LogPlace.Pair23 => "23",
        _ => "31",
    };

    private static List<double> Means(StudySeries series, double seconds)
    {
        var means = new List<double>();
        if (series.Aggregate(seconds, isRms: false) is not { } longer) return means;
        for (var row = 0; row < longer.Count; row++)
        {
            if (longer.IsSound(row)) means.Add(longer.Values[row]);
        }

        return means;
    }

    private static ComparedMeasure Compare(string name, string unit, List<double> before, List<double> after, double instrumentPercent)
    {
        double Mean(List<double> values) => values.Count == 0 ? double.NaN : values.Average();
        double Square(List<double> values, double mean) => values.Sum(value => (value - mean) * (value - mean)) / (values.Count - 1) / values.Count;
        var (first, second) = (Mean(before), Mean(after));
        var instrument = instrumentPercent / 100 * Math.Max(Math.Abs(first), Math.Abs(second));
        var isEnough = before.Count >= LeastSamples && after.Count >= LeastSamples;
        var uncertainty = isEnough ? Coverage * Math.Sqrt(Square(before, first) + Square(after, second) + (instrument * instrument)) : double.NaN;
        return new ComparedMeasure(name, unit, first, second, uncertainty, (before.Count, after.Count));
    }
}
