using System.Globalization;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity;
using Leadwright.Core.Logs;
using Leadwright.Core.Tests.Integrity;

namespace Leadwright.Populations;

/// <summary>Guards sites and weeks that were made by other code than that of the virtual weeks, and tells what was found, missed and false.</summary>
/// <param name="seed">Seed of the first site or week.</param>
/// <param name="show">How many of those that were not found are shown.</param>
/// <param name="line">Takes a line of the table.</param>
internal sealed class MirrorStudy(int seed, int show, Action<string> line)
{
    private const int Places = 4;

    private static readonly string[] s_outcomes = ["found", "edges", "besides", "otherwise", "doubtful", "missed"];
    private readonly SortedDictionary<string, int[]> _counts = new(StringComparer.Ordinal);
    private int _shown;
    private int _falseClean;
    private double _cleanDays;
    private int _outages;
    private int _outagesAsLeads;

    /// <summary>Fifteen mishaps at four places of the weeks of five sites: of those asked for, or all.</summary>
    /// <param name="seeds">How many seeds of each site.</param>
    /// <param name="only">Name of the one site; null for all.</param>
    public void Sites(int seeds, string? only)
    {
        OtherLoad[] loads = [.. Enum.GetValues<OtherLoad>().Where(load => only is null || string.Equals($"{load}", only, StringComparison.OrdinalIgnoreCase))];
        EachSite(seeds, seed, loads, (load, place, number, site) =>
        {
            var options = OptionsOf(load);
            var (from, to) = SpanOf(place);
            foreach (var (name, hung, kind, leads, clamps) in Mishaps())
            {
                var log = site.Record(OtherColumns.All, 600, seconds => seconds >= from && seconds < to ? hung : OtherSite.Hung.Right);
                PlainTruth[] truths = [new(kind, leads, clamps, OtherSite.Start.AddSeconds(from), OtherSite.Start.AddSeconds(to), false)];
                Judge($"{load}", name, Text($"{load} seed {number} place {place}"), log, options, truths, 0);
            }

            if (place == 0) Judge($"{load}", "nothing", Text($"{load} seed {number}"), site.Record(OtherColumns.All, 600), options, [], 7);
        });
        Write();
    }

    /// <summary>Plain weeks.</summary>
    /// <param name="count">How many.</param>
    /// <param name="only">The one mishap; null for all.</param>
    public void Plain(int count, PlainMishap? only)
    {
        Parallel.For(0, count, new ParallelOptions { MaxDegreeOfParallelism = Environment.ProcessorCount }, index =>
        {
            var week = new PlainWeek(seed + index, only);
            Judge("plain", $"{week.Mishap}", Text($"{seed + index}: {week.Words}"), week.Log, week.Options, week.Truths, week.Mishap == PlainMishap.None ? week.Log.Count * week.Log.IntervalSeconds / 86400 : 0);
        });
        Write();
    }

    /// <summary>Goes through the sites of another make, each at each time of a week that a mishap is tried at.</summary>
    public static void EachSite(int seeds, int seed, OtherLoad[] loads, Action<OtherLoad, int, int, OtherSite> judge) =>
        Parallel.For(0, seeds * loads.Length * Places, new ParallelOptions { MaxDegreeOfParallelism = Environment.ProcessorCount }, index =>
        {
            var (load, number) = (loads[index / Places % loads.Length], seed + (index / Places / loads.Length));
            judge(load, index % Places, number, new OtherSite(load, number, 7, 60));
        });

    /// <summary>How a site of another make is guarded.</summary>
    public static GuardOptions OptionsOf(OtherLoad load) => new()
    {
        Service = ServiceKind.Wye, Nominal = NominalVoltage.TryParse("230/400", ServiceKind.Wye, out var nominal) ? nominal : null, Check = new CheckOptions { MayExport = load == OtherLoad.SolarHouse },
    };

    /// <summary>From when to when a mishap lasts, seconds from the start of a week.</summary>
    public static (double From, double To) SpanOf(int place)
    {
        const double Hour = 3600;
        return place switch { 0 => (0.0, 3 * Hour), 1 => (180000.0, 180000 + (26 * Hour)), 2 => (290000.0, 290000 + (2 * Hour)), _ => (163 * Hour, 168 * Hour) };
    }

    /// <summary>The fifteen mishaps of a site of another make.</summary>
    public static IEnumerable<(string Name, OtherSite.Hung Hung, SpanKind Kind, Lead[] Leads, Clamp[] Clamps)> Mishaps()
    {
        var right = OtherSite.Hung.Right;
        yield return ("lead off", right with { Leads = [0, -1, 2, 3] }, SpanKind.LeadOpen, [Lead.V2], []);
        yield return ("lead moved", right with { Leads = [0, 0, 2, 3] }, SpanKind.LeadsOnSameConductor, [Lead.V1, Lead.V2], []);
        yield return ("lead on neutral", right with { Leads = [0, 1, 3, 3] }, SpanKind.LeadOnNeutral, [Lead.V3], []);
        yield return ("leads exchanged", right with { Leads = [1, 0, 2, 3] }, SpanKind.LeadsExchanged, [Lead.V1, Lead.V2], []);
        yield return ("neutral lead off", right with { Leads = [0, 1, 2, -1] }, SpanKind.NeutralOpen, [Lead.VN], []);
        yield return ("neutral exchanged", right with { Leads = [3, 1, 2, 0] }, SpanKind.NeutralExchanged, [Lead.V1, Lead.VN], []);
        yield return ("clamp turned", right with { Factors = [1, -1, 1] }, SpanKind.ClampReversed, [], [Clamp.I2]);
        yield return ("clamp moved", right with { Clamps = [0, 0, 2] }, SpanKind.ClampsOnSameConductor, [], [Clamp.I1, Clamp.I2]);
        yield return ("clamp off", right with { Clamps = [0, -1, 2] }, SpanKind.ClampOpen, [], [Clamp.I2]);
        yield return ("clamps exchanged", right with { Clamps = [1, 0, 2] }, SpanKind.ClampsExchanged, [], [Clamp.I1, Clamp.I2]);
        yield return ("clamps rotated", right with { Clamps = [1, 2, 0] }, SpanKind.ClampsRotated, [], [Clamp.I1, Clamp.I2, Clamp.I3]);
        yield return ("ratio of 10", right with { Factors = [1, 10, 1] }, SpanKind.RatioWrong, [], [Clamp.I2]);
        yield return ("ratio of 0.1", right with { Factors = [0.1, 1, 1] }, SpanKind.RatioWrong, [], [Clamp.I1]);
        yield return ("ratio of 2", right with { Factors = [1, 1, 2] }, SpanKind.RatioWrong, [], [Clamp.I3]);
        yield return ("ratio of 0.5", right with { Factors = [1, 0.5, 1] }, SpanKind.RatioWrong, [], [Clamp.I2]);
    }

    private void Judge(string site, string mishap, string words, IntervalLog log, GuardOptions options, IReadOnlyList<PlainTruth> truths, double cleanDays)
    {
        var report = IntervalGuard.Judge(log, options);
        var interval = TimeSpan.FromSeconds(log.IntervalSeconds);
        var sure = report.Spans.Where(span => !span.IsDoubtful).ToList();
        bool Overlaps(PlainTruth truth, GuardSpan span, TimeSpan slack) => span.From < truth.To + slack && span.To > truth.From - slack;
        var besides = sure.Count(span => !truths.Any(truth => Overlaps(truth, span, interval) && IsRight(truth, span)));
        var falses = sure.Count(span => !truths.Any(truth => Overlaps(truth, span, 2 * interval)));
        var outcomes = new List<string>();
        foreach (var truth in truths)
        {
            var own = sure.Where(span => Overlaps(truth, span, interval) && IsRight(truth, span)).ToList();
            var isWhole = own.Count > 0 && (truth.Kind != SpanKind.Stuck || truth.Leads.Length < 2
                || (truth.Leads.All(lead => own.Exists(span => span.Leads.Contains(lead))) && truth.Clamps.All(clamp => own.Exists(span => span.Clamps.Contains(clamp)))));
            var error = own.Count == 0 ? double.NaN : own.Min(span => Math.Max(Math.Abs((span.From - truth.From).Ticks), Math.Abs((span.To - truth.To).Ticks))) / (double)interval.Ticks;
            outcomes.Add(isWhole ? truth.IsGradual || error <= 1.05 ? besides > 0 ? "besides" : "found" : "edges"
                : sure.Exists(span => Overlaps(truth, span, TimeSpan.Zero)) ? "otherwise"
                : report.Spans.Any(span => span.IsDoubtful && span.Kind == truth.Kind && Overlaps(truth, span, interval)) ? "doubtful" : "missed");
        }

        lock (_counts)
        {
            foreach (var (truth, outcome) in truths.Zip(outcomes))
            {
                var isFirst = truth == truths[0];
                foreach (var key in new[] { Text($"1 {site}"), Text($"2 {(isFirst ? mishap : "second: " + truth.Kind)}") })
                {
                    if (!_counts.TryGetValue(key, out var counts)) _counts[key] = counts = new int[s_outcomes.Length + 1];
                    counts[Array.IndexOf(s_outcomes, outcome)]++;
                }

                if (truth.Kind != SpanKind.Outage) continue;
                _outages++;
                if (sure.Exists(span => span.Kind <= SpanKind.ServiceMismatch && !span.Leads.IsEmpty && Overlaps(truth, span, TimeSpan.Zero))) _outagesAsLeads++;
            }

            foreach (var key in new[] { Text($"1 {site}"), Text($"2 {mishap}") })
            {
                if (!_counts.TryGetValue(key, out var counts)) _counts[key] = counts = new int[s_outcomes.Length + 1];
                counts[^1] += falses;
            }

            _cleanDays += cleanDays;
            if (cleanDays > 0) _falseClean += sure.Count;
            if ((falses == 0 && outcomes.TrueForAll(outcome => outcome == "found")) || ++_shown > show) return;
            Console.WriteLine($"  {words}: {mishap} {string.Join(",", outcomes)}");
            foreach (var truth in truths) Console.WriteLine($"    made {truth.Kind} {string.Join(",", truth.Leads)}{string.Join(",", truth.Clamps)} {truth.From:ddd HH:mm:ss}-{truth.To:ddd HH:mm:ss}");
            foreach (var span in report.Spans.Take(8)) Console.WriteLine($"    said {span.Kind} {string.Join(",", span.Leads)}{string.Join(",", span.Clamps)} {span.From:ddd HH:mm:ss}-{span.To:ddd HH:mm:ss} {Text($"{span.Confidence:0.00} odds {span.Finding.LogOdds:0.0} {span.Finding.Relation}")}");
        }
    }

    private static bool IsRight(PlainTruth truth, GuardSpan span)
    {
        if (span.Kind != truth.Kind && span.Kind != truth.Or) return false;
        if (truth.Kind is SpanKind.NoData or SpanKind.ClockJump) return true;
        if (truth.Kind == SpanKind.Stuck && truth.Leads.Length > 1) return true;
        return span.Leads.Order().SequenceEqual(truth.Leads.Order()) && span.Clamps.Order().SequenceEqual(truth.Clamps.Order());
    }

    private void Write()
    {
        line("| what | mishaps | found | right, edges beyond an interval | found, another sure span besides | named otherwise | doubtful | not seen | false spans |");
        line("| --- | --- | --- | --- | --- | --- | --- | --- | --- |");
        var all = new int[s_outcomes.Length + 1];
        foreach (var (name, counts) in _counts)
        {
            Row(name[2..], counts);
            for (var index = 0; name[0] == '1' && index < all.Length; index++) all[index] += counts[index];
        }

        Row("all", all);
        var total = all.Take(s_outcomes.Length).Sum();
        line("");
        line(Text($"found with kind, channels and edges {100.0 * (all[0] + all[2]) / Math.Max(1, total):0.0} % of {total}, {100.0 * all[0] / Math.Max(1, total):0.0} % without any other sure span; {_falseClean} false spans in {_cleanDays:0} days without mishap; {_outagesAsLeads} of {_outages} outages called lead faults"));
        void Row(string name, int[] counts) => line($"| {name} | {counts.Take(s_outcomes.Length).Sum()} | {string.Join(" | ", counts)} |");
    }

    private static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
