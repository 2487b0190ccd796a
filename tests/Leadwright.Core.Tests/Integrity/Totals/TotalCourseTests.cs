using System.Numerics;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity;
using Leadwright.Core.Mending;
using Leadwright.Core.Tests.Integrity.Parts;

namespace Leadwright.Core.Tests.Integrity.Totals;

/// <summary>What the course of a total tells from row to row, above all where it was written in watts alone.</summary>
public sealed class TotalCourseTests
{
    private const int From = 420, End = 450;

    [Theory]
    [InlineData(ServiceKind.Wye)]
    [InlineData(ServiceKind.Split)]
    public void A_right_hook_up_has_nothing_wrong(ServiceKind service) => Assert.Empty(new StarTotalLog(service).Guard().Spans);

    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    [InlineData(2)]
    public void A_clamp_turned_for_five_hours_takes_twice_its_share_from_the_watts(int clamp)
    {
        var span = Assert.Single(new StarTotalLog { Clamps = Within(With((clamp, (clamp, -1)))) }.Guard().Spans);
        Assert.Equal((SpanKind.ClampReversed, (Clamp)clamp), (span.Kind, Assert.Single(span.Clamps)));
        AssertEdges(span);
        Assert.False(span.IsDoubtful);
    }

    [Fact]
    public void Watts_that_turn_round_within_a_row_on_two_legs_are_exchanged_clamps()
    {
        var span = Assert.Single(new StarTotalLog(ServiceKind.Split) { Clamps = Within(With((0, (1, 1)), (1, (0, 1)))) }.Guard().Spans);
        Assert.Equal(SpanKind.ClampsExchanged, span.Kind);
        AssertEdges(span);
    }

    // By day on a site with generation the level of a total tells nothing, and a step in one row, while no current moved, everything.
    [Fact]
    public void A_step_that_no_current_made_tells_a_turned_clamp_beside_generation()
    {
        var log = new StarTotalLog { HasVars = true, Generation = Sun, Clamps = Within(With((1, (1, -1)))) };
        var span = Assert.Single(log.Guard().Spans, span => !span.IsDoubtful);
        Assert.Equal((SpanKind.ClampReversed, Clamp.I2), (span.Kind, Assert.Single(span.Clamps)));
        AssertEdges(span);
    }

    [Fact]
    public void Generation_alone_turns_no_clamp() => Assert.DoesNotContain(new StarTotalLog { HasVars = true, Generation = Sun }.Guard().Spans, span => span.Kind is SpanKind.ClampReversed or SpanKind.ClampsExchanged);

    // An idle motor draws volt-amperes and hardly a watt: the total falls against what the currents come to, but it does so with them.
    [Fact]
    public void A_motor_at_idle_turns_no_clamp() =>
        Assert.Empty(new StarTotalLog { Further = row => row is >= From and < End ? Complex.FromPolarCoordinates(3, 82 * Math.PI / 180) : 0 }.Guard().Spans);

    [Fact]
    public void Clamps_exchanged_from_first_to_last_leave_watts_that_no_load_has()
    {
        var log = new StarTotalLog { Clamps = _ => With((0, (2, 1)), (2, (0, 1))) };
        var report = log.Guard();
        var span = Assert.Single(report.Spans);
        Assert.Equal(SpanKind.ClampsExchanged, span.Kind);
        Assert.Equal([Clamp.I1, Clamp.I3], span.Clamps);
        Assert.Equal((report.From, report.To), (span.From, span.To));
        AssertMended(log, report, 0.2);
    }

    [Fact]
    public void A_clamp_turned_from_first_to_last_is_mended_by_what_the_lines_loads_draw()
    {
        var log = new StarTotalLog { Clamps = _ => With((1, (1, -1))) };
        var report = log.Guard();
        var span = Assert.Single(report.Spans);
        Assert.Equal((SpanKind.ClampReversed, Clamp.I2), (span.Kind, Assert.Single(span.Clamps)));
        AssertMended(log, report, 0.2);
    }

    private static double Sun(int row) => row % 144 is > 40 and < 104 ? 7 * Math.Sin((row % 144 - 40) * Math.PI / 64) : 0;

    private static void AssertMended(StarTotalLog log, GuardReport report, double widest)
    {
        var energy = IntervalMender.Mend(log.ToLog(), report, new MendOptions { Service = ServiceKind.Wye, Nominal = new NominalVoltage(230, 400) }, TestContext.Current.CancellationToken).Energy!;
        Assert.InRange(1000 * log.KilowattHours, energy.LowWattHours, energy.HighWattHours);
        Assert.InRange((energy.HighWattHours - energy.LowWattHours) / (1000 * log.KilowattHours), 0.02, widest);
    }

    private static Func<int, (int, int)[]> Within((int, int)[] clamps) => row => row is >= From and < End ? clamps : StarTotalLog.Right;

    private static (int, int)[] With(params ReadOnlySpan<(int Clamp, (int, int) Place)> changes)
    {
        var clamps = StarTotalLog.Right;
        foreach (var (clamp, place) in changes) clamps[clamp] = place;
        return clamps;
    }

    private static void AssertEdges(GuardSpan span)
    {
        Assert.InRange((span.From - PartLog.Start).TotalMinutes / 10, From - 1, From + 1);
        Assert.InRange((span.To - PartLog.Start).TotalMinutes / 10, End - 1, End + 1);
    }
}
