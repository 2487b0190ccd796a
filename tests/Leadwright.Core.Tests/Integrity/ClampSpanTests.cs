using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity;
using Leadwright.Core.Logs;

namespace Leadwright.Core.Tests.Integrity;

public sealed class ClampSpanTests
{
    [Fact]
    public void A_clamp_turned_round_turns_watts_and_vars_at_once()
    {
        var report = new MadeLog().WithReversed(150, 300, 1).Guard();
        var span = Assert.Single(report.Spans);
        Assert.Equal((SpanKind.ClampReversed, Clamp.I2), (span.Kind, Assert.Single(span.Clamps)));
        Assert.Equal((MadeLog.At(150), MadeLog.At(300)), (span.From, span.To));
        Assert.Equal(3, report.Timeline.Pieces.Length);
        Assert.True(report.Timeline.At(MadeLog.At(200)).Hookup.Clamps[Clamp.I2].Reversed);
        Assert.True(report.Timeline.At(MadeLog.At(100)).Hookup.IsRight);
        // Watts and vars are put right by their signs: nothing is lost.
        Assert.Equal(1, report.Usable[Channel.I2]);
    }

    [Fact]
    public void A_fault_from_the_first_to_the_last_interval_is_one_span()
    {
        var report = new MadeLog().WithReversed(0, MadeLog.Rows, 2).Guard();
        var span = Assert.Single(report.Spans);
        Assert.Equal((SpanKind.ClampReversed, Clamp.I3), (span.Kind, Assert.Single(span.Clamps)));
        Assert.Equal((report.From, report.To), (span.From, span.To));
    }

    [Fact]
    public void A_clamp_that_falls_off_leaves_the_voltage_where_it_was()
    {
        var report = new MadeLog().WithAmperes(200, 230, 0, 0.0005).Guard();
        var span = Assert.Single(report.Spans);
        Assert.Equal((SpanKind.ClampOpen, Clamp.I1), (span.Kind, Assert.Single(span.Clamps)));
        Assert.Equal((MadeLog.At(200), MadeLog.At(230)), (span.From, span.To));
        Assert.Equal(1 - (30.0 / MadeLog.Rows), report.Usable[Channel.I1], 6);
    }

    [Fact]
    public void A_load_switched_off_lets_the_voltage_rise_and_is_no_fault()
    {
        // The same current gone, and the voltage risen by what it dropped across the source: 0.06 ohm.
        var log = new MadeLog();
        for (var row = 200; row < 230; row++) log.Volts[0][row] += 0.06 * log.Amperes[0][row];
        for (var row = 200; row < 230; row++)
        {
            for (var other = 1; other < 3; other++) log.Volts[other][row] -= 0.03 * log.Amperes[0][row];
        }

        log.WithAmperes(200, 230, 0, 0.0005);
        Assert.DoesNotContain(log.Guard().Spans, span => !span.IsDoubtful);
    }

    // Common practice, no source: fans and street lamps draw one current for days, pumps one current or none.
    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void A_load_of_one_size_is_not_the_end_of_a_range(bool goesOnAndOff)
    {
        var log = new MadeLog();
        double[] sizes = [41.2, 38.0, 44.9];
        for (var row = 0; row < MadeLog.Rows; row++)
        {
            // Seven intervals on, one in part, seven off, one in part.
            var share = !goesOnAndOff ? 1 : (row % 16) switch { < 7 => 1, 7 => 0.37 + (row % 5 * 0.1), < 15 => 0.02, _ => 0.8 - (row % 7 * 0.1) };
            for (var phase = 0; phase < 3; phase++)
            {
                var amperes = Math.Round(share * sizes[phase], 1);
                var ratio = amperes / log.Amperes[phase][row];
                log.Volts[phase][row] -= 0.06 * (amperes - log.Amperes[phase][row]);
                log.Amperes[phase][row] = amperes;
                log.Watts[phase][row] *= ratio;
                log.Vars[phase][row] *= ratio;
            }
        }

        Assert.DoesNotContain(log.Guard().Spans, span => span.Kind == SpanKind.OverRange && !span.IsDoubtful);
    }

    [Fact]
    public void A_range_ten_times_too_large_reads_ten_times_while_the_voltage_keeps_still()
    {
        var report = new MadeLog().WithAmperes(150, 300, 1, 10).Guard();
        var span = Assert.Single(report.Spans);
        Assert.Equal((SpanKind.RatioWrong, Clamp.I2), (span.Kind, Assert.Single(span.Clamps)));
        Assert.Equal(10, report.Timeline.At(MadeLog.At(200)).Hookup.Clamps[Clamp.I2].Scale);
        Assert.Equal((MadeLog.At(150), MadeLog.At(300)), (span.From, span.To));
    }

    [Fact]
    public void A_value_that_repeats_while_others_move_is_stuck()
    {
        var log = new MadeLog();
        Array.Fill(log.Volts[2], log.Volts[2][100], 100, 40);
        var span = Assert.Single(log.Guard().Spans);
        Assert.Equal((SpanKind.Stuck, Lead.V3), (span.Kind, Assert.Single(span.Leads)));
        Assert.Equal(MadeLog.At(140), span.To);
    }

    [Fact]
    public void Currents_that_pile_up_at_one_value_are_at_the_end_of_their_range()
    {
        var log = new MadeLog();
        var over = 0;
        for (var row = 0; row < MadeLog.Rows; row++)
        {
            if (log.Amperes[0][row] <= 24) continue;
            over++;
            log.WithAmperes(row, row + 1, 0, 24 / log.Amperes[0][row]);
        }

        var spans = log.Guard().Spans;
        Assert.All(spans, span => Assert.Equal((SpanKind.OverRange, Clamp.I1), (span.Kind, Assert.Single(span.Clamps))));
        Assert.Equal(over, spans.Sum(span => (int)(span.Length.TotalMinutes / 10)));
    }

    [Fact]
    public void Rows_that_are_missing_are_no_data()
    {
        var report = Without(new MadeLog(), 200, 260, 0);
        var span = Assert.Single(report.Spans);
        Assert.Equal(SpanKind.NoData, span.Kind);
        Assert.Equal((MadeLog.At(200), MadeLog.At(260)), (span.From, span.To));
        Assert.Equal(1 - (60.0 / MadeLog.Rows), report.Usable[Channel.V1], 6);
    }

    [Fact]
    public void Times_that_jump_off_the_grid_while_values_go_on_are_a_clock_that_was_set()
    {
        var report = Without(new MadeLog(), 200, 200, (37 * 60) + 12);
        var span = Assert.Single(report.Spans);
        Assert.Equal(SpanKind.ClockJump, span.Kind);
        Assert.Equal((37 * 60) + 12, span.Finding.Seconds, 6);
    }

    [Fact]
    public void Times_that_were_written_twice_are_a_clock_set_back()
    {
        var log = new MadeLog().ToLog();
        var stepped = new IntervalLog(log.Columns, log.Starts.ToArray(), [.. Enumerable.Range(0, log.Columns.Length).Select(column => log.Values(column).ToArray())], 600)
        {
            ClockSteps = [new ClockStep(150, TimeSpan.TicksPerHour)],
        };
        var report = IntervalGuard.Judge(stepped, new GuardOptions { Service = ServiceKind.Wye, Nominal = new NominalVoltage(230, 400) }, TestContext.Current.CancellationToken);
        var span = Assert.Single(report.Spans);
        Assert.Equal((SpanKind.ClockJump, -3600.0), (span.Kind, span.Finding.Seconds));
    }

    [Fact]
    public void An_empty_log_says_so()
    {
        var report = IntervalGuard.Judge(new IntervalLog([], [], [], 600), new GuardOptions { Service = ServiceKind.Wye }, TestContext.Current.CancellationToken);
        Assert.Equal([GuardNoteKind.TooFewIntervals], report.Notes);
        Assert.Empty(report.Spans);
    }

    private static GuardReport Without(MadeLog made, int from, int to, double laterBySeconds)
    {
        var log = made.ToLog();
        int[] rows = [.. Enumerable.Range(0, log.Count).Where(row => row < from || row >= to)];
        var starts = log.Starts.ToArray();
        var later = (long)(laterBySeconds * TimeSpan.TicksPerSecond);
        var values = Enumerable.Range(0, log.Columns.Length).Select(column => log.Values(column).ToArray()).ToArray();
        var cut = new IntervalLog(
            log.Columns, [.. rows.Select(row => starts[row] + (row >= to ? later : 0))], [.. values.Select(column => rows.Select(row => column[row]).ToArray())], 600);
        return IntervalGuard.Judge(cut, new GuardOptions { Service = ServiceKind.Wye, Nominal = new NominalVoltage(230, 400) }, TestContext.Current.CancellationToken);
    }
}
