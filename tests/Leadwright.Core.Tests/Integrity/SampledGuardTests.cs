using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity;
using Leadwright.Core.Integrity.Samples;
using Leadwright.Core.Logs;
using Leadwright.Core.Panels;
using Leadwright.Core.Signals;

namespace Leadwright.Core.Tests.Integrity;

public sealed class SampledGuardTests
{
    private const double Rate = 6400;
    private static readonly GuardOptions s_options = new() { Service = ServiceKind.Wye, Nominal = new NominalVoltage(230, 400) };
    private static readonly Dictionary<Channel, int> s_map = new()
    {
        [Channel.V1] = 0, [Channel.V2] = 1, [Channel.V3] = 2, [Channel.I1] = 3, [Channel.I2] = 4, [Channel.I3] = 5,
    };

    [Fact]
    public void One_row_each_half_cycle_holds_rms_watts_and_vars()
    {
        var log = HalfCycleLog.Of(Record((_, _, value) => value, noise: 0), s_map, 50, TestContext.Current.CancellationToken);
        Assert.Equal(0.01, log.IntervalSeconds, 12);
        Assert.Equal(230, log.Values(log.IndexOf(LogQuantity.Voltage, LogPlace.Phase2))[7], 9);
        Assert.Equal(10, log.Values(log.IndexOf(LogQuantity.Current, LogPlace.Phase3))[8], 9);
        // 230 V times 10 A at 25 degrees lagging.
        Assert.Equal(2300 * Math.Cos(25 * Math.PI / 180), log.Values(log.IndexOf(LogQuantity.ActivePower, LogPlace.Phase1))[5], 6);
        Assert.Equal(2300 * Math.Sin(25 * Math.PI / 180), log.Values(log.IndexOf(LogQuantity.ReactivePower, LogPlace.Phase1))[5], 6);
    }

    [Fact]
    public void A_lead_that_lets_go_is_known_to_the_half_cycle()
    {
        var report = SampledGuard.Judge(
            Record((channel, seconds, value) => channel == 1 && seconds is >= 4.0031 and < 7.1048 ? 0.02 * value : value), s_map, 50, s_options,
            TestContext.Current.CancellationToken);
        var span = Assert.Single(report.Spans);
        Assert.Equal((SpanKind.LeadOpen, Lead.V2), (span.Kind, Assert.Single(span.Leads)));
        Assert.InRange((span.From - DateTime.MinValue).TotalSeconds, 4.0031 - 0.0201, 4.0031 + 0.0101);
        Assert.InRange((span.To - DateTime.MinValue).TotalSeconds, 7.1048 - 0.0101, 7.1048 + 0.0201);
    }

    [Fact]
    public void A_clamp_turned_round_is_known_to_the_half_cycle()
    {
        var report = SampledGuard.Judge(
            Record((channel, seconds, value) => channel == 5 && seconds >= 5.5 ? -value : value), s_map, 50, s_options,
            TestContext.Current.CancellationToken);
        var span = Assert.Single(report.Spans);
        Assert.Equal((SpanKind.ClampReversed, Clamp.I3), (span.Kind, Assert.Single(span.Clamps)));
        Assert.InRange((span.From - DateTime.MinValue).TotalSeconds, 5.5 - 0.0201, 5.5 + 0.0101);
    }

    [Fact]
    public void A_dip_of_one_phase_is_no_lead_that_was_off()
    {
        // A fault near by: 65 % of the voltage for a tenth of a second, and the load goes on.
        var report = SampledGuard.Judge(
            Record((channel, seconds, value) => channel == 0 && seconds is >= 4 and < 4.1 ? 0.65 * value : value), s_map, 50, s_options, TestContext.Current.CancellationToken);
        Assert.Empty(report.Spans);
    }

    [Fact]
    public void A_lead_that_picks_up_as_much_for_minutes_is_off_all_the_same()
    {
        var report = SampledGuard.Judge(
            Record((channel, seconds, value) => channel == 0 && seconds >= 4 ? 0.3 * value : value), s_map, 50, s_options, TestContext.Current.CancellationToken);
        Assert.Contains(report.Spans, span => span.Kind == SpanKind.LeadOpen && span.Leads.SequenceEqual([Lead.V1]));
    }

    [Fact]
    public void Rows_gathered_part_by_part_are_those_of_the_whole()
    {
        var recording = Record((_, _, value) => value);
        var whole = HalfCycleLog.Of(recording, s_map, 50.02, TestContext.Current.CancellationToken);
        var rows = Gathered(recording, 50.02, int.MaxValue, partLength: 9001);
        Assert.Equal(whole.Starts.ToArray(), rows.Starts.ToArray());
        for (var column = 0; column < whole.Columns.Length; column++) Assert.Equal(whole.Values(column).ToArray(), rows.Values(column).ToArray());
    }

    [Fact]
    public void More_rows_than_wanted_are_joined_two_by_two_and_stay_what_they_mean()
    {
        var log = Gathered(Record((_, _, value) => value, noise: 0), 50, 300, partLength: 9001);
        // A thousand half cycles, in rows of two and then of four.
        Assert.Equal(0.04, log.IntervalSeconds, 12);
        Assert.InRange(log.Count, 240, 250);
        Assert.Equal(log.IntervalTicks, log.Starts.Span[^1] - log.Starts.Span[^2]);
        foreach (var row in (int[])[0, 100, log.Count - 1])
        {
            Assert.Equal(230, log.Values(log.IndexOf(LogQuantity.Voltage, LogPlace.Phase2))[row], 6);
            Assert.Equal(2300 * Math.Cos(25 * Math.PI / 180), log.Values(log.IndexOf(LogQuantity.ActivePower, LogPlace.Phase1))[row], 6);
            Assert.Equal(2300 * Math.Sin(25 * Math.PI / 180), log.Values(log.IndexOf(LogQuantity.ReactivePower, LogPlace.Phase1))[row], 6);
        }
    }

    // In parts that reach back over a tenth of a second, as they are read from a file.
    private static IntervalLog Gathered(SampledRecording recording, double hertz, int most, int partLength)
    {
        var rows = new HalfCycleRows([.. s_map.Keys], hertz, recording.Start, most);
        var count = recording.Channels[0].Samples.Length;
        rows.Begin(0);
        for (var first = 0; first < count; first += partLength - 640)
        {
            var length = Math.Min(partLength, count - first);
            rows.Add(
                Stretch.Of(new RateSegment(0, length, Rate, first / Rate)), [.. rows.Channels.Select(channel => recording.Channels[s_map[channel]].Samples.Slice(first, length))], first + length == count,
                TestContext.Current.CancellationToken);
            if (first + length == count) break;
        }

        return rows.ToLog();
    }

    private static SampledRecording Record(Func<int, double, double, double> change, double noise = 1e-3)
    {
        var random = new SeededRandom(5);
        var channels = new List<SampledChannel>();
        for (var channel = 0; channel < 6; channel++)
        {
            var samples = new double[(int)(10 * Rate)];
            var size = Math.Sqrt(2) * (channel < 3 ? 230 : 10);
            var angle = ((channel % 3 * -120) - (channel < 3 ? 0 : 25)) * Math.PI / 180;
            for (var index = 0; index < samples.Length; index++)
            {
                var seconds = index / Rate;
                var slow = 1 + (noise > 0 ? 0.01 * Math.Sin(seconds + channel) : 0);
                samples[index] = change(channel, seconds, (size * slow * Math.Cos((2 * Math.PI * 50 * seconds) + angle)) + (noise * size * random.Gaussian()));
            }

            channels.Add(new SampledChannel($"{channel}", "", channel < 3 ? "V" : "A", samples));
        }

        return new SampledRecording([.. channels], [new RateSegment(0, (int)(10 * Rate), Rate, 0)], 50, null);
    }
}
