using System.Collections.Immutable;
using System.Text.Json;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity;
using Leadwright.Core.Logs;
using Leadwright.Core.Mending;
using Leadwright.Core.Mending.Answers;
using Leadwright.Reports.Mending;

namespace Leadwright.Reports.Tests.Mending;

public sealed class CorrectionCausesTests
{
    private static readonly DateTime s_from = new(2026, 3, 2);
    private static readonly DateTime s_to = s_from.AddDays(7);
    private static readonly DateTime s_off = s_from.AddDays(2).AddHours(13).AddMinutes(10);
    private static readonly TimeSpan s_minute = TimeSpan.FromMinutes(1);

    private static readonly ImmutableArray<GuardSpan> s_spans =
    [
        Span(SpanKind.ClampReversed, [], [Clamp.I2], s_from, s_to),
        Span(SpanKind.LeadOpen, [Lead.V3], [], s_off, s_to),
        Span(SpanKind.Outage, [Lead.V1, Lead.V2, Lead.V3], [], s_off.AddHours(30), s_off.AddHours(32)),
    ];

    private static readonly CorrectionCauses s_causes = new(s_spans, s_minute);

    [Fact]
    public void The_power_of_a_phase_follows_from_what_was_wrong_with_that_phase() =>
        Assert.Equal(SpanKind.LeadOpen, Assert.Single(s_causes.Of(Power(s_off - s_minute, s_off.AddHours(30)))).Kind);

    [Fact]
    public void What_answers_a_finding_itself_follows_from_none() =>
        Assert.Empty(s_causes.Of(new(CorrectionKind.LeadOpen, [Lead.V3], [], s_off, s_to, CorrectionBasis.Modelled)));

    [Fact]
    public void An_event_has_the_time_of_the_finding_and_what_was_touched_beside_it_is_said()
    {
        Assert.Equal((s_off, s_off.AddHours(30)), s_causes.EventOf(s_off - s_minute, s_off.AddHours(30)));
        Assert.True(s_causes.HoldsChange(s_off - s_minute, s_off.AddHours(30)));
        Assert.False(s_causes.HoldsChange(s_off, s_to));
    }

    [Fact]
    public void What_is_further_from_a_finding_than_a_row_keeps_its_own_time() =>
        Assert.Equal((s_off - (2 * s_minute), s_to), s_causes.EventOf(s_off - (2 * s_minute), s_to));

    [Fact]
    public void The_rows_about_a_change_keep_their_times_and_follow_from_that_change_alone()
    {
        var about = Power(s_off - s_minute, s_off + s_minute) with { Clamps = [Clamp.I2, Clamp.I3] };
        Assert.Equal((about.From, about.To), s_causes.EventOf(about.From, about.To));
        Assert.Equal(SpanKind.LeadOpen, Assert.Single(s_causes.Of(about)).Kind);
    }

    [Fact]
    public void Text_and_JSON_name_the_finding_and_date_the_event_as_the_guard_does()
    {
        var document = new MendDocument("week.csv", Report(Power(s_off - s_minute, s_to) with { WattHours = 354974.3, UncertaintyWattHours = 28639.9 }), []) { Spans = s_spans };
        var text = MendText.Of(document);
        Assert.Contains("2026-03-04 13:10:00 to 2026-03-09 00:00:00  power-from-current, modelled", text, StringComparison.Ordinal);
        Assert.DoesNotContain("13:09", text, StringComparison.Ordinal);
        Assert.Contains("The power of phase 3 (P3) was rebuilt", text, StringComparison.Ordinal);
        Assert.Contains("changes the energy by 355 kWh, give or take 29 kWh", text, StringComparison.Ordinal);
        Assert.Contains("Follows from: Lead V3 was off (from 2026-03-04 13:10:00 on). The row in which it changed was rebuilt as well.", text, StringComparison.Ordinal);
        using var json = JsonDocument.Parse(MendJson.Line(document));
        var correction = json.RootElement.GetProperty("corrections")[0];
        Assert.Equal("2026-03-04T13:09:00", correction.GetProperty("from").GetString());
        Assert.Equal("2026-03-04T13:10:00", correction.GetProperty("event_from").GetString());
        Assert.Equal("Lead V3 was off.", correction.GetProperty("follows_from")[0].GetProperty("says").GetString());
        Assert.Equal(354.9743, correction.GetProperty("kwh").GetDouble());
        Assert.Equal(28.6399, correction.GetProperty("uncertainty_kwh").GetDouble());
    }

    [Fact]
    public void One_correction_that_arithmetic_made_has_what_is_left_of_the_change_for_its_energy()
    {
        var energies = CorrectionEnergies.Of(Report(Turned(), Power(s_off, s_to) with { WattHours = 300, UncertaintyWattHours = 20 }));
        Assert.Equal(700, energies.Corrections[0].WattHours);
        Assert.True(double.IsNaN(energies.TogetherWattHours));
        Assert.Equal("", MendWording.Together(energies));
    }

    [Fact]
    public void Several_without_an_energy_of_their_own_have_it_together()
    {
        var energies = CorrectionEnergies.Of(Report(Turned(), Turned() with { Kind = CorrectionKind.ClampsExchanged }, Power(s_off, s_to) with { WattHours = 300 }));
        Assert.True(double.IsNaN(energies.Corrections[0].WattHours));
        Assert.Equal("The corrections without a figure of their own change the energy by 0.70 kWh together.", MendWording.Together(energies));
    }

    private static Correction Power(DateTime from, DateTime to) => new(CorrectionKind.PowerFromCurrent, [], [Clamp.I3], from, to, CorrectionBasis.Modelled);

    private static Correction Turned() => new(CorrectionKind.ClampReversed, [], [Clamp.I2], s_from, s_to, CorrectionBasis.Exact);

    private static GuardSpan Span(SpanKind kind, ImmutableArray<Lead> leads, ImmutableArray<Clamp> clamps, DateTime from, DateTime to) =>
        new(kind, leads, clamps, from, to, 0.99, new SpanFinding(SpanRelation.ReadingsWeighed, 5));

    private static MendReport Report(params ImmutableArray<Correction> corrections)
    {
        var log = new IntervalLog([new LogColumn("P1", LogQuantity.ActivePower, LogPlace.Phase1)], [s_from.Ticks], [[1.0]], s_minute.TotalSeconds);
        var figures = new LoadFigures(1000, 2, s_from, double.NaN, double.NaN, double.NaN, []) { PeakMinutes = 15 };
        return new MendReport(s_from, s_to, log, ImmutableDictionary<int, ReadOnlyMemory<Standing>>.Empty, corrections, [], null, figures, figures with { WattHours = 2000 });
    }
}
