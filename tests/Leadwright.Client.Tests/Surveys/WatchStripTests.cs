using Bunit;
using Leadwright.Client.Controls;
using Leadwright.Client.Model;
using Leadwright.Client.Model.Guarding;
using Microsoft.AspNetCore.Components.Web;

namespace Leadwright.Client.Tests.Surveys;

public sealed class WatchStripTests : ScreenContext
{
    [Fact]
    public void There_is_a_lane_for_every_lead_every_clamp_and_the_recorder() =>
        Assert.Equal(["V1", "V2", "V3", "VN", "I1", "I2", "I3", "Recorder"], StripLane.Of(SurveyFake.SampleGuard).Select(lane => lane.Name));

    [Fact]
    public void What_was_not_recorded_has_no_lane_that_says_it_told_the_truth()
    {
        var guard = SurveyFake.SampleGuard with { Spans = [] };
        Assert.Equal(["Recorder"], StripLane.Of(guard with { Usable = guard.Usable.Clear() }).Select(lane => lane.Name));
        Assert.Equal(["V1", "V2", "V3", "VN", "I1", "I3", "Recorder"], StripLane.Of(guard with { Usable = guard.Usable.Remove("I2") }).Select(lane => lane.Name));
        Assert.Equal(["V1", "V2", "V3", "VN", "Recorder"], StripLane.Of(guard with { Usable = guard.Usable.RemoveRange(["I1", "I2", "I3"]) }).Select(lane => lane.Name));
    }

    [Fact]
    public void Time_without_rows_is_in_every_lane_and_a_fault_in_its_own()
    {
        var lanes = StripLane.Of(SurveyFake.SampleGuard);
        Assert.All(lanes, lane => Assert.Contains(lane.Blocks, block => block.State == StripState.NoData));
        Assert.Equal(["I2"], lanes.Where(lane => lane.Blocks.Any(block => block.State == StripState.Reversed)).Select(lane => lane.Name));
        Assert.Equal(["V3"], lanes.Where(lane => lane.Blocks.Any(block => block.State == StripState.Open)).Select(lane => lane.Name));
        Assert.Equal(3, lanes.Count(lane => lane.Blocks.Any(block => block.State == StripState.Doubtful)));
    }

    [Fact]
    public void Each_span_says_its_words_and_is_picked_by_keyboard()
    {
        var picked = new List<int>();
        var strip = Strip(picked);
        Assert.Equal("0", Block().GetAttribute("tabindex"));
        Assert.Equal("V3 open or off, Wed 4 Mar 13:10 to Mon 9 Mar 00:00. Lead V3 was off.", Block().GetAttribute("aria-label"));
        Block().KeyDown(new KeyboardEventArgs { Key = "Enter" });
        Block().KeyDown(new KeyboardEventArgs { Key = "x" });
        Block().Click();
        Assert.Equal([1, 1], picked);

        AngleSharp.Dom.IElement Block() => strip.FindAll(".block").Single(block => block.GetAttribute("aria-label")!.StartsWith("V3 open", StringComparison.Ordinal));
    }

    [Fact]
    public void Every_state_on_it_has_a_letter_in_the_legend()
    {
        var legend = Strip([]).Find(".legend").TextContent;
        foreach (var state in new[] { StripState.Sound, StripState.Reversed, StripState.Open, StripState.NoData, StripState.Doubtful })
        {
            Assert.Contains($"{state.Letter}{state.Says}", legend, StringComparison.Ordinal);
        }

        Assert.DoesNotContain(StripState.Stuck.Says, legend, StringComparison.Ordinal);
        Assert.Equal(StripState.All.Length, StripState.All.Select(state => state.Letter).Distinct().Count());
    }

    [Fact]
    public void What_is_out_of_sight_is_not_drawn()
    {
        var guard = SurveyFake.SampleGuard;
        var view = TimeView.Whole(guard.From, guard.To).Around(new DateTime(2026, 3, 2, 12, 0, 0), TimeSpan.FromHours(6));
        var strip = Strip([], view);
        Assert.Equal(["I2"], strip.FindAll(".block").Select(block => block.GetAttribute("aria-label")!.Split(' ')[0]));
    }

    [Fact]
    public void Times_below_a_narrow_view_are_those_of_a_clock()
    {
        var guard = SurveyFake.SampleGuard;
        var view = TimeView.Whole(guard.From, guard.To).Around(new DateTime(2026, 3, 4, 0, 13, 0), TimeSpan.FromHours(8));
        Assert.Equal(["22:00", "Wed 4", "02:00"], Strip([], view).FindAll(".axis .when").Select(label => label.TextContent));
    }

    private IRenderedComponent<WatchStrip> Strip(List<int> picked, TimeView? view = null)
    {
        var guard = SurveyFake.SampleGuard;
        return Render<WatchStrip>(parameters => parameters
            .Add(strip => strip.Lanes, StripLane.Of(guard))
            .Add(strip => strip.Spans, guard.Spans)
            .Add(strip => strip.View, view ?? TimeView.Whole(guard.From, guard.To))
            .Add(strip => strip.PickedChanged, picked.Add));
    }
}
