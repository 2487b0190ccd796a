using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity;
using Leadwright.Core.Logs;
using Leadwright.Core.Mending;

namespace Leadwright.Core.Tests.Integrity;

/// <summary>Every mishap that arithmetic can apply, on sites put together from a day of a house that others published.</summary>
public sealed class PublishedSiteTests
{
    private const int From = 500;
    private const int To = 1010;
    private static readonly int[] s_shifts = [0, 400, 890];

    [Theory]
    [InlineData(ServiceKind.Wye, true, 0, 400, 890)]
    [InlineData(ServiceKind.Wye, false, 0, 400, 890)]
    [InlineData(ServiceKind.Wye, true, 100, 700, 1200)]
    [InlineData(ServiceKind.Wye, true, 330, 1010, 60)]
    [InlineData(ServiceKind.Split, true, 0, 610)]
    [InlineData(ServiceKind.Split, false, 250, 900)]
    public void A_site_without_mishap_has_no_sure_span(ServiceKind service, bool hasVars, params int[] shifts)
    {
        var log = new PublishedSite(service, shifts).Log(hasVars: hasVars);
        Assert.DoesNotContain(Judge(log, service).Spans, span => !span.IsDoubtful);
    }

    [Theory]
    [InlineData("lead off", SpanKind.LeadOpen, "V2", "")]
    [InlineData("lead on neutral", SpanKind.LeadOnNeutral, "V2", "")]
    [InlineData("lead exchanged with the neutral lead", SpanKind.NeutralExchanged, "V2,VN", "")]
    [InlineData("leads exchanged", SpanKind.LeadsExchanged, "V1,V2", "")]
    [InlineData("leads on one conductor", SpanKind.LeadsOnSameConductor, "V1,V2", "")]
    [InlineData("clamp turned", SpanKind.ClampReversed, "", "I2")]
    [InlineData("clamps exchanged", SpanKind.ClampsExchanged, "", "I1,I2")]
    [InlineData("clamps rotated", SpanKind.ClampsRotated, "", "I1,I2,I3")]
    [InlineData("clamps on one conductor", SpanKind.ClampsOnSameConductor, "", "I1,I2")]
    [InlineData("clamp off", SpanKind.ClampOpen, "", "I2")]
    [InlineData("stuck lead", SpanKind.Stuck, "V2", "")]
    [InlineData("stuck clamp", SpanKind.Stuck, "", "I2")]
    [InlineData("outage", SpanKind.Outage, "V1,V2,V3", "")]
    [InlineData("line lost", SpanKind.Outage, "V2", "")]
    [InlineData("recorder off", SpanKind.NoData, "V1,V2,V3,VN", "I1,I2,I3")]
    public void A_mishap_on_a_real_site_is_named_with_its_channels_and_edges(string what, SpanKind kind, string leads, string clamps)
    {
        var log = With(what);
        var spans = Judge(log, ServiceKind.Wye).Spans.Where(span => !span.IsDoubtful).ToList();
        var span = Assert.Single(spans);
        Assert.Equal((kind, leads, clamps), (span.Kind, string.Join(",", span.Leads), string.Join(",", span.Clamps)));
        // The house's own current stood still for some minutes before it was held.
        var slack = kind == SpanKind.Stuck ? 6 : 1.05;
        Assert.InRange((span.From - PublishedSite.Start).TotalMinutes, From - slack, From + slack);
        Assert.InRange((span.To - PublishedSite.Start).TotalMinutes, To - slack, To + slack);
    }

    [Fact]
    public void A_clock_that_is_set_forward_on_a_real_site_is_named()
    {
        var log = new PublishedSite(ServiceKind.Wye, s_shifts).Log(stamp: row => row >= From ? 1757 : 0);
        var span = Assert.Single(Judge(log, ServiceKind.Wye).Spans, span => !span.IsDoubtful);
        Assert.Equal((SpanKind.ClockJump, 1757.0), (span.Kind, span.Finding.Seconds));
    }

    [Fact]
    public void A_clamp_beyond_its_range_on_a_real_site_is_named()
    {
        var site = new PublishedSite(ServiceKind.Wye, s_shifts);
        var log = site.Log(change: (_, cells) =>
        {
            if (cells[5] <= 12) return true;
            for (var cell = 6; cell < 8; cell++) cells[cell] *= 12 / cells[5];
            cells[5] = 12;
            return true;
        });
        var spans = Judge(log, ServiceKind.Wye).Spans.Where(span => !span.IsDoubtful).ToList();
        Assert.NotEmpty(spans);
        Assert.All(spans, span => Assert.Equal((SpanKind.OverRange, Clamp.I2), (span.Kind, Assert.Single(span.Clamps))));
    }

    [Theory]
    [InlineData("lead off")]
    [InlineData("lead on neutral")]
    [InlineData("leads exchanged")]
    [InlineData("clamp turned")]
    [InlineData("clamps exchanged")]
    [InlineData("clamps rotated")]
    [InlineData("recorder off")]
    public void The_energy_of_a_real_site_lies_in_the_interval_after_mending(string what)
    {
        var site = new PublishedSite(ServiceKind.Wye, s_shifts);
        var truth = 0.0;
        for (var row = 0; row < site.Rows; row++)
        {
            var (potentials, currents) = (site.Potentials(row), site.Currents(row));
            for (var line = 0; line < 3; line++) truth += (potentials[line] * currents[line].Conjugate).Real / 60;
        }

        var log = With(what);
        var guard = Judge(log, ServiceKind.Wye);
        var energy = IntervalMender.Mend(log, guard, new MendOptions { Service = ServiceKind.Wye, Nominal = s_nominal }, TestContext.Current.CancellationToken).Energy!;
        Assert.InRange(truth, energy.LowWattHours - 1, energy.HighWattHours + 1);
    }

    private static readonly NominalVoltage s_nominal = new(240, 240 * Math.Sqrt(3));

    private static IntervalLog With(string what)
    {
        var site = new PublishedSite(ServiceKind.Wye, s_shifts);
        int[] right = [0, 1, 2, 3];
        double[] ones = [1, 1, 1, 1];
        double[]? held = null;
        return site.Log(
            row => row is < From or >= To ? (right, right, ones) : what switch
            {
                "lead off" => ([0, -1, 2, 3], right, ones),
                "lead on neutral" => ([0, 3, 2, 3], right, ones),
                "lead exchanged with the neutral lead" => ([0, 3, 2, 1], right, ones),
                "leads exchanged" => ([1, 0, 2, 3], right, ones),
                "leads on one conductor" => ([1, 1, 2, 3], right, ones),
                "clamp turned" => (right, right, [1, -1, 1, 1]),
                "clamps exchanged" => (right, [1, 0, 2, 3], ones),
                "clamps rotated" => (right, [1, 2, 0, 3], ones),
                "clamps on one conductor" => (right, [1, 1, 2, 3], ones),
                "clamp off" => (right, [0, -1, 2, 3], ones),
                "ratio of ten" => (right, right, [1, 10, 1, 1]),
                "ratio of a tenth" => (right, right, [1, 0.1, 1, 1]),
                _ => (right, right, ones),
            },
            (row, cells) =>
            {
                if (row is < From or >= To) return true;
                held ??= (double[])cells.Clone();
                switch (what)
                {
                    case "stuck lead":
                        cells[4] = held[4];
                        break;
                    case "stuck clamp":
                        Array.Copy(held, 5, cells, 5, 3);
                        break;
                    case "outage":
                        Array.Clear(cells);
                        break;
                    case "line lost":
                        Array.Clear(cells, 4, 4);
                        break;
                    default:
                        return what != "recorder off";
                }

                return true;
            });
    }

    private static GuardReport Judge(IntervalLog log, ServiceKind service) => IntervalGuard.Judge(
        log, new GuardOptions { Service = service, Nominal = service == ServiceKind.Split ? new NominalVoltage(240, 480) : s_nominal, FrequencyHertz = 50 },
        TestContext.Current.CancellationToken);
}
