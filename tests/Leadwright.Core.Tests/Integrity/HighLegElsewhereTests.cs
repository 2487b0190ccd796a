using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity;
using Leadwright.Core.Logs;
using Leadwright.Core.Mending;
using Leadwright.Core.Panels.Weeks;

namespace Leadwright.Core.Tests.Integrity;

/// <summary>The high leg of a 120/240 V service is not at B everywhere (meter sections by local rule; a practitioners' forum, seen in an excerpt): with it at C or A
/// everything is told and mended as it is with it at B, under the other names.</summary>
public sealed class HighLegElsewhereTests
{
    [Theory]
    [InlineData(MishapKind.ClampReversed, 1, SpanKind.ClampReversed)]
    [InlineData(MishapKind.ClampReversed, 0, SpanKind.ClampReversed)]
    [InlineData(MishapKind.LeadOff, 1, SpanKind.LeadOpen)]
    public void A_mishap_on_a_service_with_the_high_leg_at_c_is_found_and_mended(MishapKind kind, int line, SpanKind expected)
    {
        var recipe = Recipe(new Mishap(kind, 200000, 380000, line) { Size = 0.03, Detail = 40 });
        var log = WithHighLegAtC(VirtualWeek.Make(recipe).Log);
        var report = IntervalGuard.Judge(log, new GuardOptions { Service = ServiceKind.HighLeg, Nominal = recipe.Nominal }, TestContext.Current.CancellationToken);
        var span = Assert.Single(report.Spans, span => !span.IsDoubtful);
        var named = line == 1 ? 2 : line;
        Assert.Equal(expected, span.Kind);
        if (kind == MishapKind.LeadOff) Assert.Equal([(Lead)named], span.Leads);
        else Assert.Equal([(Clamp)named], span.Clamps);
        Assert.InRange(Math.Abs((span.From - recipe.Start.AddSeconds(200000)).TotalSeconds), 0, 630);

        var mended = IntervalMender.Mend(log, report, new MendOptions { Service = ServiceKind.HighLeg, Nominal = recipe.Nominal }, TestContext.Current.CancellationToken);
        var truth = WithHighLegAtC(VirtualWeek.Make(recipe with { Mishaps = [] }).Log);
        var energies = new double[3];
        for (var phase = 0; phase < 3; phase++)
        {
            foreach (var watts in truth.Values(truth.IndexOf(LogQuantity.ActivePower, LogPlace.Phase1 + phase))) energies[phase] += watts / 6;
        }

        Assert.Equal(energies.Sum(), mended.Energy!.MendedWattHours, 0.005 * energies.Sum());
        for (var phase = 0; phase < 3; phase++) Assert.Equal(energies[phase], mended.After.PhaseWattHours[phase], 0.005 * energies.Sum());
        Assert.Equal(log.Columns, mended.Log.Columns);
    }

    [Fact]
    public void A_week_without_mishap_has_no_spans_wherever_the_high_leg_is()
    {
        var recipe = Recipe();
        var report = IntervalGuard.Judge(
            WithHighLegAtC(VirtualWeek.Make(recipe).Log), new GuardOptions { Service = ServiceKind.HighLeg, Nominal = recipe.Nominal }, TestContext.Current.CancellationToken);
        Assert.DoesNotContain(report.Spans, span => !span.IsDoubtful);
        Assert.True(Assert.Single(report.Timeline.Pieces).Hookup.IsRight);
    }

    private static WeekRecipe Recipe(params Mishap[] mishaps)
    {
        Assert.True(NominalVoltage.TryParse("120/240", ServiceKind.HighLeg, out var nominal));
        return new WeekRecipe { Service = ServiceKind.HighLeg, Nominal = nominal!, Seed = 21, Site = SiteKind.Shop, Columns = WeekColumns.VoltsAmperesWattsVars, Mishaps = [.. mishaps] };
    }

    /// <summary>Lines B and C under each other's names.</summary>
    private static IntervalLog WithHighLegAtC(IntervalLog log) => new(
        [.. log.Columns.Select(column => column with { Place = column.Place switch { LogPlace.Phase2 => LogPlace.Phase3, LogPlace.Phase3 => LogPlace.Phase2, _ => column.Place } })],
        log.Starts.ToArray(), [.. Enumerable.Range(0, log.Columns.Length).Select(column => log.Values(column).ToArray())], log.IntervalSeconds);
}
