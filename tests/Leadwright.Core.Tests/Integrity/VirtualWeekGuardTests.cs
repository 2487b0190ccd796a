using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity;
using Leadwright.Core.Panels.Weeks;

namespace Leadwright.Core.Tests.Integrity;

/// <summary>Single virtual weeks; how many of many are found stands in docs/methods/guard-accuracy.md.</summary>
public sealed class VirtualWeekGuardTests
{
    [Theory]
    [InlineData(ServiceKind.Wye, MishapKind.ClampsExchanged, 0, 1, SpanKind.ClampsExchanged)]
    [InlineData(ServiceKind.Wye, MishapKind.LeadsExchanged, 1, 2, SpanKind.LeadsExchanged)]
    [InlineData(ServiceKind.Wye, MishapKind.LeadMoved, 0, 2, SpanKind.LeadsOnSameConductor)]
    [InlineData(ServiceKind.Wye, MishapKind.ClampMoved, 2, 0, SpanKind.ClampsOnSameConductor)]
    [InlineData(ServiceKind.Wye, MishapKind.ClampsRotated, 0, 0, SpanKind.ClampsRotated)]
    [InlineData(ServiceKind.Delta, MishapKind.LeadOff, 1, 0, SpanKind.LeadOpen)]
    [InlineData(ServiceKind.DeltaTwoClamp, MishapKind.ClampReversed, 2, 0, SpanKind.ClampReversed)]
    [InlineData(ServiceKind.Split, MishapKind.NeutralLeadOff, 3, 0, SpanKind.NeutralOpen)]
    [InlineData(ServiceKind.HighLeg, MishapKind.NeutralLeadOff, 3, 0, SpanKind.NeutralOpen)]
    public void A_mishap_of_two_days_is_found_with_its_edges(ServiceKind service, MishapKind kind, int first, int second, SpanKind expected)
    {
        var recipe = Recipe(service, new Mishap(kind, 200000, 380000, first, second) { Size = 0.04, Detail = 40 });
        var week = VirtualWeek.Make(recipe);
        var report = IntervalGuard.Judge(week.Log, Options(recipe), TestContext.Current.CancellationToken);
        var span = Assert.Single(report.Spans, entry => entry.Kind == expected);
        Assert.InRange(Math.Abs((span.From - recipe.Start.AddSeconds(200000)).TotalSeconds), 0, 630);
        Assert.InRange(Math.Abs((span.To - recipe.Start.AddSeconds(380000)).TotalSeconds), 0, 630);
        Assert.DoesNotContain(report.Spans, entry => entry != span && !entry.IsDoubtful);
    }

    [Fact]
    public void A_clamp_that_opens_slowly_is_found_with_the_course_of_its_gain()
    {
        var recipe = Recipe(ServiceKind.Wye, new Mishap(MishapKind.ClampOpening, 150000, 400000, 1) { Size = 0.35 });
        var report = IntervalGuard.Judge(VirtualWeek.Make(recipe).Log, Options(recipe), TestContext.Current.CancellationToken);
        var span = Assert.Single(report.Spans);
        Assert.Equal((SpanKind.ClampOpen, Clamp.I2, SpanRelation.CurrentDrifted), (span.Kind, Assert.Single(span.Clamps), span.Finding.Relation));
        Assert.InRange(span.Gain[^1].Factor, 0.2, 0.5);
        Assert.InRange(Math.Abs((span.To - recipe.Start.AddSeconds(400000)).TotalHours), 0, 3);
    }

    [Theory]
    [InlineData(ServiceKind.Wye)]
    [InlineData(ServiceKind.Delta)]
    [InlineData(ServiceKind.Split)]
    [InlineData(ServiceKind.Network)]
    [InlineData(ServiceKind.Single)]
    public void A_week_without_mishap_has_no_spans(ServiceKind service)
    {
        var recipe = Recipe(service);
        var report = IntervalGuard.Judge(VirtualWeek.Make(recipe).Log, Options(recipe), TestContext.Current.CancellationToken);
        Assert.DoesNotContain(report.Spans, span => !span.IsDoubtful);
        Assert.Single(report.Timeline.Pieces);
    }

    private static WeekRecipe Recipe(ServiceKind service, params Mishap[] mishaps)
    {
        var plate = service switch
        {
            ServiceKind.Wye or ServiceKind.Network => "230/400",
            ServiceKind.Delta or ServiceKind.DeltaTwoClamp => "480",
            ServiceKind.Single => "230",
            _ => "120/240",
        };
        Assert.True(NominalVoltage.TryParse(plate, service, out var nominal));
        return new WeekRecipe
        {
            Service = service, Nominal = nominal!, Seed = 21, Site = SiteKind.Shop, Columns = WeekColumns.VoltsAmperesWattsVars, Mishaps = [.. mishaps],
        };
    }

    private static GuardOptions Options(WeekRecipe recipe) => new() { Service = recipe.Service, Nominal = recipe.Nominal };
}
