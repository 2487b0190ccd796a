using System.Diagnostics;
using System.Globalization;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Hookups.Answers;
using Leadwright.Core.Integrity;
using Leadwright.Core.Panels.Weeks;

namespace Leadwright.Populations;

/// <summary>Something that really happened in a week, as the guard should name it.</summary>
internal sealed record Expected(SpanKind Kind, Lead[] Leads, Clamp[] Clamps, DateTime From, DateTime To, MishapKind? Mishap)
{
    public bool IsHookup => Kind <= SpanKind.ServiceMismatch && Mishap != MishapKind.ClampOpening;
}

/// <summary>What the guard made of one expected span.</summary>
internal sealed record Finding(Expected Expected, bool IsFound, bool HasEdges, bool IsDoubtful, double EdgeIntervals, bool IsMisnamed);

/// <summary>What the guard made of one week.</summary>
internal sealed record WeekOutcome(
    WeekRecipe Recipe, List<Finding> Findings, List<GuardSpan> False, double CleanDays, int CleanFalse, int Outages, int OutagesAsLeads, double Milliseconds);

/// <summary>Guards a population of virtual weeks and tells how good it was.</summary>
internal sealed class WeekStudy(WeekPopulation population, int weeks, int first, int show, Action<string> line)
{
    /// <summary>Numbers of single weeks to guard instead of a run of them; empty for the run.</summary>
    public int[] Picked { get; init; } = [];

    /// <summary>Folder for the logs of the weeks that are shown; null to write none.</summary>
    public string? DumpTo { get; init; }

    public void Run()
    {
        // Before the work, not after an hour of it: a folder that can't be made is said at once.
        if (DumpTo is { } folder) Directory.CreateDirectory(folder);
        var count = Picked.Length > 0 ? Picked.Length : weeks;
        var outcomes = new WeekOutcome[count];
        var shown = 0;
        Parallel.For(0, count, new ParallelOptions { MaxDegreeOfParallelism = Environment.ProcessorCount }, index =>
        {
            var number = Picked.Length > 0 ? Picked[index] : first + index;
            var week = population.Week(number);
            var options = new GuardOptions
            {
                Service = week.Recipe.Service, Nominal = week.Recipe.Nominal, FrequencyHertz = week.Recipe.Hertz,
                Check = new CheckOptions { MayExport = week.Recipe.HasSolar },
            };
            var watch = Stopwatch.StartNew();
            var report = IntervalGuard.Judge(week.Log, options);
            outcomes[index] = Score(week, report, watch.Elapsed.TotalMilliseconds);
            var outcome = outcomes[index];
            if (outcome.False.Count == 0 && outcome.Findings.TrueForAll(finding => finding.HasEdges)) return;
            if (Interlocked.Increment(ref shown) > show) return;
            lock (this) Show(number, week, report, outcome);
        });
        Write(outcomes);
    }

    /// <summary>Times the guard over a year of one-minute values with a lead off for a week of it.</summary>
    public static void Year(ulong seed, Action<string> line)
    {
        NominalVoltage.TryParse("230/400", ServiceKind.Wye, out var nominal);
        var week = VirtualWeek.Make(new WeekRecipe
        {
            Service = ServiceKind.Wye, Nominal = nominal!, Seed = seed, Days = 365, IntervalSeconds = 60, Columns = WeekColumns.VoltsAmperesWattsVars,
            Mishaps = [new Mishap(MishapKind.LeadOff, 100 * 86400.0, 107 * 86400.0, 1) { Size = 0.03 }],
        });
        for (var round = 0; round < 3; round++)
        {
            var watch = Stopwatch.StartNew();
            var report = IntervalGuard.Judge(week.Log, new GuardOptions { Service = ServiceKind.Wye, Nominal = nominal });
            line(Text($"{week.Log.Count} rows: {watch.Elapsed.TotalSeconds:0.00} s, {report.Spans.Length} spans: {string.Join(", ", report.Spans.Take(6).Select(span => $"{Name(span.Kind)} {span.From:yyyy-MM-dd HH:mm} to {span.To:yyyy-MM-dd HH:mm}"))}"));
        }
    }

    private static WeekOutcome Score(VirtualWeek week, GuardReport report, double milliseconds)
    {
        var interval = TimeSpan.FromSeconds(week.Recipe.IntervalSeconds);
        var expected = Expect(week);
        var sure = report.Spans.Where(span => !span.IsDoubtful).ToList();
        var findings = expected.ConvertAll(truth => Find(truth, week, report, sure, interval));
        var falses = sure.Where(span => !expected.Exists(truth => Overlaps(truth, span, 2 * interval))).ToList();
        var hasMishap = week.Recipe.Mishaps.Any(mishap => !mishap.IsSupply);
        var outages = expected.Where(truth => truth.Kind == SpanKind.Outage).ToList();
        var asLeads = outages.Count(truth => sure.Exists(span => IsLeadFault(span) && Overlaps(truth, span, TimeSpan.Zero)
            && !expected.Exists(other => other.Leads.Length > 0 && other.IsHookup && Overlaps(other, span, TimeSpan.Zero))));
        return new WeekOutcome(
            week.Recipe, findings, falses, hasMishap ? 0 : week.Recipe.Days, hasMishap ? 0 : falses.Count, outages.Count, asLeads, milliseconds);
    }

    private static bool IsLeadFault(GuardSpan span) => span.Kind <= SpanKind.ServiceMismatch && !span.Leads.IsEmpty;

    private static bool Overlaps(Expected truth, GuardSpan span, TimeSpan slack) => span.From < truth.To + slack && span.To > truth.From - slack;

    private static Finding Find(Expected truth, VirtualWeek week, GuardReport report, List<GuardSpan> sure, TimeSpan interval)
    {
        var candidates = sure.Where(span => span.Kind == truth.Kind && Overlaps(truth, span, interval)
            && (truth.Kind is SpanKind.NoData or SpanKind.ClockJump || (Same(span.Leads, truth.Leads) && Same(span.Clamps, truth.Clamps)))).ToList();
        if (candidates.Count == 0 && truth.IsHookup && IsAlike(truth, week, report))
            candidates = sure.Where(span => span.Kind <= SpanKind.ServiceMismatch && Overlaps(truth, span, TimeSpan.Zero)).ToList();
        if (candidates.Count == 0)
        {
            var doubtful = report.Spans.Any(span => span.IsDoubtful && span.Kind == truth.Kind && Overlaps(truth, span, interval));
            return new Finding(truth, false, false, doubtful, double.NaN, sure.Exists(span => Overlaps(truth, span, TimeSpan.Zero)));
        }

        var error = candidates.Min(span => Math.Max(Math.Abs((span.From - truth.From).Ticks), Math.Abs((span.To - truth.To).Ticks))) / (double)interval.Ticks;
        var isGradual = truth.Mishap is MishapKind.ClampOpening or MishapKind.OverRange;
        return new Finding(truth, true, error <= 1.05 || isGradual, false, isGradual ? double.NaN : error, false);
    }

    private static bool Same<T>(IEnumerable<T> one, T[] other) => one.Order().SequenceEqual(other.Order());

    /// <summary>Another hook-up that no reading of these channels can tell from the true one.</summary>
    private static bool IsAlike(Expected truth, VirtualWeek week, GuardReport report)
    {
        var middle = truth.From + ((truth.To - truth.From) / 2);
        var piece = week.Truth.Hookups.FirstOrDefault(entry => entry.From <= middle && middle < entry.To);
        if (piece is null) return false;
        var channels = new[] { Channel.V1, Channel.V2, Channel.V3 }.Take(Service.Of(week.Recipe.Service).LineCount)
            .Select(channel => Service.Of(week.Recipe.Service).IsThreeWire ? channel + 3 : channel)
            .Concat(Service.Of(week.Recipe.Service).Clamps.Select(clamp => Channel.I1 + (int)clamp))
            .ToDictionary(channel => channel, _ => new ChannelReading(100, null));
        var readings = new PanelReadings
        {
            Service = week.Recipe.Service, Nominal = week.Recipe.Nominal,
            Channels = System.Collections.Immutable.ImmutableSortedDictionary.CreateRange(channels),
        };
        var found = report.Timeline.At(middle);
        return new[] { Rotation.Abc, Rotation.Acb }.Any(rotation => ReadsAlike.Check(readings, piece.Hookup, Rotation.Abc, found.Hookup, rotation));
    }

    /// <summary>What the guard should say.</summary>
    private static List<Expected> Expect(VirtualWeek week)
    {
        var expected = new List<Expected>();
        var pieces = week.Truth.Hookups;
        var faults = pieces.Select(piece => FaultFinder.Find(piece.Hookup)).ToList();
        for (var index = 0; index < pieces.Length; index++)
        {
            foreach (var fault in faults[index])
            {
                bool IsSame(Fault other) => other.Kind == fault.Kind && other.Leads.SequenceEqual(fault.Leads) && other.Clamps.SequenceEqual(fault.Clamps);
                if (index > 0 && faults[index - 1].Any(IsSame)) continue;
                var last = index;
                while (last + 1 < pieces.Length && faults[last + 1].Any(IsSame)) last++;
                expected.Add(new Expected((SpanKind)(int)fault.Kind, [.. fault.Leads], [.. fault.Clamps], pieces[index].From, pieces[last].To, null));
            }
        }

        // Beyond its range a clamp is now and then: one expectation from the first to the last time.
        foreach (var group in week.Truth.Spans.Where(span => span.Mishap.Kind == MishapKind.OverRange).GroupBy(span => span.Clamps[0]))
            expected.Add(new Expected(SpanKind.OverRange, [], [group.Key], group.Min(span => span.From), group.Max(span => span.To), MishapKind.OverRange));
        foreach (var span in week.Truth.Spans)
        {
            if (span.Mishap.IsHookup || span.Mishap.Kind is MishapKind.Dip or MishapKind.OverRange) continue;
            SpanKind kind = span.Mishap.Kind switch
            {
                MishapKind.ClampOpening => SpanKind.ClampOpen,
                MishapKind.Stuck => SpanKind.Stuck,
                MishapKind.RecorderOff or MishapKind.OutageWithRecorder => SpanKind.NoData,
                MishapKind.ClockForward => SpanKind.ClockJump,
                _ => SpanKind.Outage,
            };
            expected.Add(new Expected(kind, [.. span.Leads], [.. span.Clamps], span.From, span.To, span.Mishap.Kind));
        }

        return expected;
    }

    private void Show(int index, VirtualWeek week, GuardReport report, WeekOutcome outcome)
    {
        Console.WriteLine($"  week {index}: {week.Recipe.Service} {week.Recipe.Site} {week.Recipe.IntervalSeconds} s {week.Recipe.Columns}{(week.Recipe.HasSolar ? " solar" : "")}");
        foreach (var mishap in week.Recipe.Mishaps) Console.WriteLine($"    made {mishap.Kind} {mishap.First}{mishap.Second} {week.Recipe.Start.AddSeconds(mishap.FromSeconds):ddd HH:mm:ss}-{week.Recipe.Start.AddSeconds(mishap.ToSeconds):ddd HH:mm:ss} size {mishap.Size:0.###} {mishap.Detail:0.##}");
        foreach (var finding in outcome.Findings.Where(finding => !finding.HasEdges)) Console.WriteLine($"    {(finding.IsFound ? "edge" : finding.IsMisnamed ? "misnamed" : finding.IsDoubtful ? "doubtful" : "missed")} {finding.Expected.Kind} {string.Join(",", finding.Expected.Leads)}{string.Join(",", finding.Expected.Clamps)} {finding.Expected.From:ddd HH:mm:ss}-{finding.Expected.To:ddd HH:mm:ss} error {finding.EdgeIntervals:0.0}");
        foreach (var span in report.Spans.Take(12)) Console.WriteLine($"    said {span.Kind} {string.Join(",", span.Leads)}{string.Join(",", span.Clamps)} {span.From:ddd HH:mm:ss}-{span.To:ddd HH:mm:ss} {span.Confidence:0.00} odds {span.Finding.LogOdds:0.0}{(outcome.False.Contains(span) ? " FALSE" : "")}");
        foreach (var piece in report.Timeline.Pieces.Where(piece => !piece.Alternatives.IsEmpty || piece.Confidence < GuardSpan.SureFrom).Take(4))
            Console.WriteLine(Text($"    piece {piece.From:ddd HH:mm:ss}-{piece.To:ddd HH:mm:ss} {piece.Confidence:0.00} {Places.Of(piece.Hookup)} or {string.Join(" or ", piece.Alternatives.Select(chance => Text($"{chance.Probability:0.00} {Places.Of(chance.Hookup)}")))}"));
        if (DumpTo is { } folder) Dump(week, Path.Combine(folder, Text($"week-{index}.csv")));
    }

    private static void Dump(VirtualWeek week, string file)
    {
        var log = week.Log;
        using var writer = new StreamWriter(file);
        writer.WriteLine("Time;" + string.Join(";", log.Columns.Select(column => column.Name)));
        for (var row = 0; row < log.Count; row++)
            writer.WriteLine(Text($"{new DateTime(log.Starts.Span[row]):yyyy-MM-dd HH:mm:ss};") + string.Join(";", log.Columns.Select((_, column) => log.Values(column)[row].ToString(CultureInfo.InvariantCulture))));
    }

    private void Write(WeekOutcome[] outcomes)
    {
        line("| kind | happened | found, right kind and channels | and edges within one interval | named otherwise | doubtful | not seen | median edge error, intervals | false spans |");
        line("| --- | --- | --- | --- | --- | --- | --- | --- | --- |");
        var findings = outcomes.SelectMany(outcome => outcome.Findings).ToList();
        var falses = outcomes.SelectMany(outcome => outcome.False).ToList();
        foreach (var kind in Enum.GetValues<SpanKind>())
        {
            foreach (var group in findings.Where(finding => finding.Expected.Kind == kind).GroupBy(RowName).OrderBy(group => group.Key, StringComparer.Ordinal))
                Row(group.Key, group.ToList(), falses.Count(span => span.Kind == kind && group.Key == Name(kind)));
            if (findings.TrueForAll(finding => RowName(finding) != Name(kind)) && falses.Exists(span => span.Kind == kind))
                line(Text($"| {Name(kind)} | 0 | | | | | | | {falses.Count(span => span.Kind == kind)} |"));
        }

        Row("all", findings, falses.Count);
        line("");
        var days = outcomes.Sum(outcome => outcome.CleanDays);
        var cleanFalse = outcomes.Sum(outcome => outcome.CleanFalse);
        var outages = outcomes.Sum(outcome => outcome.Outages);
        line("| figure | reached | aim |");
        line("| --- | --- | --- |");
        line(Text($"| mishaps and outages found with right kind, channels and edges | {100.0 * findings.Count(finding => finding.HasEdges) / Math.Max(1, findings.Count):0.0} % of {findings.Count} | 98 % |"));
        line(Text($"| false spans in 100 days of weeks without mishap | {100.0 * cleanFalse / Math.Max(1, days):0.00} ({cleanFalse} in {days:0} days) | below 1 |"));
        line(Text($"| genuine outages called lead faults | {outcomes.Sum(outcome => outcome.OutagesAsLeads)} of {outages} | below 1 % |"));
        line("");
        Console.WriteLine(Text($"mean time a week {outcomes.Average(outcome => outcome.Milliseconds):0} ms, slowest {outcomes.Max(outcome => outcome.Milliseconds):0} ms"));

        void Row(string name, List<Finding> group, int wrong)
        {
            var edges = group.Where(finding => !double.IsNaN(finding.EdgeIntervals)).Select(finding => finding.EdgeIntervals).Order().ToList();
            line(Text($"| {name} | {group.Count} | {group.Count(finding => finding.IsFound)} | {group.Count(finding => finding.HasEdges)} | {group.Count(finding => !finding.IsFound && finding.IsMisnamed)} | {group.Count(finding => finding.IsDoubtful)} | {group.Count(finding => !finding.IsFound && !finding.IsMisnamed && !finding.IsDoubtful)} | {(edges.Count == 0 ? "" : edges[edges.Count / 2].ToString("0.00", CultureInfo.InvariantCulture))} | {wrong} |"));
        }
    }

    private static string RowName(Finding finding) => finding.Expected.Mishap switch
    {
        MishapKind.ClampOpening => "clamp-open, slowly",
        MishapKind.LineLost => "outage of one line",
        MishapKind.UpstreamPhaseLost => "outage of one phase upstream",
        MishapKind.SupplyNeutralLost => "outage of the neutral",
        MishapKind.OutageWithRecorder => "no-data, with an outage",
        _ => Name(finding.Expected.Kind),
    };

    private static string Name(SpanKind kind) => string.Concat(kind.ToString().Select((letter, index) => char.IsUpper(letter) ? (index > 0 ? "-" : "") + char.ToLowerInvariant(letter) : letter.ToString()));

    private static string Text(FormattableString text) => FormattableString.Invariant(text);
}
