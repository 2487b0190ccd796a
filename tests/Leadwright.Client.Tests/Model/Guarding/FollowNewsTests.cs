using Leadwright.Client.Model.Guarding;
using Leadwright.Client.Surveys;

namespace Leadwright.Client.Tests.Model.Guarding;

public sealed class FollowNewsTests
{
    private static readonly FollowAlarm s_alarm = new(1, "lead-open", "Lead V3 was off.") { Channels = ["V3"] };

    private static readonly FollowSheet s_quiet = new() { Path = "/drop", IsRunning = true };

    private static readonly FollowSheet s_raised = s_quiet with { Alarms = [s_alarm] };

    [Fact]
    public void The_first_look_has_no_news_whatever_stands_there() => Assert.Equal("", FollowNews.Of(null, s_raised));

    [Fact]
    public void An_alarm_is_news_once()
    {
        Assert.Equal("Alarm: Lead V3 was off.", FollowNews.Of(s_quiet, s_raised));
        Assert.Equal("", FollowNews.Of(s_raised, s_raised));
    }

    [Fact]
    public void The_end_of_an_alarm_is_news_once_and_its_being_taken_back_is_not_called_an_end()
    {
        var over = s_quiet with { Alarms = [s_alarm with { Cleared = DateTimeOffset.UnixEpoch }] };
        var withdrawn = s_quiet with { Alarms = [s_alarm with { Cleared = DateTimeOffset.UnixEpoch, IsWithdrawn = true }] };
        Assert.Equal("Alarm over: Lead V3 was off.", FollowNews.Of(s_raised, over));
        Assert.Equal("Alarm taken back: Lead V3 was off.", FollowNews.Of(s_raised, withdrawn));
        Assert.Equal("", FollowNews.Of(over, over));
    }

    [Fact]
    public void What_came_and_went_between_two_looks_is_said_to_be_over() =>
        Assert.Equal("Alarm that was already over: Lead V3 was off.", FollowNews.Of(s_quiet, s_quiet with { Alarms = [s_alarm with { Cleared = DateTimeOffset.UnixEpoch }] }));

    [Fact]
    public void The_alarms_of_another_watch_are_new_though_their_numbers_are_known() =>
        Assert.Equal("Alarm: Lead V3 was off.", FollowNews.Of(s_raised, s_raised with { Since = DateTimeOffset.UnixEpoch }));

    [Fact]
    public void Of_many_at_once_the_first_three_are_said_and_the_rest_counted()
    {
        var told = FollowNews.Of(s_quiet, s_quiet with { Alarms = [.. Enumerable.Range(1, 5).Reverse().Select(number => s_alarm with { Number = number, Says = $"Number {number}." })] });
        Assert.Equal("Alarm: Number 1. Alarm: Number 2. Alarm: Number 3. And 2 more in the list.", told);
    }

    [Fact]
    public void A_watch_that_ended_by_itself_is_news_once()
    {
        var ended = s_quiet with { IsRunning = false, Problem = "The file is gone." };
        Assert.Equal("The watch ended: The file is gone.", FollowNews.Of(s_quiet, ended));
        Assert.Equal("", FollowNews.Of(ended, ended));
    }
}
