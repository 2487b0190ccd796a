using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity;
using Leadwright.Core.Panels.Weeks;

namespace Leadwright.Core.Tests.Integrity;

/// <summary>Mishaps that look like others: virtual weeks, and logs changed by arithmetic.</summary>
public sealed class ConfusableWeekTests
{
    [Theory]
    [InlineData(ServiceKind.Wye, MishapKind.ClampsExchanged, 0, 1, SpanKind.ClampsExchanged)]
    [InlineData(ServiceKind.Wye, MishapKind.LeadsExchanged, 1, 2, SpanKind.LeadsExchanged)]
    [InlineData(ServiceKind.Wye, MishapKind.ClampReversed, 2, 0, SpanKind.ClampReversed)]
    [InlineData(ServiceKind.Delta, MishapKind.ClampReversed, 1, 0, SpanKind.ClampReversed)]
    public void By_day_on_a_site_with_generation_the_voltages_tell_whose_current_it_is(ServiceKind service, MishapKind kind, int first, int second, SpanKind expected)
    {
        // From nine to three on the third day.
        var (from, to) = ((2 * 86400.0) + (9 * 3600), (2 * 86400.0) + (15 * 3600));
        var recipe = Recipe(service, 600, new Mishap(kind, from, to, first, second)) with { HasSolar = true };
        var span = Assert.Single(Guard(recipe).Spans, span => !span.IsDoubtful);
        Assert.Equal(expected, span.Kind);
        Assert.InRange(Math.Abs((span.From - recipe.Start.AddSeconds(from)).TotalSeconds), 0, 630);
        Assert.InRange(Math.Abs((span.To - recipe.Start.AddSeconds(to)).TotalSeconds), 0, 630);
    }

    [Fact]
    public void Sun_alone_is_no_mishap() =>
        Assert.DoesNotContain(Guard(Recipe(ServiceKind.Wye, 600) with { HasSolar = true }).Spans, span => !span.IsDoubtful);

    [Fact]
    public void A_lost_neutral_of_two_lines_of_a_network_is_the_supply_s_and_not_a_lead_s()
    {
        var recipe = Recipe(ServiceKind.Network, 60, new Mishap(MishapKind.SupplyNeutralLost, 200000, 203600));
        var report = Guard(recipe);
        Assert.DoesNotContain(report.Spans, span => !span.IsDoubtful && span.Kind == SpanKind.LeadOpen);
        Assert.Contains(report.Spans, span => span.Kind == SpanKind.Outage && span.Leads.SequenceEqual([Lead.VN]));
    }

    [Fact]
    public void A_ratio_that_halves_for_three_hours_is_no_jaw_that_opens()
    {
        var recipe = Recipe(ServiceKind.Wye, 60, new Mishap(MishapKind.RatioWrong, 220000, 231000, 0) { Size = 0.5 });
        var span = Assert.Single(Guard(recipe).Spans);
        Assert.Equal((SpanKind.RatioWrong, Clamp.I1), (span.Kind, Assert.Single(span.Clamps)));
        // A load that comes and goes within hours is commoner than a range set wrong and right again.
        Assert.True(span.IsDoubtful);
    }

    [Fact]
    public void A_range_of_ten_times_for_half_the_week_does_not_teach_the_answer_it_is_judged_by()
    {
        var recipe = Recipe(ServiceKind.Wye, 60, new Mishap(MishapKind.RatioWrong, 345943, 604800, 1) { Size = 10 }) with { Site = SiteKind.Dwelling };
        var span = Assert.Single(Guard(recipe).Spans, span => !span.IsDoubtful);
        Assert.Equal((SpanKind.RatioWrong, Clamp.I2), (span.Kind, Assert.Single(span.Clamps)));
    }

    [Theory]
    [InlineData(ServiceKind.Split, MishapKind.LeadMoved, SpanKind.LeadsOnSameConductor)]
    [InlineData(ServiceKind.Split, MishapKind.ClampMoved, SpanKind.ClampsOnSameConductor)]
    [InlineData(ServiceKind.Network, MishapKind.LeadMoved, SpanKind.LeadsOnSameConductor)]
    [InlineData(ServiceKind.Wye, MishapKind.ClampsExchanged, SpanKind.ClampsExchanged)]
    public void What_was_moved_early_and_stays_so_is_one_mishap_and_the_hours_before_are_right(ServiceKind service, MishapKind kind, SpanKind expected)
    {
        var recipe = Recipe(service, 600, new Mishap(kind, 100000, 604800, 1, 0));
        var span = Assert.Single(Guard(recipe).Spans, span => !span.IsDoubtful);
        Assert.Equal(expected, span.Kind);
        Assert.InRange(Math.Abs((span.From - recipe.Start.AddSeconds(100000)).TotalSeconds), 0, 630);
        Assert.Equal(recipe.Start.AddDays(7), span.To);
    }

    // A few rows: the powers turn as of a clamp that was turned round, but two currents, or two voltages, are one.
    [Theory]
    [InlineData(MishapKind.ClampMoved, SpanKind.ClampsOnSameConductor, 3600)]
    [InlineData(MishapKind.LeadMoved, SpanKind.LeadsOnSameConductor, 7200)]
    public void Within_an_hour_or_two_readings_that_are_one_are_no_turned_clamp(MishapKind kind, SpanKind expected, double seconds)
    {
        var recipe = Recipe(ServiceKind.Split, 600, new Mishap(kind, 220000, 220000 + seconds, 1, 0));
        var span = Assert.Single(Guard(recipe).Spans, span => !span.IsDoubtful);
        Assert.Equal(expected, span.Kind);
    }

    // Off for a good half of the recording, and for most of its first day: the long absence tells nothing of what the line does on other days.
    [Fact]
    public void A_clamp_that_came_off_twice_is_named_twice()
    {
        var spans = Guard(Recipe(ServiceKind.Wye, 600, new Mishap(MishapKind.ClampOff, 38000, 107000, 1), new Mishap(MishapKind.ClampOff, 168000, 604800, 1))).Spans.Where(span => !span.IsDoubtful).ToList();
        Assert.Equal([(SpanKind.ClampOpen, Clamp.I2), (SpanKind.ClampOpen, Clamp.I2)], spans.Select(span => (span.Kind, Assert.Single(span.Clamps))));
    }

    // Three days to the end on exchanged leads of a split service, which read as two turned clamps.
    [Fact]
    public void Exchanged_leads_of_two_legs_for_most_of_a_week_are_one_mishap()
    {
        var recipe = Recipe(ServiceKind.Split, 60, new Mishap(MishapKind.LeadsExchanged, 180000, 604800, 1, 0));
        var span = Assert.Single(Guard(recipe).Spans, span => !span.IsDoubtful);
        Assert.Equal((SpanKind.LeadsExchanged, recipe.Start.AddDays(7)), (span.Kind, span.To));
        Assert.InRange(Math.Abs((span.From - recipe.Start.AddSeconds(180000)).TotalSeconds), 0, 63);
    }

    [Fact]
    public void A_ratio_of_two_is_no_neutral_lead_in_the_air()
    {
        // The factory's last five hours: two phases answer less as well, to what the third seems to draw.
        var right = OtherSite.Hung.Right;
        var log = new OtherSite(OtherLoad.Factory, 7, 7, 60).Record(OtherColumns.All, 600, seconds => seconds >= 163 * 3600 ? right with { Factors = [1, 1, 2] } : right);
        Assert.True(NominalVoltage.TryParse("230/400", ServiceKind.Wye, out var nominal));
        var report = IntervalGuard.Judge(log, new GuardOptions { Service = ServiceKind.Wye, Nominal = nominal }, TestContext.Current.CancellationToken);
        Assert.DoesNotContain(report.Spans, span => !span.IsDoubtful && span.Kind == SpanKind.NeutralOpen);
        Assert.Contains(report.Spans, span => !span.IsDoubtful && span.Kind == SpanKind.RatioWrong && span.Clamps.SequenceEqual([Clamp.I3]));
    }

    [Fact]
    public void A_value_that_sticks_twice_is_found_twice()
    {
        var log = new MadeLog();
        Array.Fill(log.Volts[2], log.Volts[2][100], 100, 40);
        Array.Fill(log.Volts[2], log.Volts[2][250], 250, 90);
        var spans = log.Guard().Spans;
        Assert.All(spans, span => Assert.Equal((SpanKind.Stuck, Lead.V3), (span.Kind, Assert.Single(span.Leads))));
        Assert.Equal([(MadeLog.At(100), MadeLog.At(140)), (MadeLog.At(250), MadeLog.At(340))], spans.Select(span => (span.From, span.To)));
    }

    private static GuardReport Guard(WeekRecipe recipe) => IntervalGuard.Judge(
        VirtualWeek.Make(recipe).Log, new GuardOptions { Service = recipe.Service, Nominal = recipe.Nominal, Check = new CheckOptions { MayExport = recipe.HasSolar } },
        TestContext.Current.CancellationToken);

    private static WeekRecipe Recipe(ServiceKind service, int seconds, params Mishap[] mishaps)
    {
        Assert.True(NominalVoltage.TryParse(service == ServiceKind.Delta ? "480" : service == ServiceKind.Split ? "120/240" : "230/400", service, out var nominal));
        return new WeekRecipe
        {
            Service = service, Nominal = nominal!, Seed = 21, Site = SiteKind.Shop, IntervalSeconds = seconds, Columns = WeekColumns.VoltsAmperesWattsVars, Mishaps = [.. mishaps],
        };
    }
}
