namespace Leadwright.Core.Studies.Findings;

/// <summary>When a finding is made, and what is said then. Rules are data: see docs/methods/findings.md.</summary>
/// <param name="Id">Its name.</param>
/// <param name="Metric">The metric it looks at.</param>
/// <param name="Consequence">How much depends on it, 1 to 100; the list is ordered by it.</param>
/// <param name="Says">What was found; <c>{value}</c>, <c>{time}</c> and <c>{subject}</c> stand for the evidence.</param>
public sealed record FindingRule(string Id, string Metric, int Consequence, string Says)
{
    /// <summary>It is made when the metric is above this; NaN for no such bound.</summary>
    public double Above { get; init; } = double.NaN;

    /// <summary>It is made when the metric is below this; NaN for no such bound.</summary>
    public double Below { get; init; } = double.NaN;

    /// <summary>What it can mean.</summary>
    public string CanMean { get; init; } = "";

    /// <summary>What to check next.</summary>
    public string CheckNext { get; init; } = "";

    /// <summary>How sure it is, in words.</summary>
    public string HowSure { get; init; } = "";

    /// <summary>Where the rule is from.</summary>
    public string Source { get; init; } = "";

    /// <summary>Whether a value makes the finding.</summary>
    /// <param name="value">The metric.</param>
    public bool Fits(double value) => value > Above || value < Below;
}
