using Leadwright.Client.Model;

namespace Leadwright.Client.Tests.Surveys;

public sealed class TimeViewTests
{
    private static readonly DateTime s_from = new(2026, 3, 2);
    private static readonly TimeView s_whole = TimeView.Whole(s_from, s_from.AddDays(14));

    [Fact]
    public void From_two_weeks_it_zooms_down_to_one_cycle_and_no_further()
    {
        var view = s_whole;
        for (var step = 0; step < 60; step++) view = view.Zoomed(0.5);
        Assert.Equal(TimeSpan.FromMilliseconds(20), view.Length);
        for (var step = 0; step < 60; step++) view = view.Zoomed(2);
        Assert.True(view.IsWhole);
    }

    [Fact]
    public void It_never_leaves_the_recording()
    {
        var view = s_whole.Zoomed(0.1).Moved(-20);
        Assert.Equal(s_from, view.From);
        Assert.Equal(s_from.AddDays(14), s_whole.Zoomed(0.1).Moved(20).To);
        Assert.Equal(TimeSpan.FromDays(1.4), view.Length);
    }

    [Fact]
    public void A_recording_without_a_clock_starts_at_the_least_date()
    {
        var view = TimeView.Whole(DateTime.MinValue, DateTime.MinValue.AddHours(2)).Zoomed(0.5).Moved(-5);
        Assert.Equal(DateTime.MinValue, view.From);
        Assert.Equal(50, view.Percent(DateTime.MinValue.AddMinutes(30)), 9);
    }
}
