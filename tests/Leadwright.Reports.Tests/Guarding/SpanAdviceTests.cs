using System.Collections.Immutable;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity;
using Leadwright.Reports.Guarding;

namespace Leadwright.Reports.Tests.Guarding;

/// <summary>What is said to be done about a span, and by which ratio a clamp read wrong.</summary>
public sealed class SpanAdviceTests
{
    private static readonly DateTime s_from = new(2026, 3, 2);

    private static readonly GuardSpan s_ratio = new(SpanKind.RatioWrong, [], [Clamp.I1], s_from, s_from.AddDays(7), 0.99, new SpanFinding(SpanRelation.ReadingsWeighed, 8));

    [Fact]
    public void What_lasts_to_the_end_may_still_be_so_and_what_was_over_needs_nobody_on_the_site()
    {
        Assert.Equal(
            "Mend puts the readings right. If the recorder still hangs there, under the site's rules: hold the ratio and range set for I1 against the clamp itself, and set them again.",
            SpanAdvice.Of(s_ratio, Report(s_from, s_from.AddDays(7))));
        Assert.Equal("Mend puts the readings right.", SpanAdvice.Of(s_ratio, Report(s_from.AddDays(-1), s_from.AddDays(8))));
    }

    [Theory]
    // All clamps at once, to the end or from the beginning: either side may be the wrong one.
    [InlineData(1, 0, 0.1, true)]
    [InlineData(0, 1, 0.1, true)]
    // With the same on both sides, or another clamp that did not go with it, it is the odd one.
    [InlineData(1, 1, 0.1, false)]
    [InlineData(1, 0, 1, false)]
    public void Where_either_ratio_may_be_right_nothing_is_promised(int daysBefore, int daysAfter, double scaleOfOther, bool isOpen)
    {
        var report = Report(s_from.AddDays(-daysBefore), s_ratio.To.AddDays(daysAfter)) with { Timeline = Timeline(0.1, scaleOfOther) };
        Assert.Equal(isOpen, SpanAdvice.Of(s_ratio, report).Contains("does not show in the readings", StringComparison.Ordinal));
        Assert.Equal(!isOpen, SpanAdvice.Of(s_ratio, report).Contains("Mend puts the readings right", StringComparison.Ordinal));
    }

    [Fact]
    public void What_is_in_doubt_moves_nothing() =>
        Assert.Equal("It is in doubt: look before anything is moved.", SpanAdvice.Of(s_ratio with { Confidence = 0.6 }, Report(s_from, s_ratio.To)));

    [Fact]
    public void An_alarm_is_of_a_recorder_that_hangs_there()
    {
        Assert.Equal("Under the site's rules: turn I1 round, arrow to the load.", SpanAdvice.OnSite(s_ratio with { Kind = SpanKind.ClampReversed }));
        Assert.Equal("", SpanAdvice.OnSite(s_ratio with { Kind = SpanKind.Outage }));
    }

    [Fact]
    public void A_supply_that_was_out_is_nothing_to_do() => Assert.Equal("", SpanAdvice.Of(s_ratio with { Kind = SpanKind.Outage }, Report(s_from, s_ratio.To)));

    [Fact]
    public void Every_other_kind_has_whole_sentences_with_the_names_of_what_to_move()
    {
        foreach (var kind in Enum.GetValues<SpanKind>().Except([SpanKind.Outage]))
        {
            var says = SpanAdvice.Of(s_ratio with { Kind = kind, Leads = [Lead.V1, Lead.V2] }, Report(s_from, s_ratio.To));
            Assert.True(char.IsUpper(says[0]) && says.EndsWith('.') && !says.Contains('{', StringComparison.Ordinal) && !says.Contains(": :", StringComparison.Ordinal), $"{kind}: {says}");
        }
    }

    [Theory]
    [InlineData(0.5, "It read half of the true current.")]
    [InlineData(2, "It read twice the true current.")]
    [InlineData(0.1, "It read a tenth of the true current.")]
    [InlineData(10, "It read ten times too much.")]
    public void The_history_of_the_hookup_says_by_which_ratio_a_clamp_read_wrong(double scale, string says)
    {
        var timeline = Timeline(scale, 1);
        Assert.EndsWith(says, SpanWording.Of(s_ratio, timeline), StringComparison.Ordinal);
        // Nothing is added to what is no ratio, or where the history does not hold one.
        Assert.DoesNotContain("It read", SpanWording.Of(s_ratio with { Kind = SpanKind.ClampReversed }, timeline), StringComparison.Ordinal);
        Assert.DoesNotContain("It read", SpanWording.Of(s_ratio, HookupTimeline.Empty), StringComparison.Ordinal);
    }

    private static HookupTimeline Timeline(double scale, double scaleOfOther)
    {
        var hookup = Hookup.Expected([Lead.V1, Lead.V2, Lead.VN], [Clamp.I1, Clamp.I2]);
        ClampPlace At(Clamp clamp, double ratio) => hookup.Clamps[clamp] with { Scale = ratio };
        hookup = hookup with { Clamps = hookup.Clamps.SetItem(Clamp.I1, At(Clamp.I1, scale)).SetItem(Clamp.I2, At(Clamp.I2, scaleOfOther)) };
        return new HookupTimeline([new HookupPiece(s_ratio.From, s_ratio.To, hookup, Rotation.Abc, 0.99)]);
    }

    private static GuardReport Report(DateTime from, DateTime to) => new(from, to, [s_ratio], HookupTimeline.Empty, ImmutableSortedDictionary<Channel, double>.Empty, []);
}
