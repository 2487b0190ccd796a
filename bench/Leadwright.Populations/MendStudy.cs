using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity;
using Leadwright.Core.Logs;
using Leadwright.Core.Mending;
using Leadwright.Core.Panels.Weeks;

namespace Leadwright.Populations;

/// <summary>Mends virtual weeks and tells how often the interval of the energy held.</summary>
internal sealed class MendStudy(WeekPopulation population, int count, int first, int show, Action<string> line)
{
    public void Run()
    {
        var outcomes = new MendOutcome?[count];
        var shown = 0;
        var failed = 0;
        Parallel.For(0, count, new ParallelOptions { MaxDegreeOfParallelism = Environment.ProcessorCount }, index =>
        {
            var week = population.Week(first + index);
            GuardReport guard;
            MendReport report;
            try
            {
                outcomes[index] = Of(week, out guard, out report);
            }
            catch (InvalidOperationException failure)
            {
                // A week that the guard can't get through is no mended week; it is told, not left out in silence.
                Interlocked.Increment(ref failed);
                Console.WriteLine(Text($"  week {first + index}: {failure.Message} {failure.StackTrace?.Split('\n').FirstOrDefault(entry => entry.Contains("Leadwright", StringComparison.Ordinal))?.Trim()}"));
                return;
            }

            if (outcomes[index] is not { IsCovered: false } outcome || Interlocked.Increment(ref shown) > show) return;
            lock (this)
            {
                Console.WriteLine(Text($"  week {first + index}: {week.Recipe.Service} {week.Recipe.Site} {week.Recipe.IntervalSeconds} s {week.Recipe.Columns}{(week.Recipe.HasSolar ? " solar" : "")} true {outcome.TrueWattHours / 1000:0.0} mended {outcome.ErrorPercent:+0.00;-0.00} % low {100 * ((outcome.Low / outcome.TrueWattHours) - 1):0.00} high {100 * ((outcome.High / outcome.TrueWattHours) - 1):0.00}"));
                foreach (var mishap in week.Recipe.Mishaps) Console.WriteLine(Text($"    made {mishap.Kind} {mishap.First}{mishap.Second} {week.Recipe.Start.AddSeconds(mishap.FromSeconds):ddd HH:mm}-{week.Recipe.Start.AddSeconds(mishap.ToSeconds):ddd HH:mm} size {mishap.Size:0.###} {mishap.Detail:0.##}"));
                foreach (var span in guard.Spans.Take(8)) Console.WriteLine(Text($"    said {span.Kind} {string.Join(",", span.Leads)}{string.Join(",", span.Clamps)} {span.From:ddd HH:mm}-{span.To:ddd HH:mm} {span.Confidence:0.00}"));
                foreach (var correction in report.Corrections.Take(12)) Console.WriteLine(Text($"    did {correction.Kind} {string.Join(",", correction.Leads)}{string.Join(",", correction.Clamps)} {correction.From:ddd HH:mm}-{correction.To:ddd HH:mm} {correction.Basis} {correction.Intervals} {correction.WattHours / 1000:0.0}±{correction.UncertaintyWattHours / 1000:0.00} kWh, {correction.Trials} trials"));
            }
        });
        Write([.. outcomes.OfType<MendOutcome>()]);
        if (failed > 0) line(Text($"{failed} of {count} weeks ended with an error in the guard and are not in the table.\n"));
    }

    /// <summary>Mends one week; null when it has no power to mend or next to none.</summary>
    public static MendOutcome? Of(VirtualWeek week, out GuardReport guard, out MendReport report)
    {
        var recipe = week.Recipe;
        guard = IntervalGuard.Judge(week.Log, new GuardOptions
        {
            Service = recipe.Service, Nominal = recipe.Nominal, FrequencyHertz = recipe.Hertz, Check = new CheckOptions { MayExport = recipe.HasSolar },
        });
        report = IntervalMender.Mend(week.Log, guard, new MendOptions { Service = recipe.Service, Nominal = recipe.Nominal });
        if (report.Energy is not { } energy) return null;
        // The same recorder in the same week, rightly hung and never off: its own errors of class are in both.
        var right = VirtualWeek.Make(recipe with
        {
            Mishaps = [.. recipe.Mishaps.Where(mishap => mishap.IsSupply || mishap.Kind == MishapKind.OutageWithRecorder)
                .Select(mishap => mishap.Kind == MishapKind.OutageWithRecorder ? mishap with { Kind = MishapKind.Outage } : mishap)],
        });
        var truth = 0.0;
        for (var phase = LogPlace.Phase1; phase <= LogPlace.Phase3; phase++)
        {
            if (right.Log.IndexOf(LogQuantity.ActivePower, phase) is >= 0 and var index)
                foreach (var watts in right.Log.Values(index)) truth += watts * right.Log.IntervalSeconds / 3600;
        }

        var hookups = guard.Timeline;
        var isRight = week.Truth.Hookups.All(piece => (piece.To - piece.From).TotalSeconds < 2 * recipe.IntervalSeconds
            || hookups.Pieces.IsEmpty || hookups.At(piece.From + ((piece.To - piece.From) / 2)).Hookup.Equals(piece.Hookup));
        foreach (var mishap in recipe.Mishaps)
        {
            SpanKind? wanted = mishap.Kind switch
            {
                MishapKind.ClampOpening => SpanKind.ClampOpen,
                MishapKind.OverRange => SpanKind.OverRange,
                MishapKind.Stuck => SpanKind.Stuck,
                MishapKind.ClockForward => SpanKind.ClockJump,
                _ => null,
            };
            isRight &= wanted is null || guard.Spans.Any(span => span.Kind == wanted && !span.IsDoubtful);
        }

        var own = recipe.Mishaps.Where(mishap => mishap.Kind != MishapKind.Dip).ToList();
        return new MendOutcome(own.Count == 1 ? own[0].Kind : null, truth, energy.MendedWattHours, energy.LowWattHours, energy.HighWattHours, energy.RecordedWattHours, isRight);
    }

    private void Write(MendOutcome[] outcomes)
    {
        var table = new MendTable(line);
        foreach (var group in outcomes.Where(outcome => outcome.Kind is not null).GroupBy(outcome => outcome.Kind!.Value).OrderBy(group => group.Key)) table.Row(Words(group.Key), [.. group]);
        table.Row("nothing, or more than one thing", [.. outcomes.Where(outcome => outcome.Kind is null)]);
        table.Row("all", outcomes);
        line("");
    }

    private static string Words(MishapKind kind) => string.Concat(kind.ToString().Select((letter, index) => char.IsUpper(letter) ? (index > 0 ? " " : "") + char.ToLowerInvariant(letter) : letter.ToString()));

    private static string Text(FormattableString text) => FormattableString.Invariant(text);
}
