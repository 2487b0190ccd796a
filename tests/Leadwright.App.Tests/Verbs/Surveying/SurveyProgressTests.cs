using Leadwright.App.Verbs.Surveying;
using Leadwright.Surveys.Importing;

namespace Leadwright.App.Tests.Verbs.Surveying;

public sealed class SurveyProgressTests
{
    [Fact]
    public void A_short_work_shows_nothing_and_a_long_one_shows_a_line_that_goes_again()
    {
        var clock = new StandingClock();
        using var error = new StringWriter();
        using (var progress = new SurveyProgress(error, isShown: true, clock))
        {
            progress.Of("copying").Report(0.1);
            Assert.Equal("", error.ToString());
            clock.Ticks += clock.TimestampFrequency;
            progress.Of("copying").Report(0.42);
            Assert.Equal("\r\u001b[Kcopying 42 %", error.ToString());
            clock.Ticks += clock.TimestampFrequency;
            progress.OfImport("week.csv").Report(new(ImportStep.Tabling, 1));
            Assert.EndsWith("week.csv: making its table for charts 100 %", error.ToString(), StringComparison.Ordinal);
        }

        Assert.EndsWith("\r\u001b[K", error.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void Where_nobody_sits_at_a_terminal_nothing_is_shown()
    {
        var clock = new StandingClock();
        using var error = new StringWriter();
        using (var progress = new SurveyProgress(error, isShown: false, clock))
        {
            clock.Ticks += 10 * clock.TimestampFrequency;
            progress.Of("copying").Report(0.5);
        }

        Assert.Equal("", error.ToString());
    }

    private sealed class StandingClock : TimeProvider
    {
        public long Ticks { get; set; }

        public override long GetTimestamp() => Ticks;
    }
}
