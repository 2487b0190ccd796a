using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity.Samples;
using Leadwright.Core.Logs;
using Leadwright.Core.Signals;

namespace Leadwright.Core.Tests.Integrity.Parts;

/// <summary>Rows of half cycles of 50 Hz: row n covers the cycle from n hundredths of a second on.</summary>
public sealed class HalfCycleRowsTests
{
    private const double Rate = 1600;

    [Fact]
    public void A_second_has_ninety_nine_whole_cycles_that_start_half_a_cycle_apart()
    {
        var log = Log([(0, 1)], _ => 1);
        Assert.Equal(99, log.Count);
        Assert.Equal(0.01, log.IntervalSeconds, 12);
        Assert.Equal(Enumerable.Range(0, 99).Select(row => row * TimeSpan.TicksPerMillisecond * 10), log.Starts.ToArray());
    }

    // With seven samples a cycle is too coarse to be measured.
    [Theory]
    [InlineData(400, 99)]
    [InlineData(350, 0)]
    public void Eight_samples_make_a_cycle_and_seven_do_not(double rate, int rows) => Assert.Equal(rows, Log([(0, 1)], _ => 1, rate: rate).Count);

    // 53⅓ and 47.6 samples to a cycle: with whole ones the rms moves by a percent.
    [Theory]
    [InlineData(2666.667)]
    [InlineData(2380)]
    public void A_steady_wave_reads_the_same_in_every_row_where_a_cycle_is_no_whole_number_of_samples(double rate)
    {
        var log = Log([(0, 1)], _ => 1, rate: rate);
        Assert.All(Enumerable.Range(0, log.Count - 2), row => Assert.Equal(230, log.Values(0)[row], 0.1));
        var watts = log.Values(log.IndexOf(LogQuantity.ActivePower, LogPlace.Phase1)).ToArray();
        Assert.All(Enumerable.Range(0, log.Count - 2), row => Assert.Equal(2300, watts[row], 1.0));
    }

    [Fact]
    public void Eight_samples_are_enough_for_its_rms()
    {
        var log = Log([(0, 1)], _ => 1, rate: 400);
        Assert.All(log.Values(0).ToArray(), value => Assert.Equal(230, value, 9));
    }

    [Fact]
    public void A_step_shows_in_the_one_row_that_covers_both_sides_by_half_its_square()
    {
        var volts = Log([(0, 1)], seconds => seconds < 0.5 ? 1 : 2).Values(0).ToArray();
        Assert.Equal(230, volts[48], 9);
        Assert.Equal(230 * Math.Sqrt(2.5), volts[49], 9);
        Assert.Equal(460, volts[50], 9);
    }

    [Fact]
    public void Rows_that_are_joined_keep_what_heats_and_what_is_paid_for()
    {
        // A hundred rows are as many as wanted and become fifty. Row 24 joins the last before the step, 230 V, with the one half way.
        var log = Log([(0, 1.01)], seconds => seconds < 0.5 ? 1 : 2, most: 100);
        Assert.Equal(50, log.Count);
        Assert.Equal(0.02, log.IntervalSeconds, 12);
        Assert.Equal(230 * Math.Sqrt((1 + 2.5) / 2), log.Values(log.IndexOf(LogQuantity.Voltage, LogPlace.Phase1))[24], 9);
        // Ten amperes go on: 2300 W, and 3450 W half way.
        Assert.Equal(10, log.Values(log.IndexOf(LogQuantity.Current, LogPlace.Phase1))[24], 9);
        Assert.Equal((2300 + 3450) / 2.0, log.Values(log.IndexOf(LogQuantity.ActivePower, LogPlace.Phase1))[24], 6);
    }

    [Fact]
    public void Rows_that_come_once_others_were_joined_are_joined_as_they_come()
    {
        // At fifty rows there are 25 of two half cycles; 25 more pairs make fifty, and 25 of four. The 99 half cycles left make 24 more.
        var log = Log([(0, 2)], seconds => seconds < 1 ? 1 : 2, most: 50);
        Assert.Equal(49, log.Count);
        Assert.Equal(0.04, log.IntervalSeconds, 12);
        Assert.Equal(Enumerable.Range(0, log.Count).Select(row => row * TimeSpan.TicksPerMillisecond * 40), log.Starts.ToArray());
        var volts = log.Values(0).ToArray();
        Assert.Equal(230, volts[0], 9);
        // Row 24 holds the half cycles 96 to 99: three at 230 V and the one half way.
        Assert.Equal(230 * Math.Sqrt((3 + 2.5) / 4), volts[24], 9);
        Assert.Equal(460, volts[^1], 9);
    }

    [Fact]
    public void Beside_a_gap_a_row_without_another_to_join_is_left_out()
    {
        // Five rows each from 0 s and from 10 s: the fifth of both has none to follow it.
        var log = Log([(0, 0.06), (10, 0.06)], _ => 1, most: 10);
        Assert.Equal([0, 200_000, 100_000_000, 100_200_000], log.Starts.ToArray());
    }

    [Fact]
    public void A_recording_that_states_its_start_counts_from_there()
    {
        var start = new DateTime(2026, 3, 2, 8, 0, 0);
        Assert.Equal(start, Log([(0, 0.1)], _ => 1, start: start).From);
    }

    [Fact]
    public void Powers_are_there_for_currents_with_their_own_voltage_alone()
    {
        var rows = new HalfCycleRows([Channel.IN, Channel.I2, Channel.V1, Channel.I1], 50, null, 100);
        Assert.Equal([Channel.V1, Channel.I1, Channel.I2, Channel.IN], rows.Channels);
        var log = rows.ToLog();
        Assert.Equal(["V1", "I1", "I2", "IN", "P1", "Q1"], log.Columns.Select(column => column.Name));
        Assert.Equal([LogPlace.Phase1, LogPlace.Phase1, LogPlace.Phase2, LogPlace.Neutral, LogPlace.Phase1, LogPlace.Phase1], log.Columns.Select(column => column.Place));
    }

    /// <summary>230 V times a size, and 10 A in phase, in some stretches.</summary>
    private static IntervalLog Log((double Start, double Seconds)[] stretches, Func<double, double> size, int most = int.MaxValue, double rate = Rate, DateTime? start = null)
    {
        var rows = new HalfCycleRows([Channel.V1, Channel.I1], 50, start, most);
        foreach (var (from, length) in stretches)
        {
            var count = (int)Math.Round(length * rate);
            // A sample in the middle of its period, so that a step of the size falls between two.
            double[] Samples(Func<double, double> at) => PartLog.Rows(count, index => at((index + 0.5) / rate) * Math.Sqrt(2) * Math.Cos(2 * Math.PI * 50 * (index + 0.5) / rate));
            rows.Begin(from);
            rows.Add(Stretch.Of(new RateSegment(0, count, rate, from)), [Samples(seconds => 230 * size(seconds)), Samples(_ => 10)], true, TestContext.Current.CancellationToken);
        }

        return rows.ToLog();
    }
}
