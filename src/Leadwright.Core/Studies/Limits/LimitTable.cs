using System.Collections.Immutable;

namespace Leadwright.Core.Studies.Limits;

/// <summary>A table of limits: a standard's, or the user's own.</summary>
/// <param name="Name">The word it is chosen by.</param>
/// <param name="Title">Its title.</param>
/// <param name="Edition">Edition of the source.</param>
/// <param name="Rules">The limits.</param>
public sealed record LimitTable(string Name, string Title, string Edition, ImmutableArray<LimitRule> Rules)
{
    /// <summary>What to know before it is quoted.</summary>
    public ImmutableArray<string> Notes { get; init; } = [];

    /// <summary>Points of a curve of factors over percent of unbalance; empty for none.</summary>
    public ImmutableArray<(double Percent, double Factor)> Derating { get; init; } = [];

    /// <summary>The factor of the curve, between points by a straight line; NaN outside it or without one.</summary>
    /// <param name="percent">Unbalance, percent.</param>
    public double DeratingAt(double percent)
    {
        for (var index = 1; index < Derating.Length; index++)
        {
            var (low, high) = (Derating[index - 1], Derating[index]);
            if (percent >= low.Percent && percent <= high.Percent)
                return low.Factor + ((percent - low.Percent) / (high.Percent - low.Percent) * (high.Factor - low.Factor));
        }

        return double.NaN;
    }
}
