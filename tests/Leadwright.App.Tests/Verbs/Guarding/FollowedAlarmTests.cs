using System.Text.Json;
using Leadwright.App.Verbs;
using Leadwright.App.Verbs.Guarding;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity;

namespace Leadwright.App.Tests.Verbs.Guarding;

/// <summary>What is said of an alarm whose name changes, or that is taken back.</summary>
public sealed class FollowedAlarmTests
{
    private static readonly DateTime s_from = new(2026, 3, 2, 10, 0, 0);

    private static readonly GuardSpan s_lead = new(SpanKind.LeadOpen, [Lead.V2], [], s_from, s_from.AddMinutes(10), 0.98, new SpanFinding(SpanRelation.VoltageWentCurrentStayed, 8));

    private static readonly GuardSpan s_neutral = s_lead with { Kind = SpanKind.LeadOnNeutral, To = s_from.AddMinutes(40) };

    [Fact]
    public async Task A_change_of_the_name_is_said_as_a_change_and_counts_no_alarm()
    {
        var (said, raised) = await SaidAsync(isJson: false, GuardNews.None with { Renamed = [new RenamedAlarm(s_lead, s_neutral)] });
        Assert.StartsWith("renamed  2026-03-02T10:00:00  was lead-open V2, is lead-on-neutral: ", said, StringComparison.Ordinal);
        Assert.Equal(0, raised);
    }

    [Fact]
    public async Task A_change_of_the_name_holds_both_for_scripts()
    {
        var (said, _) = await SaidAsync(isJson: true, GuardNews.None with { Renamed = [new RenamedAlarm(s_lead, s_neutral)] });
        var alarm = JsonDocument.Parse(said).RootElement;
        Assert.Equal(
            ("leadwright.alarm/1", "renamed", "lead-on-neutral", "lead-open"),
            (Text(alarm, "schema"), Text(alarm, "state"), Text(alarm.GetProperty("span"), "kind"), Text(alarm.GetProperty("was"), "kind")));
    }

    [Fact]
    public async Task An_alarm_that_is_taken_back_is_not_called_cured()
    {
        var (said, _) = await SaidAsync(isJson: false, GuardNews.None with { Withdrawn = [s_lead] });
        Assert.Equal("withdrawn  2026-03-02T10:00:00 to 2026-03-02T10:10:00  lead-open V2: the rows since do not bear it out, and none shows a cure.\n", said);
    }

    private static string? Text(JsonElement element, string name) => element.GetProperty(name).GetString();

    private static async Task<(string Said, int Raised)> SaidAsync(bool isJson, GuardNews news)
    {
        await using var output = new StringWriter { NewLine = "\n" };
        using var sink = new AlarmSink(new GuardRequest(new RecordingRequest(), new CheckOptions()) { Follows = true, IsJson = isJson }, output, TextWriter.Null);
        await sink.TellAsync("growing.csv", news, TestContext.Current.CancellationToken);
        return (output.ToString(), sink.Raised);
    }
}
