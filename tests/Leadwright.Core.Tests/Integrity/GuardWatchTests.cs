using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity;
using Leadwright.Core.Logs;

namespace Leadwright.Core.Tests.Integrity;

public sealed class GuardWatchTests
{
    private static readonly GuardOptions s_options = new() { Service = ServiceKind.Wye, Nominal = new NominalVoltage(230, 400) };

    [Fact]
    public void Each_alarm_is_raised_once_with_the_row_that_shows_it_and_cleared_with_the_row_that_shows_the_cure()
    {
        var log = new MadeLog().WithVolts(150, 170, 1, 0.03, 1).ToLog();
        var watch = new GuardWatch(log.Columns, 600, s_options);
        var news = Feed(watch, log, 0, 200);
        var (raisedAt, raised) = Assert.Single(news.Raised);
        Assert.Equal((SpanKind.LeadOpen, Lead.V2, 150), (raised.Kind, Assert.Single(raised.Leads), raisedAt));
        var (clearedAt, cleared) = Assert.Single(news.Cleared);
        Assert.Equal((170, MadeLog.At(150), MadeLog.At(170)), (clearedAt, cleared.From, cleared.To));
        Assert.Empty(watch.Open);
    }

    [Fact]
    public void Rows_that_stay_away_are_an_alarm_once()
    {
        var log = new MadeLog().ToLog();
        var watch = new GuardWatch(log.Columns, 600, s_options);
        Feed(watch, log, 0, 60);
        Assert.Empty(watch.Look(MadeLog.At(60).AddMinutes(15)).Raised);
        Assert.Equal(SpanKind.NoData, Assert.Single(watch.Look(MadeLog.At(60).AddMinutes(30)).Raised).Kind);
        Assert.Empty(watch.Look(MadeLog.At(60).AddMinutes(60)).Raised);
        var news = Feed(watch, log, 80, 81);
        Assert.Contains(news.Cleared, entry => entry.Span.Kind == SpanKind.NoData);
        Assert.Empty(watch.Open);
    }

    [Fact]
    public void A_row_of_another_width_or_an_earlier_time_is_refused()
    {
        var log = new MadeLog().ToLog();
        var watch = new GuardWatch(log.Columns, 600, s_options);
        Feed(watch, log, 5, 6);
        Assert.Throws<ArgumentException>(() => watch.Add(log.Starts.Span[6], new double[3], TestContext.Current.CancellationToken));
        Assert.Throws<ArgumentException>(() => watch.Add(log.Starts.Span[5], new double[12], TestContext.Current.CancellationToken));
    }

    private static (List<(int Row, GuardSpan Span)> Raised, List<(int Row, GuardSpan Span)> Cleared) Feed(GuardWatch watch, IntervalLog log, int from, int to)
    {
        var raised = new List<(int, GuardSpan)>();
        var cleared = new List<(int, GuardSpan)>();
        var row = new double[log.Columns.Length];
        for (var index = from; index < to; index++)
        {
            for (var column = 0; column < row.Length; column++) row[column] = log.Values(column)[index];
            var news = watch.Add(log.Starts.Span[index], row, TestContext.Current.CancellationToken);
            raised.AddRange(news.Raised.Select(span => (index, span)));
            cleared.AddRange(news.Cleared.Select(span => (index, span)));
        }

        return (raised, cleared);
    }
}
