using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity;
using Leadwright.Core.Integrity.Recorder;
using Leadwright.Core.Logs;
using Leadwright.Core.Panels;

namespace Leadwright.Core.Tests.Integrity.Parts;

/// <summary>Rows that are missing, empty, or late.</summary>
public sealed class GapFinderTests
{
    private const int Count = 400;

    [Fact]
    public void A_gap_is_from_the_end_of_the_row_before_it_to_the_start_of_the_row_behind_it()
    {
        var log = Made(row => row is >= 200 and < 235);
        var span = Assert.Single(GapFinder.Find(log.ToFrame()));
        Assert.Equal((SpanKind.NoData, log.At(200), log.At(235)), (span.Kind, span.From, span.To));
        Assert.Equal(35 * 600, span.Finding.Seconds);
        Assert.Equal([Lead.V1, Lead.V2, Lead.V3, Lead.VN], span.Leads);
        Assert.Equal([Clamp.I1], span.Clamps);
    }

    [Fact]
    public void One_row_that_is_missing_is_a_gap_too()
    {
        var log = Made(row => row == 200);
        var span = Assert.Single(GapFinder.Find(log.ToFrame()));
        Assert.Equal((SpanKind.NoData, log.At(200), log.At(201)), (span.Kind, span.From, span.To));
    }

    // A tenth of ten minutes.
    [Theory]
    [InlineData(60, 0)]
    [InlineData(61, 1)]
    public void A_row_that_comes_late_by_no_more_than_a_tenth_of_the_interval_leaves_no_gap(double late, int gaps) =>
        Assert.Equal(gaps, GapFinder.Find(Made(_ => false, row => row >= 200 ? late : 0).ToFrame()).Count);

    // Twenty minutes are missing, and five seconds more: all stamps kept to the round ten minutes before, and keep to five seconds past them from then on. A recorder whose stamps wander by seconds shows nothing by that.
    [Theory]
    [InlineData(5, false, SpanKind.ClockJump)]
    [InlineData(0, false, SpanKind.NoData)]
    [InlineData(5, true, SpanKind.NoData)]
    public void A_clock_that_was_set_by_odd_seconds_leaves_every_stamp_behind_it_off_by_as_many(double seconds, bool wanders, SpanKind expected)
    {
        var random = new SeededRandom(3);
        var log = Made(row => row is 200 or 201, row => (row > 201 ? seconds : 0) + (wanders ? random.Uniform(0, 4) : 0));
        Assert.Equal(expected, Assert.Single(GapFinder.Find(log.ToFrame())).Kind);
    }

    [Fact]
    public void Rows_that_hold_nothing_are_no_data_from_the_first_to_the_last()
    {
        var log = Made(_ => false, isEmpty: row => row is 0 or 1 or 50 or (>= 397));
        var spans = GapFinder.Find(log.ToFrame());
        Assert.Equal([(log.At(0), log.At(2)), (log.At(50), log.At(51)), (log.At(397), log.At(400))], spans.Select(span => (span.From, span.To)));
        Assert.All(spans, span => Assert.Equal(SpanKind.NoData, span.Kind));
        Assert.Equal([2, 1, 3], spans.Select(span => span.Finding.Intervals));
    }

    // A counter that restarts below a fifth of what it was: the recorder was off. One that goes on says nothing of it.
    [Theory]
    [InlineData(0.1, SpanRelation.CounterRestarted)]
    [InlineData(0.25, SpanRelation.RowsMissing)]
    public void A_counter_that_starts_again_behind_a_gap_tells_that_the_recorder_was_off(double left, SpanRelation relation)
    {
        var log = Made(row => row is >= 200 and < 235);
        log.With(LogQuantity.ActiveEnergy, LogPlace.Whole, PartLog.Rows(Count, row => row < 235 ? 1000 + row : left * 1199 + (row - 235)), LogStatistic.Counter);
        var span = Assert.Single(GapFinder.Find(log.ToFrame()));
        Assert.Equal((SpanKind.NoData, relation), (span.Kind, span.Finding.Relation));
    }

    // Half a cycle is its own, and up to one more is what a stretch that began at once leaves unread.
    [Theory]
    [InlineData(2, 0)]
    [InlineData(3, 1)]
    public void Of_half_cycles_two_rows_between_stretches_are_no_gap(int missing, int gaps)
    {
        var log = new PartLog(seconds: 0.01) { IsMissing = row => row >= 100 && row < 100 + missing }.Volts(0, PartLog.Rows(Count, row => 230 + (0.1 * (row % 7))));
        var spans = GapFinder.Find(log.ToFrame());
        Assert.Equal(gaps, spans.Count);
        Assert.All(spans, span => Assert.Equal((SpanKind.NoData, PartLog.Start.AddSeconds(1), PartLog.Start.AddSeconds(1.03)), (span.Kind, span.From, span.To)));
    }

    [Fact]
    public void A_clock_that_the_log_says_was_set_is_a_jump_where_it_was()
    {
        var log = Made(_ => false, clockSteps: [new ClockStep(0, 1), new ClockStep(150, 36_000_000_000), new ClockStep(400, 1)]);
        var span = Assert.Single(GapFinder.Find(log.ToFrame()));
        Assert.Equal((SpanKind.ClockJump, log.At(150), log.At(150), -3600.0), (span.Kind, span.From, span.To, span.Finding.Seconds));
    }

    [Fact]
    public void A_load_that_goes_on_behind_ten_hours_as_if_they_were_one_row_was_never_off()
    {
        // A course of the day of 10 to 40 A. Where the clock was put on by ten hours at noon the next row reads as the last did; where the recorder was off it reads as the evening does.
        Assert.Equal(SpanKind.ClockJump, OfDay(isSet: true));
        Assert.Equal(SpanKind.NoData, OfDay(isSet: false));
    }

    private static SpanKind OfDay(bool isSet)
    {
        var random = new SeededRandom(2);
        var amperes = PartLog.Rows(1000, row =>
        {
            var hours = (row / 6.0) - (isSet && row >= 660 ? 10 : 0);
            return 25 - (15 * Math.Cos(2 * Math.PI * hours / 24)) + (0.3 * random.Gaussian());
        });
        var log = new PartLog { IsMissing = row => row is >= 600 and < 660 }.Amperes(0, amperes);
        return Assert.Single(GapFinder.Find(log.ToFrame())).Kind;
    }

    private static PartLog Made(Func<int, bool> isMissing, Func<int, double>? late = null, Func<int, bool>? isEmpty = null, ClockStep[]? clockSteps = null)
    {
        var random = new SeededRandom(1);
        double[] Column(double about) => PartLog.Rows(Count, row => isEmpty?.Invoke(row) == true ? double.NaN : about * (1 + (0.01 * random.Gaussian())));
        return new PartLog { IsMissing = isMissing, Late = late ?? (_ => 0), ClockSteps = clockSteps ?? [] }.Volts(0, Column(230)).Amperes(0, Column(10));
    }
}
