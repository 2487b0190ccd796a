using System.Globalization;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Panels;

namespace Leadwright.Populations;

/// <summary>What the check makes of a service that was stated wrongly, rightly or not at all.</summary>
internal static class ServiceRuns
{
    private static readonly NominalVoltage s_wye230 = new(230, 400);
    private static readonly NominalVoltage s_wye120 = new(120, 208);

    /// <summary>Writes the tables.</summary>
    /// <param name="count">Panels a row.</param>
    /// <param name="seed">Seed of the populations.</param>
    /// <param name="show">How many misses of each row to show.</param>
    /// <param name="part">stated, wrong or open for one of the tables; null for all.</param>
    /// <param name="line">Takes each line.</param>
    public static void Write(int count, ulong seed, int show, string? part, Action<string> line)
    {
        if (part is null or "stated") Stated(count, seed, show, line);
        if (part is null or "wrong") StatedWrongly(count, seed, show, line);
        if (part is null or "open") Open(count, seed, show, line);
    }

    private static void Stated(int count, ulong seed, int show, Action<string> line)
    {
        line("### The service is stated rightly: alarms that it is not");
        line("");
        line("| service | hook-ups | cases | said to be another service | service left in doubt |");
        line("| --- | --- | --- | --- | --- |");
        foreach (var service in Service.All)
        {
            foreach (var style in new[] { FaultStyle.None, FaultStyle.Slips })
            {
                var tally = Run(count, seed, show, service.Kind, style, LoadFamily.Ordinary, panel => panel.Readings);
                line(Text($"| {service.Name} | {(style == FaultStyle.None ? "right" : "slips")} | {count} | {tally.Mismatch} | {tally.Doubt} |"));
            }
        }

        line("");
    }

    private static void StatedWrongly(int count, ulong seed, int show, Action<string> line)
    {
        line("### The service or its nominal voltage is stated wrongly, hook-ups right");
        line("");
        line("| read on | stated | cases | named | left in doubt | passed as right |");
        line("| --- | --- | --- | --- | --- | --- |");
        Wrong("high-leg", ServiceKind.HighLeg, "wye 120/208", ServiceKind.Wye, s_wye120);
        Wrong("network", ServiceKind.Network, "split 120/240", ServiceKind.Split, new NominalVoltage(120, 240));
        Wrong("split", ServiceKind.Split, "network 120/208", ServiceKind.Network, s_wye120);
        Wrong("wye 120/208", ServiceKind.Wye, "high-leg 120/240", ServiceKind.HighLeg, new NominalVoltage(120, 240), 120);
        Wrong("wye 120/208", ServiceKind.Wye, "wye 230/400", ServiceKind.Wye, s_wye230, 120);
        Wrong("wye 230/400", ServiceKind.Wye, "wye 120/208", ServiceKind.Wye, s_wye120, 230);
        line("");

        void Wrong(string on, ServiceKind real, string said, ServiceKind stated, NominalVoltage nominal, double only = 0)
        {
            var tally = Run(count, seed, show, real, FaultStyle.None, LoadFamily.Ordinary,
                panel => only > 0 && panel.Panel.Source.Nominal.LineToNeutralVolts != only
                    ? null : panel.Readings with { Service = stated, Nominal = nominal });
            line(Text($"| {on} | {said} | {tally.Count} | {tally.Named} | {tally.Doubt} | {tally.Correct} |"));
        }
    }

    private static void Open(int count, ulong seed, int show, Action<string> line)
    {
        line("### The service is not stated, hook-ups with slips");
        line("");
        line("| read on | cases | service named | another named | left in doubt |");
        line("| --- | --- | --- | --- | --- |");
        foreach (var service in Service.All)
        {
            var tally = Run(count, seed, show, service.Kind, FaultStyle.Slips, LoadFamily.Ordinary,
                panel => panel.Readings with { IsServiceOpen = true, Nominal = null });
            line(Text($"| {service.Name} | {count} | {tally.Named} | {tally.Other} | {tally.Doubt} |"));
        }

        line("");
    }

    private static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);

    private static Tally Run(
        int count, ulong seed, int show, ServiceKind service, FaultStyle style, LoadFamily family, Func<PanelCase, PanelReadings?> state)
    {
        var population = new PanelPopulation { Service = service, Family = family, Faults = style, Seed = seed };
        var tally = new Tally();
        Parallel.For(0, count, index =>
        {
            var panel = population.Case(index);
            if (state(panel) is not { } readings) return;
            var verdict = HookupCheck.Judge(readings, panel.Options);
            var isMismatch = verdict.Best.Faults.Any(fault => fault.Kind == FaultKind.ServiceMismatch) && verdict.Verdict == Verdict.Faulty;
            var isDoubt = verdict.Notes.Any(note => note.Kind == NoteKind.ServiceInDoubt);
            lock (tally)
            {
                tally.Count++;
                if (isMismatch) tally.Mismatch++;
                if (isDoubt) tally.Doubt++;
                if (verdict.Verdict == Verdict.Correct) tally.Correct++;
                if ((isMismatch || readings.IsServiceOpen) && !isDoubt && verdict.Service == service) tally.Named++;
                if (!isDoubt && verdict.Service != service) tally.Other++;
                var isMiss = readings.IsServiceOpen || readings.Service != service || readings.Nominal != panel.Readings.Nominal
                    ? isDoubt || verdict.Service != service : isMismatch || isDoubt;
                if (!isMiss || tally.Shown++ >= show) return;
                Console.WriteLine(Text(
                    $"  case {index}: {string.Join(",", panel.Slips)} | {string.Join(" ", panel.Readings.Channels.Select(entry => Text($"{entry.Key}={entry.Value.Rms:0.##}@{entry.Value.AngleDegrees:0.#}")))}"));
                Console.WriteLine(Text(
                    $"    {verdict.Verdict} {verdict.Best.Probability:0.000} {string.Join(", ", verdict.Services.Select(share => Text($"{share.Service} {share.Nominal} {share.Probability:0.0000}")))}"));
            }
        });
        return tally;
    }

    private sealed class Tally
    {
        public int Count { get; set; }
        public int Mismatch { get; set; }
        public int Doubt { get; set; }
        public int Correct { get; set; }
        public int Named { get; set; }
        public int Other { get; set; }
        public int Shown { get; set; }
    }
}
