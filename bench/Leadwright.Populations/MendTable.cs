using Leadwright.Core.Panels.Weeks;

namespace Leadwright.Populations;

/// <summary>How one mended week compares with what the same recorder, rightly hung and never off, would have read.</summary>
internal sealed record MendOutcome(MishapKind? Kind, double TrueWattHours, double Mended, double Low, double High, double Recorded, bool GuardWasRight)
{
    public bool IsCovered => Low - Slack <= TrueWattHours && TrueWattHours <= High + Slack;

    public double HalfWidthPercent => 50 * (High - Low) / Math.Abs(TrueWattHours);

    public double ErrorPercent => 100 * (Mended - TrueWattHours) / Math.Abs(TrueWattHours);

    public double RecordedErrorPercent => 100 * (Recorded - TrueWattHours) / Math.Abs(TrueWattHours);

    // One watt-hour: what is left of a sum of rounded numbers.
    private const double Slack = 1;
}

/// <summary>The table of mended weeks: how often the interval of the energy held, and how wide it was.</summary>
internal sealed class MendTable
{
    private readonly Action<string> _line;

    /// <summary>Begins one.</summary>
    /// <param name="line">Takes a line of the table.</param>
    public MendTable(Action<string> line)
    {
        _line = line;
        line("| what happened | weeks | covered | covered where the guard saw it rightly | median half-width, % | 90th percentile, % | median error, % | median error as recorded, % |");
        line("| --- | --- | --- | --- | --- | --- | --- | --- |");
    }

    /// <summary>A row; none for no week.</summary>
    public void Row(string name, MendOutcome[] group)
    {
        if (group.Length == 0) return;
        var known = group.Where(outcome => outcome.GuardWasRight).ToArray();
        _line(FormattableString.Invariant($"| {name} | {group.Length} | {group.Count(outcome => outcome.IsCovered)} ({100.0 * group.Count(outcome => outcome.IsCovered) / group.Length:0} %) | {known.Count(outcome => outcome.IsCovered)} of {known.Length} | {Middle(group, outcome => outcome.HalfWidthPercent, 0.5):0.00} | {Middle(group, outcome => outcome.HalfWidthPercent, 0.9):0.00} | {Middle(group, outcome => Math.Abs(outcome.ErrorPercent), 0.5):0.000} | {Middle(group, outcome => Math.Abs(outcome.RecordedErrorPercent), 0.5):0.00} |"));
    }

    private static double Middle(MendOutcome[] group, Func<MendOutcome, double> value, double share) => group.Select(value).Order().ElementAt((int)(share * (group.Length - 1)));
}
