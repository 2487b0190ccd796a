using Leadwright.Core.Integrity;
using Leadwright.Core.Logs;
using Leadwright.Core.Mending;
using Leadwright.Core.Tests.Integrity;

namespace Leadwright.Populations;

/// <summary>Mends weeks that were made by other code than that of the virtual weeks, and tells how often the interval of the energy held.</summary>
/// <param name="seed">Seed of the first week.</param>
/// <param name="show">How many of those that were not covered are shown.</param>
/// <param name="line">Takes a line of the table.</param>
internal sealed class PlainMendStudy(int seed, int show, Action<string> line)
{
    // What is left of a sum of rounded numbers.
    private const double SlackWattHours = 1;

    public void Run(int count)
    {
        var outcomes = new Outcome?[count];
        var shown = 0;
        Parallel.For(0, count, new ParallelOptions { MaxDegreeOfParallelism = Environment.ProcessorCount }, index =>
        {
            var week = new PlainWeek(seed + index);
            if (!week.Log.Has(LogQuantity.ActivePower)) return;
            var guard = IntervalGuard.Judge(week.Log, week.Options);
            var report = IntervalMender.Mend(week.Log, guard, new MendOptions { Service = week.Service, Nominal = week.Nominal });
            if (report.Energy is not { } energy) return;
            var isSeen = week.Truths.All(truth => guard.Spans.Any(span => !span.IsDoubtful && (span.Kind == truth.Kind || span.Kind == truth.Or) && span.From < truth.To && span.To > truth.From));
            var isCovered = energy.LowWattHours - SlackWattHours <= week.TrueWattHours && week.TrueWattHours <= energy.HighWattHours + SlackWattHours;
            outcomes[index] = new Outcome(
                $"{week.Mishap}", isCovered, isSeen, 50 * (energy.HighWattHours - energy.LowWattHours) / week.TrueWattHours, 100 * ((energy.MendedWattHours / week.TrueWattHours) - 1),
                100 * ((energy.RecordedWattHours / week.TrueWattHours) - 1));
            if (isCovered || Interlocked.Increment(ref shown) > show) return;
            lock (outcomes)
            {
                Console.WriteLine(Text($"  {seed + index}: {week.Words}"));
                Console.WriteLine(Text($"    true {week.TrueWattHours / 1000:0.00} kWh, mended {outcomes[index]!.ErrorPercent:+0.000;-0.000} %, between {100 * ((energy.LowWattHours / week.TrueWattHours) - 1):0.000} and {100 * ((energy.HighWattHours / week.TrueWattHours) - 1):0.000} %"));
                foreach (var span in guard.Spans.Take(6)) Console.WriteLine(Text($"    said {span.Kind} {string.Join(",", span.Leads)}{string.Join(",", span.Clamps)} {span.From:ddd HH:mm:ss}-{span.To:ddd HH:mm:ss} {span.Confidence:0.00}"));
                foreach (var each in report.Corrections.Take(8)) Console.WriteLine(Text($"    did {each.Kind} {string.Join(",", each.Leads)}{string.Join(",", each.Clamps)} {each.From:ddd HH:mm:ss}-{each.To:ddd HH:mm:ss} {each.Basis} {each.Intervals} {each.WattHours / 1000:0.00}±{each.UncertaintyWattHours / 1000:0.000} kWh, {each.Trials} trials"));
            }
        });
        line("| what happened | weeks | covered | covered where the guard saw it | median half-width, % | 90th percentile, % | median error, % | median error as recorded, % |");
        line("| --- | --- | --- | --- | --- | --- | --- | --- |");
        var all = outcomes.OfType<Outcome>().ToList();
        foreach (var group in all.GroupBy(outcome => outcome.Mishap).OrderBy(group => group.Key, StringComparer.Ordinal)) Row(group.Key, [.. group]);
        Row("all", all);
    }

    private void Row(string name, List<Outcome> group)
    {
        if (group.Count == 0) return;
        var seen = group.Where(outcome => outcome.IsSeen).ToList();
        line(Text($"| {name} | {group.Count} | {group.Count(outcome => outcome.IsCovered)} ({100.0 * group.Count(outcome => outcome.IsCovered) / group.Count:0} %) | {seen.Count(outcome => outcome.IsCovered)} of {seen.Count} | {Middle(group, outcome => outcome.HalfWidthPercent, 0.5):0.00} | {Middle(group, outcome => outcome.HalfWidthPercent, 0.9):0.00} | {Middle(group, outcome => Math.Abs(outcome.ErrorPercent), 0.5):0.000} | {Middle(group, outcome => Math.Abs(outcome.RecordedErrorPercent), 0.5):0.00} |"));
    }

    private static double Middle(List<Outcome> group, Func<Outcome, double> value, double share) => group.Select(value).Order().ElementAt((int)(share * (group.Count - 1)));

    private static string Text(FormattableString text) => FormattableString.Invariant(text);

    private sealed record Outcome(string Mishap, bool IsCovered, bool IsSeen, double HalfWidthPercent, double ErrorPercent, double RecordedErrorPercent);
}
