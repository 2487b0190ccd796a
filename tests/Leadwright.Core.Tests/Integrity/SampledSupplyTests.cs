using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity;
using Leadwright.Core.Panels;
using Leadwright.Core.Signals;

namespace Leadwright.Core.Tests.Integrity;

/// <summary>Samples in which the supply goes, and what must not be taken for it: 230 V, 10 A lagging by 25 degrees, four seconds.</summary>
public sealed class SampledSupplyTests
{
    private const double Rate = 3200;
    private const double Length = 4;
    private const double HalfCycle = 0.01;
    private static readonly GuardOptions s_options = new() { Service = ServiceKind.Wye, Nominal = new NominalVoltage(230, 400) };
    private static readonly Dictionary<Channel, int> s_map = new()
    {
        [Channel.V1] = 0, [Channel.V2] = 1, [Channel.V3] = 2, [Channel.I1] = 3, [Channel.I2] = 4, [Channel.I3] = 5,
    };

    // At eight points of the wave.
    [Theory]
    [InlineData(1.5001)]
    [InlineData(1.5026)]
    [InlineData(1.5051)]
    [InlineData(1.5076)]
    [InlineData(1.5101)]
    [InlineData(1.5126)]
    [InlineData(1.5151)]
    [InlineData(1.5176)]
    public void A_supply_that_goes_takes_no_lead_with_it(double from)
    {
        var to = from + 0.7043;
        Outage(Judge((channel, seconds, value) => seconds >= from && seconds < to ? 0 : value), [Lead.V1, Lead.V2, Lead.V3], from, to);
    }

    [Fact]
    public void Poles_that_open_one_after_the_other_make_one_outage() =>
        Outage(
            Judge((channel, seconds, value) => seconds >= 1.5033 + (channel % 3 * 0.0033) && seconds < 2.2071 ? 0 : value), [Lead.V1, Lead.V2, Lead.V3], 1.5033, 2.2071);

    [Fact]
    public void Motors_that_hold_the_voltage_up_are_without_supply_from_the_first_half_cycle() =>
        Outage(
            Judge((channel, seconds, value) => seconds is < 1.5033 or >= 3.2071 ? value : channel < 3 ? 0.85 * Math.Exp((1.5033 - seconds) / 0.3) * value : 0), [Lead.V1, Lead.V2, Lead.V3], 1.5033, 3.2071);

    [Fact]
    public void One_line_that_goes_is_no_lead() =>
        Outage(Judge((channel, seconds, value) => channel % 3 == 1 && seconds is >= 1.5033 and < 2.2071 ? 0 : value), [Lead.V2], 1.5033, 2.2071);

    [Fact]
    public void A_load_that_is_switched_off_is_no_outage() =>
        Assert.DoesNotContain(Judge((channel, seconds, value) => channel >= 3 && seconds is >= 1.5033 and < 2.2071 ? 0 : value).Spans, span => span.Kind is SpanKind.Outage);

    [Fact]
    public void A_supply_that_goes_after_the_load_was_switched_off_goes_no_sooner()
    {
        var report = Judge((channel, seconds, value) => seconds is >= 2.5033 and < 3.2071 || (channel >= 3 && seconds is >= 1.5033 and < 3.2071) ? 0 : value);
        Assert.Equal(2.5033, Seconds(Assert.Single(report.Spans, span => span.Kind == SpanKind.Outage).From), HalfCycle);
    }

    [Fact]
    public void A_dip_in_which_the_load_lets_go_is_no_outage() =>
        Assert.DoesNotContain(Judge((channel, seconds, value) => seconds is < 1.5033 or >= 2.2071 ? value : channel < 3 ? 0.95 * value : 0).Spans, span => span.Kind is SpanKind.Outage);

    [Theory]
    [InlineData(1.5001)]
    [InlineData(1.5039)]
    [InlineData(1.5077)]
    [InlineData(1.5115)]
    public void A_lead_that_falls_off_is_dated_to_the_half_cycle(double from)
    {
        var span = Assert.Single(Judge((channel, seconds, value) => channel == 1 && seconds >= from && seconds < from + 0.7043 ? 0.03 * value : value).Spans);
        Assert.Equal((SpanKind.LeadOpen, Lead.V2), (span.Kind, Assert.Single(span.Leads)));
        Assert.Equal(from, Seconds(span.From), HalfCycle);
        Assert.Equal(from + 0.7043, Seconds(span.To), HalfCycle);
    }

    private static void Outage(GuardReport report, Lead[] leads, double from, double to)
    {
        var span = Assert.Single(report.Spans);
        Assert.Equal((SpanKind.Outage, false), (span.Kind, span.IsDoubtful));
        Assert.Equal(leads, span.Leads);
        Assert.Equal(from, Seconds(span.From), HalfCycle);
        Assert.Equal(to, Seconds(span.To), HalfCycle);
    }

    private static double Seconds(DateTime time) => (time - DateTime.MinValue).TotalSeconds;

    private static GuardReport Judge(Func<int, double, double, double> change)
    {
        var random = new SeededRandom(5);
        var channels = new List<SampledChannel>();
        for (var channel = 0; channel < 6; channel++)
        {
            var samples = new double[(int)(Length * Rate)];
            var size = Math.Sqrt(2) * (channel < 3 ? 230 : 10);
            var angle = ((channel % 3 * -120) - (channel < 3 ? 0 : 25)) * Math.PI / 180;
            for (var index = 0; index < samples.Length; index++)
            {
                var seconds = index / Rate;
                var slow = 1 + (0.01 * Math.Sin(seconds + channel));
                samples[index] = change(channel, seconds, size * slow * Math.Cos((2 * Math.PI * 50 * seconds) + angle)) + (1e-3 * size * random.Gaussian());
            }

            channels.Add(new SampledChannel($"{channel}", "", channel < 3 ? "V" : "A", samples));
        }

        var recording = new SampledRecording([.. channels], [new RateSegment(0, (int)(Length * Rate), Rate, 0)], 50, null);
        return SampledGuard.Judge(recording, s_map, 50, s_options, TestContext.Current.CancellationToken);
    }
}
