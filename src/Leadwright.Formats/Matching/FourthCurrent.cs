using Leadwright.Core.Logs;
using Leadwright.Formats.Logs;
using Leadwright.Formats.Logs.Layout;

namespace Leadwright.Formats.Matching;

/// <summary>A fourth current, numbered 4 beside those of three phases: the neutral clamp's on most recorders with four inputs, which only its numbers can speak against.</summary>
internal static class FourthCurrent
{
    // An input that nothing is plugged into reads next to nothing.
    private const double LeastShare = 0.01;
    private const double MostBeyond = 0.05;
    private const double Slack = 1.05;

    /// <summary>Takes it for the neutral's where its numbers allow that and no other column is, and says so.</summary>
    /// <param name="proposals">What the columns are taken for; changed.</param>
    /// <param name="columns">Their numbers.</param>
    /// <param name="headings">Their headings.</param>
    /// <param name="warnings">Receives what was assumed.</param>
    /// <param name="questions">Receives what only a person can know.</param>
    public static void Apply(ColumnProposal?[] proposals, ScannedColumn[] columns, LogHeading[] headings, List<ReadWarning> warnings, List<string> questions)
    {
        var fourth = Enumerable.Range(0, proposals.Length)
            .Where(column => proposals[column] is { Role: ColumnRole.Value, Quantity: LogQuantity.Current, Place: LogPlace.Whole, IsStated: false } && LogColumnName.Read(headings[column].Name, default).IsFourthCurrent).ToList();
        var own = fourth.FindIndex(column => proposals[column]!.Statistic is LogStatistic.Mean or LogStatistic.Instant);
        int[] phases = [.. ((LogPlace[])[LogPlace.Phase1, LogPlace.Phase2, LogPlace.Phase3]).Select(IndexOf)];
        if (own < 0 || phases.Contains(-1) || IndexOf(LogPlace.Neutral) >= 0 || !IsPossible(fourth[own])) return;
        foreach (var column in fourth)
            proposals[column] = proposals[column]! with { Place = LogPlace.Neutral, Confidence = 0.6, Why = "the fourth current beside those of three phases" };
        var heading = headings[fourth[own]].Text;
        warnings.Add(new ReadWarning($"Column '{heading}' is taken for the current of the neutral clamp, as the fourth beside those of three phases."));
        questions.Add($"Is column '{heading}' the current of the neutral?");

        int IndexOf(LogPlace place) => Array.FindIndex(
            proposals, proposal => proposal is { Role: ColumnRole.Value, Quantity: LogQuantity.Current, Statistic: LogStatistic.Mean or LogStatistic.Instant } && proposal.Place == place);

        double Value(int column, int row) => columns[column].Numbers![row] * proposals[column]!.Factor;

        // The neutral carries no more than the phases together.
        bool IsPossible(int column)
        {
            int rows = 0, beyond = 0;
            double sum = 0, all = 0;
            for (var row = 0; row < columns[column].Numbers!.Length; row++)
            {
                var (amperes, together) = (Value(column, row), phases.Sum(phase => Value(phase, row)));
                if (!double.IsFinite(amperes) || !double.IsFinite(together)) continue;
                rows++;
                sum += amperes;
                all += together;
                if (amperes > Slack * together) beyond++;
            }

            return rows > 0 && beyond <= MostBeyond * rows && sum > LeastShare * all;
        }
    }
}
