using System.Collections.Immutable;
using Leadwright.Core.Logs;
using Leadwright.Core.Wording;

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
            var value = Say.Number(Metric.Value, digits) + (Metric.Unit.Length > 0 ? " " + Metric.Unit : "");
            return Of("says", Rule.Says).Replace("{value}", value, StringComparison.Ordinal)
                .Replace("{subject}", Metric.Subject, StringComparison.Ordinal)
                .Replace("{time}", Metric.At is { } time ? RecordTime.Text(time, "yyyy-MM-dd HH:mm") : Say.Of("finding.the-whole-record", "the whole record"), StringComparison.Ordinal);
        }
    }

    /// <summary>What it can mean.</summary>
    public string CanMean => Of("can-mean", Rule.CanMean);

    /// <summary>What to check next; empty for nothing.</summary>
    public string CheckNext => Of("check-next", Rule.CheckNext);

    /// <summary>How sure it is.</summary>
    public string HowSure => Of("how-sure", Rule.HowSure);

    /// <summary>Where the rule comes from.</summary>
    public string Source => Of("source", Rule.Source);

    private string Of(string part, string english) => english.Length == 0 ? "" : Say.Of($"finding.{Rule.Id}.{part}", english);

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
