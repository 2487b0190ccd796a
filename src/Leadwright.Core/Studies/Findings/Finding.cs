using System.Collections.Immutable;
using System.Globalization;
using Leadwright.Core.Logs;

namespace Leadwright.Core.Studies.Findings;

/// <summary>Something that the data shows, in plain words.</summary>
/// <param name="Rule">The rule that made it.</param>
/// <param name="Metric">The evidence.</param>
public sealed record Finding(FindingRule Rule, StudyMetric Metric)
{
    /// <summary>What was found, with its value and time.</summary>
    public string Says
    {
        get
        {
            var digits = Math.Abs(Metric.Value) >= 100 ? "0" : Math.Abs(Metric.Value) >= 10 ? "0.#" : "0.##";
            var value = Metric.Value.ToString(digits, CultureInfo.InvariantCulture) + (Metric.Unit.Length > 0 ? " " + Metric.Unit : "");
            return Rule.Says.Replace("{value}", value, StringComparison.Ordinal)
                .Replace("{subject}", Metric.Subject, StringComparison.Ordinal)
                .Replace("{time}", Metric.At is { } time ? RecordTime.Text(time, "yyyy-MM-dd HH:mm") : "the whole record", StringComparison.Ordinal);
        }
    }

    /// <summary>Makes the findings, most consequential first.</summary>
    /// <param name="metrics">The figures.</param>
    /// <param name="rules">The rules.</param>
    public static ImmutableArray<Finding> Of(ImmutableArray<StudyMetric> metrics, ImmutableArray<FindingRule> rules) =>
    [
        .. from rule in rules
           from metric in metrics
           where metric.Name == rule.Metric && rule.Fits(metric.Value)
           orderby rule.Consequence descending
           select new Finding(rule, metric),
    ];
}
