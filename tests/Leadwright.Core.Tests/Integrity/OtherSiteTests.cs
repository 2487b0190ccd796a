using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity;
using Leadwright.Core.Logs;

namespace Leadwright.Core.Tests.Integrity;

/// <summary>Mishaps on sites and recorders made another way than the weeks the guard was tuned on.</summary>
public sealed class OtherSiteTests
{
    private const double Day = 86400;

    [Theory]
    [InlineData(OtherLoad.Factory)]
    [InlineData(OtherLoad.EmptyHouse)]
    [InlineData(OtherLoad.Welding)]
    [InlineData(OtherLoad.MotorPlant)]
    [InlineData(OtherLoad.SolarHouse)]
    public void Nothing_is_found_where_nothing_happened(OtherLoad load)
    {
        foreach (var columns in new[] { OtherColumns.All, OtherColumns.NoVars, OtherColumns.VoltsAmperes, OtherColumns.Totals })
        {
            // Of a house that hardly draws anything, watts without vars tell too little: docs/methods/guard-accuracy.md.
            if (load == OtherLoad.EmptyHouse && columns == OtherColumns.NoVars) continue;
            Assert.DoesNotContain(Guard(load, columns, 600, 7).Spans, span => !span.IsDoubtful);
        }

        if (load != OtherLoad.EmptyHouse) Assert.DoesNotContain(Guard(load, OtherColumns.All, 60, 3).Spans, span => !span.IsDoubtful);
        Assert.DoesNotContain(Guard(load, OtherColumns.All, 900, 7).Spans, span => !span.IsDoubtful);
    }

    [Theory]
    [InlineData(OtherLoad.Factory, OtherColumns.All)]
    [InlineData(OtherLoad.Factory, OtherColumns.NoVars)]
    [InlineData(OtherLoad.EmptyHouse, OtherColumns.All)]
    [InlineData(OtherLoad.MotorPlant, OtherColumns.All)]
    public void A_clamp_turned_round_and_then_a_lead_that_falls_off_are_both_found(OtherLoad load, OtherColumns columns)
    {
        // The second begins while the first goes on, and both last to the end.
        double turned = 2.2 * Day, fallen = 4.6 * Day;
        var both = OtherSite.Hung.Right with { Factors = [1, -1, 1] };
        var report = Guard(load, columns, 600, 7, seconds => seconds < turned ? OtherSite.Hung.Right : seconds < fallen ? both : both with { Leads = [0, 1, -1, 3] });
        var sure = report.Spans.Where(span => !span.IsDoubtful).OrderBy(span => span.From).ToArray();
        Assert.Equal([(SpanKind.ClampReversed, "I2"), (SpanKind.LeadOpen, "V3")], sure.Select(span => (span.Kind, Channels(span))));
        Assert.InRange((sure[0].From - OtherSite.Start.AddSeconds(turned)).Duration().TotalSeconds, 0, 630);
        Assert.InRange((sure[1].From - OtherSite.Start.AddSeconds(fallen)).Duration().TotalSeconds, 0, 630);
        Assert.All(sure, span => Assert.Equal(report.To, span.To));
    }

    [Theory]
    [InlineData(0)]
    [InlineData(163)]
    public void Three_hours_of_a_clamp_that_was_off_at_the_very_start_or_end_are_found(double fromHours)
    {
        var off = OtherSite.Hung.Right with { Clamps = [0, -1, 2] };
        double from = fromHours * 3600, to = fromHours == 0 ? 3 * 3600 : 7 * Day;
        var span = Assert.Single(Guard(OtherLoad.Factory, OtherColumns.All, 600, 7, seconds => seconds >= from && seconds < to ? off : OtherSite.Hung.Right).Spans, span => !span.IsDoubtful);
        Assert.Equal((SpanKind.ClampOpen, "I2"), (span.Kind, Channels(span)));
        Assert.InRange((span.From - OtherSite.Start.AddSeconds(from)).Duration().TotalSeconds, 0, 630);
        Assert.InRange((span.To - OtherSite.Start.AddSeconds(to)).Duration().TotalSeconds, 0, 630);
    }

    [Theory]
    [InlineData(OtherLoad.Factory)]
    [InlineData(OtherLoad.Welding)]
    public void A_supply_that_goes_is_no_lead(OtherLoad load)
    {
        var log = new OtherSite(load, 5, 7, 60).Record(OtherColumns.All, 600, null, seconds => seconds is >= 200000 and < 204000 ? [0, 0, 0] : [1, 1, 1]);
        var span = Assert.Single(Judge(load, log).Spans, span => !span.IsDoubtful);
        Assert.Equal(SpanKind.Outage, span.Kind);
    }

    [Fact]
    public void Lines_that_motors_load_alike_do_not_tell_of_the_neutral_lead()
    {
        // What each phase's voltage answers to its own current is known too roughly here to be held against the mean's.
        var off = OtherSite.Hung.Right with { Clamps = [0, -1, 2] };
        var report = Guard(OtherLoad.MotorPlant, OtherColumns.All, 600, 7, seconds => seconds is >= 180000 and < 270000 ? off : OtherSite.Hung.Right);
        var span = Assert.Single(report.Spans, span => !span.IsDoubtful);
        Assert.Equal((SpanKind.ClampOpen, "I2"), (span.Kind, Channels(span)));
    }

    // A third clamp at twice, and a second at ten times, among pumps that load three lines alike: what the others carry says what it should read.
    [Theory]
    [InlineData(180000, 273600, 2, 2, "I3")]
    [InlineData(290000, 297200, 1, 10, "I2")]
    public void A_ratio_set_wrong_among_loads_of_three_lines_is_laid_at_its_own_clamp(double from, double to, int clamp, double factor, string channel)
    {
        double[] factors = [1, 1, 1];
        factors[clamp] = factor;
        var wrong = OtherSite.Hung.Right with { Factors = factors };
        var log = new OtherSite(OtherLoad.MotorPlant, 7, 7, 60).Record(OtherColumns.All, 600, seconds => seconds >= from && seconds < to ? wrong : OtherSite.Hung.Right);
        var span = Assert.Single(Judge(OtherLoad.MotorPlant, log).Spans, span => !span.IsDoubtful);
        Assert.Equal((SpanKind.RatioWrong, channel), (span.Kind, Channels(span)));
        Assert.InRange((span.From - OtherSite.Start.AddSeconds(from)).Duration().TotalSeconds, 0, 630);
        Assert.InRange((span.To - OtherSite.Start.AddSeconds(to)).Duration().TotalSeconds, 0, 630);
    }

    [Fact]
    public void A_heater_by_night_is_no_end_of_a_range_because_a_lead_was_moved_in_the_same_week()
    {
        var moved = OtherSite.Hung.Right with { Leads = [0, 1, 3, 3] };
        var log = new OtherSite(OtherLoad.EmptyHouse, 7, 7, 60).Record(OtherColumns.All, 600, seconds => seconds is >= 180000 and < 273600 ? moved : OtherSite.Hung.Right);
        Assert.DoesNotContain(Judge(OtherLoad.EmptyHouse, log).Spans, span => span.Kind == SpanKind.OverRange && !span.IsDoubtful);
    }

    [Fact]
    public void With_volts_and_amperes_alone_nothing_is_sure_that_rests_on_the_voltages_answers()
    {
        var exchanged = OtherSite.Hung.Right with { Clamps = [1, 0, 2] };
        var report = Guard(OtherLoad.Factory, OtherColumns.VoltsAmperes, 600, 7, seconds => seconds is >= 180000 and < 270000 ? exchanged : OtherSite.Hung.Right);
        Assert.DoesNotContain(report.Spans, span => span.Kind is SpanKind.NeutralOpen or SpanKind.RatioWrong && !span.IsDoubtful);
        Assert.DoesNotContain(report.Spans, span => span.Finding.Relation == SpanRelation.CurrentDrifted && !span.IsDoubtful);
    }

    private static string Channels(GuardSpan span) => string.Join(",", span.Leads.Select(lead => $"{lead}").Concat(span.Clamps.Select(clamp => $"{clamp}")));

    private static GuardReport Guard(OtherLoad load, OtherColumns columns, int seconds, double days, Func<double, OtherSite.Hung>? hung = null) =>
        Judge(load, new OtherSite(load, 5, days, seconds >= 300 ? 60 : 20).Record(columns, seconds, hung));

    private static GuardReport Judge(OtherLoad load, IntervalLog log)
    {
        Assert.True(NominalVoltage.TryParse("230/400", ServiceKind.Wye, out var nominal));
        return IntervalGuard.Judge(
            log, new GuardOptions { Service = ServiceKind.Wye, Nominal = nominal, Check = new CheckOptions { MayExport = load == OtherLoad.SolarHouse } }, TestContext.Current.CancellationToken);
    }
}
