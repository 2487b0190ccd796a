using Bunit;
using Leadwright.Client.Controls;
using Leadwright.Client.Surveys;
using Microsoft.Extensions.DependencyInjection;

namespace Leadwright.Client.Tests.Surveys;

public sealed class FollowPanelTests : ScreenContext
{
    private static readonly FollowAlarm s_alarm = new(1, "lead-open", "Lead V3 is off.") { Channels = ["V3"], From = new DateTime(2026, 3, 4, 13, 10, 0) };

    private readonly SurveyFake _api = new();

    public FollowPanelTests() => Services.AddSingleton<ISurveyApi>(_api);

    [Fact]
    public void A_folder_is_followed_its_alarm_told_once_and_cleared_when_it_is_cured()
    {
        var panel = Panel();
        panel.Find("#follow-path").Change(" /drop ");
        panel.Find("form").Submit();
        Assert.Contains("No alarm so far.", panel.Markup, StringComparison.Ordinal);
        _api.Follow = _api.Follow with { Alarms = [s_alarm] };
        panel.WaitForAssertion(() => Assert.Equal("The recorder is followed: 1 alarm now", panel.Find("#follow-title").TextContent));
        Assert.Contains("! Alarm", panel.Find(".alarm.raised").TextContent, StringComparison.Ordinal);
        _api.Follow = _api.Follow with { Alarms = [s_alarm with { Cleared = DateTimeOffset.UnixEpoch, To = new DateTime(2026, 3, 4, 14, 0, 0) }] };
        panel.WaitForAssertion(() => Assert.Contains("✓ Cleared", Assert.Single(panel.FindAll(".alarm")).TextContent, StringComparison.Ordinal));
        Assert.Equal("The recorder is followed: no alarm now", panel.Find("#follow-title").TextContent);
        panel.FindAll("button").Single(button => button.TextContent == "Stop following").Click();
        // A press that meets the asking waits its turn.
        panel.WaitForAssertion(() => Assert.Equal("Follow a recorder that still runs", panel.Find("#follow-title").TextContent));
    }

    [Fact]
    public void An_alarm_says_in_words_what_it_was_told_as_before_and_that_it_was_taken_back()
    {
        _api.Follow = new FollowSheet
        {
            Path = "/drop", IsRunning = true,
            Alarms =
            [
                s_alarm with { Number = 3, Was = "The supply was gone.", Renamed = DateTimeOffset.UnixEpoch },
                s_alarm with { Number = 2, Cleared = DateTimeOffset.UnixEpoch, To = s_alarm.From.AddHours(1), IsWithdrawn = true },
            ],
        };
        var panel = Panel();
        var renamed = panel.Find(".alarm.raised").TextContent;
        Assert.Contains("→ Renamed", renamed, StringComparison.Ordinal);
        Assert.Contains("told before as: The supply was gone.", renamed, StringComparison.Ordinal);
        var withdrawn = panel.Find(".alarm.over").TextContent;
        Assert.Contains("– Taken back", withdrawn, StringComparison.Ordinal);
        Assert.DoesNotContain("Cleared", withdrawn, StringComparison.Ordinal);
        Assert.Contains("Have a look at V3", withdrawn, StringComparison.Ordinal);
    }

    [Fact]
    public void What_is_still_wrong_stands_above_what_is_over()
    {
        _api.Follow = new FollowSheet
        {
            Path = "/drop", IsRunning = true, Alarms = [s_alarm with { Number = 2, Says = "Later, and over.", Cleared = DateTimeOffset.UnixEpoch }, s_alarm],
        };
        var alarms = Panel().FindAll(".alarm");
        Assert.Contains("Lead V3 is off.", alarms[0].TextContent, StringComparison.Ordinal);
        Assert.Contains("Later, and over.", alarms[1].TextContent, StringComparison.Ordinal);
    }

    [Fact]
    public void The_alarms_that_a_reload_finds_are_not_read_out_and_each_change_is_in_a_place_that_is_never_folded()
    {
        _api.Follow = new FollowSheet { Path = "/drop", IsRunning = true, Alarms = [s_alarm] };
        var panel = Panel();
        Assert.Equal("", panel.Find("[role=status]").TextContent);
        Assert.Empty(panel.FindAll("details [role=status], [role=log]"));
        _api.Follow = _api.Follow with { Alarms = [s_alarm with { Says = "Lead V3 was on the neutral.", Was = "Lead V3 was off." }] };
        panel.WaitForAssertion(() => Assert.Equal("Alarm renamed: Lead V3 was on the neutral. Told before as: Lead V3 was off.", panel.Find("[role=status]").TextContent));
    }

    [Fact]
    public void A_place_that_is_not_there_is_refused_in_words()
    {
        var panel = Panel();
        _api.Refusal = new SurveyApiException("There is no file or folder '/drop'.");
        panel.Find("form").Submit();
        Assert.Contains("no file or folder", panel.Find("[role=alert]").TextContent, StringComparison.Ordinal);
    }

    [Fact]
    public void What_was_followed_is_there_again_after_a_reload_and_a_program_that_went_away_is_said_so()
    {
        _api.Follow = new FollowSheet { Path = "/drop", IsRunning = true, Alarms = [s_alarm] };
        var panel = Panel();
        Assert.Contains("/drop", panel.Find(".path").TextContent, StringComparison.Ordinal);
        _api.Failure = new SurveyApiException("The program does not answer.") { IsAway = true };
        panel.WaitForAssertion(() => Assert.Contains("does not answer", panel.Find("[role=alert]").TextContent, StringComparison.Ordinal));
        Assert.Single(panel.FindAll(".alarm"));
    }

    private IRenderedComponent<FollowPanel> Panel() =>
        Render<FollowPanel>(parameters => parameters.Add(follow => follow.Id, "one").Add(follow => follow.Pause, TimeSpan.FromMilliseconds(20)));
}
