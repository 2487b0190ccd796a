using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity;
using Leadwright.Core.Panels;
using Leadwright.Core.Signals;

namespace Leadwright.Core.Tests.Integrity;

/// <summary>Samples that end at the end of a range; four seconds of 10 A.</summary>
public sealed class SampledRangeTests
{
    private const double Rate = 3200;
    private const double Length = 4;
    private const double HalfCycle = 0.0101;

    [Fact]
    public void A_current_that_is_cut_flat_is_beyond_its_clamps_range_to_the_half_cycle()
    {
        var span = Assert.Single(Judge(1, (channel, seconds, value) => channel == 4 && seconds is >= 1.5033 and < 2.7071 ? Math.Clamp(value, -11, 11) : value).Spans);
        Assert.Equal((SpanKind.OverRange, SpanRelation.WavesCutFlat, Clamp.I2, false), (span.Kind, span.Finding.Relation, Assert.Single(span.Clamps), span.IsDoubtful));
        Assert.Equal(11, span.Finding.Within, 9);
        Assert.Equal(1.5033, (span.From - DateTime.MinValue).TotalSeconds, HalfCycle);
        Assert.Equal(2.7071, (span.To - DateTime.MinValue).TotalSeconds, HalfCycle);
    }

    [Fact]
    public void A_voltage_that_is_cut_flat_is_not_usable()
    {
        var report = Judge(1, (channel, _, value) => channel == 1 ? Math.Clamp(value, -300, 300) : value);
        var span = Assert.Single(report.Spans);
        Assert.Equal((SpanKind.OverRange, Lead.V2), (span.Kind, Assert.Single(span.Leads)));
        Assert.Equal((0, 1), (report.Usable[Channel.V2], report.Usable[Channel.V1]));
    }

    [Fact]
    public void Samples_that_do_not_move_are_stuck()
    {
        var span = Assert.Single(Judge(1, (channel, seconds, value) => channel == 5 && seconds is >= 1.5 and < 2.5 ? 7 : value).Spans);
        Assert.Equal((SpanKind.Stuck, Clamp.I3), (span.Kind, Assert.Single(span.Clamps)));
    }

    // Half cycles that read alike to the last digit are a steady load, and few steps of load teach no voltage's answer.
    [Fact]
    public void A_steady_load_is_neither_stuck_nor_beyond_a_range() =>
        Assert.Empty(Judge(0, (channel, seconds, value) => channel == 3 && seconds < 2 ? 0.7 * value : value).Spans);

    [Fact]
    public void Where_the_high_leg_is_at_another_line_the_clamp_keeps_its_name()
    {
        var options = new GuardOptions { Service = ServiceKind.HighLeg, Nominal = new NominalVoltage(120, 240), Check = new() { ToldRotation = Rotation.Abc }, ProvedHookup = Hookup.Expected(Service.Of(ServiceKind.HighLeg).Leads, Service.Of(ServiceKind.HighLeg).Clamps) };
        double[] size = [1, 1, Math.Sqrt(3)], angle = [0, 180, 90];
        var report = Judge(
            1, (channel, seconds, value) => channel == 5 ? Math.Clamp(value, -11, 11) : channel > 2 ? value
                : size[channel] * 120 * Math.Sqrt(2) * Math.Cos((2 * Math.PI * 60 * seconds) + (angle[channel] * Math.PI / 180)), options);
        Assert.Equal(Clamp.I3, Assert.Single(Assert.Single(report.Spans, span => span.Kind == SpanKind.OverRange).Clamps));
    }

    private static GuardReport Judge(double noise, Func<int, double, double, double> change, GuardOptions? options = null)
    {
        var random = new SeededRandom(5);
        var channels = new List<SampledChannel>();
        var hertz = options is null ? 50 : 60;
        for (var channel = 0; channel < 6; channel++)
        {
            var samples = new double[(int)(Length * Rate)];
            var size = Math.Sqrt(2) * (channel < 3 ? 230 : 10);
            var angle = ((channel % 3 * -120) - (channel < 3 ? 0 : 25)) * Math.PI / 180;
            for (var index = 0; index < samples.Length; index++)
            {
                var seconds = index / Rate;
                samples[index] = change(channel, seconds, (size * Math.Cos((2 * Math.PI * hertz * seconds) + angle)) + (noise * 1e-3 * size * random.Gaussian()));
            }

            channels.Add(new SampledChannel($"{channel}", "", channel < 3 ? "V" : "A", samples));
        }

        var recording = new SampledRecording([.. channels], [new RateSegment(0, (int)(Length * Rate), Rate, 0)], hertz, null);
        Dictionary<Channel, int> map = new()
        {
            [Channel.V1] = 0, [Channel.V2] = 1, [Channel.V3] = 2, [Channel.I1] = 3, [Channel.I2] = 4, [Channel.I3] = 5,
        };
        return SampledGuard.Judge(recording, map, hertz, options ?? new() { Service = ServiceKind.Wye, Nominal = new NominalVoltage(230, 400) }, TestContext.Current.CancellationToken);
    }
}
