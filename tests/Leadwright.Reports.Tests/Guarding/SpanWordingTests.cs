using System.Collections.Immutable;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity;
using Leadwright.Reports.Guarding;

namespace Leadwright.Reports.Tests.Guarding;

public sealed class SpanWordingTests
{
    private static readonly DateTime s_from = new(2026, 3, 2, 10, 0, 0);

    [Theory]
    [InlineData(3600, "By 1 h;")]
    [InlineData(2220, "By 37 min;")]
    [InlineData(-7800, "By 2 h 10 min;")]
    [InlineData(3725, "By 1 h 2 min 5 s;")]
    [InlineData(0.4, "By 0.4 s;")]
    [InlineData(12, "By 12.0 s;")]
    public void A_clock_that_was_set_is_told_in_hours_and_minutes(double seconds, string says) =>
        Assert.Contains(says, Says(SpanKind.ClockJump, new SpanFinding(SpanRelation.TimesMoved, 4) { Seconds = seconds }), StringComparison.Ordinal);

    [Fact]
    public void A_current_that_hardly_flowed_before_is_given_no_share()
    {
        var finding = new SpanFinding(SpanRelation.VoltageWentCurrentStayed, 4) { Before = 230, Within = 6.4 };
        Assert.EndsWith("went on at 274 % of what it was.", Says(SpanKind.LeadOpen, finding with { CurrentRatio = 2.74 }), StringComparison.Ordinal);
        Assert.EndsWith("6.4 V, while a current flowed in that phase.", Says(SpanKind.LeadOpen, finding with { CurrentRatio = 646.88 }), StringComparison.Ordinal);
    }

    [Fact]
    public void Where_no_angle_was_seen_none_is_told_of()
    {
        Assert.DoesNotContain("angle", Says(SpanKind.ClampsExchanged, new SpanFinding(SpanRelation.PowerAngleTurned, 4)), StringComparison.Ordinal);
        Assert.Contains("The angle of the power turned by 120 degrees", Says(SpanKind.ClampsExchanged, new SpanFinding(SpanRelation.PowerAngleTurned, 4) { TurnDegrees = 120 }), StringComparison.Ordinal);
    }

    [Fact]
    public void Waves_that_are_cut_flat_are_told_of_in_the_unit_of_what_was_cut()
    {
        GuardSpan Cut(Lead[] leads, Clamp[] clamps) => new(SpanKind.OverRange, [.. leads], [.. clamps], s_from, s_from.AddHours(1), 0.99, new SpanFinding(SpanRelation.WavesCutFlat, 20) { Within = 300 });
        Assert.Equal("Clamp I2 stood at the end of its range: there was more current than it shows. The tops of its waves are cut off flat at 300 A.", SpanWording.Of(Cut([], [Clamp.I2])));
        Assert.Equal("The voltage of V3 stood at the end of its range: there was more than it shows. The tops of its waves are cut off flat at 300 V.", SpanWording.Of(Cut([Lead.V3], [])));
    }

    [Fact]
    public void A_range_that_was_reached_again_and_again_is_told_once_for_people_and_each_time_for_scripts()
    {
        GuardSpan[] spans = [.. Enumerable.Range(0, 40).Select(hour => new GuardSpan(
            SpanKind.OverRange, [], [Clamp.I2], s_from.AddHours(3 * hour), s_from.AddHours((3 * hour) + 1), 0.99, new SpanFinding(SpanRelation.ValuesPileUp, 4) { Intervals = 240, Within = 30 }))];
        var report = new GuardReport(s_from, s_from.AddDays(7), [.. spans], new HookupTimeline([]), ImmutableSortedDictionary<Channel, double>.Empty.Add(Channel.I2, 0.8), []);
        var text = GuardText.Of("week.csv", report);
        Assert.Contains("  2026-03-02 10:00:00 to 2026-03-07 08:00:00, 40 times, 40 h together  over-range\n", text.ReplaceLineEndings("\n"), StringComparison.Ordinal);
        Assert.Equal(2, text.Split("end of its range").Length);
        Assert.Equal(41, GuardJson.Line("week.csv", report, [], [], []).Split("end of its range").Length);
        // Three are no many.
        Assert.Equal(4, GuardText.Of("week.csv", report with { Spans = [.. spans[..3]] }).Split("end of its range").Length);
    }

    private static string Says(SpanKind kind, SpanFinding finding) =>
        SpanWording.Of(new GuardSpan(kind, kind == SpanKind.LeadOpen ? [Lead.V2] : [], kind == SpanKind.ClampsExchanged ? [Clamp.I1, Clamp.I2] : [], s_from, s_from.AddHours(1), 0.99, finding));
}
