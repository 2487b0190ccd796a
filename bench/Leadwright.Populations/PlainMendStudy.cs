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
    private readonly List<(string Mishap, MendOutcome Outcome)> _outcomes = [];
    private int _shown;

    /// <summary>Plain weeks.</summary>
    /// <param name="count">How many.</param>
    public void Plain(int count)
    {
        Parallel.For(0, count, new ParallelOptions { MaxDegreeOfParallelism = Environment.ProcessorCount }, index =>
        {
            var week = new PlainWeek(seed + index);
            Judge($"{week.Mishap}", $"{seed + index}: {week.Words}", week.Log, week.Options, week.Truths, week.TrueWattHours);
        });
        Write();
    }

    /// <summary>Fifteen mishaps at four places of the weeks of five sites.</summary>
    /// <param name="seeds">How many seeds of each site.</param>
    public void Sites(int seeds)
    {
        MirrorStudy.EachSite(seeds, seed, Enum.GetValues<OtherLoad>(), (load, place, number, site) =>
        {
            var truth = WattHours(site.Record(OtherColumns.All, 600));
            var (from, to) = MirrorStudy.SpanOf(place);
            foreach (var (name, hung, kind, leads, clamps) in MirrorStudy.Mishaps())
            {
                var log = site.Record(OtherColumns.All, 600, seconds => seconds >= from && seconds < to ? hung : OtherSite.Hung.Right);
                Judge(name, $"{load} seed {number} place {place} {name}", log, MirrorStudy.OptionsOf(load), [new PlainTruth(kind, leads, clamps, OtherSite.Start.AddSeconds(from), OtherSite.Start.AddSeconds(to), false)], truth);
            }
        });
        Write();
    }

    private static double WattHours(IntervalLog log)
    {
        var sum = 0.0;
        for (var place = LogPlace.Phase1; place <= LogPlace.Phase3; place++)
        {
            foreach (var watts in log.Values(log.IndexOf(LogQuantity.ActivePower, place))) sum += watts * log.IntervalSeconds / 3600;
        }

        return sum;
    }

    private void Judge(string mishap, string words, IntervalLog log, GuardOptions options, IReadOnlyList<PlainTruth> truths, double trueWattHours)
    {
        if (!log.Has(LogQuantity.ActivePower)) return;
        var guard = IntervalGuard.Judge(log, options);
        var report = IntervalMender.Mend(log, guard, new MendOptions { Service = options.Service, Nominal = options.Nominal });
        if (report.Energy is not { } energy) return;
        var isSeen = truths.All(truth => guard.Spans.Any(span => !span.IsDoubtful && (span.Kind == truth.Kind || span.Kind == truth.Or) && span.From < truth.To && span.To > truth.From));
        var outcome = new MendOutcome(null, trueWattHours, energy.MendedWattHours, energy.LowWattHours, energy.HighWattHours, energy.RecordedWattHours, isSeen);
        lock (_outcomes)
        {
            _outcomes.Add((mishap, outcome));
            if (outcome.IsCovered || ++_shown > show) return;
            Console.WriteLine(Text($"  {words}"));
            Console.WriteLine(Text($"    true {trueWattHours / 1000:0.00} kWh, mended {outcome.ErrorPercent:+0.000;-0.000} %, between {100 * ((energy.LowWattHours / trueWattHours) - 1):0.000} and {100 * ((energy.HighWattHours / trueWattHours) - 1):0.000} %"));
            foreach (var span in guard.Spans.Take(6)) Console.WriteLine(Text($"    said {span.Kind} {string.Join(",", span.Leads)}{string.Join(",", span.Clamps)} {span.From:ddd HH:mm:ss}-{span.To:ddd HH:mm:ss} {span.Confidence:0.00}"));
            foreach (var each in report.Corrections.Take(8)) Console.WriteLine(Text($"    did {each.Kind} {string.Join(",", each.Leads)}{string.Join(",", each.Clamps)} {each.From:ddd HH:mm:ss}-{each.To:ddd HH:mm:ss} {each.Basis} {each.Intervals} {each.WattHours / 1000:0.00}±{each.UncertaintyWattHours / 1000:0.000} kWh, {each.Trials} trials"));
        }
    }

    private void Write()
    {
        var table = new MendTable(line);
        foreach (var group in _outcomes.GroupBy(entry => entry.Mishap).OrderBy(group => group.Key, StringComparer.Ordinal)) table.Row(group.Key, [.. group.Select(entry => entry.Outcome)]);
        table.Row("all", [.. _outcomes.Select(entry => entry.Outcome)]);
    }

    private static string Text(FormattableString text) => FormattableString.Invariant(text);
}
