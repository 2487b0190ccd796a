using Leadwright.Core.Measuring;
using Leadwright.Core.Signals.Events;

namespace Leadwright.Core.Tests.Measuring;

/// <summary>Events by IEC 61000-4-30 clauses 5.4, 5.5 and 5.11: residual within 0.2 % of nominal, duration within half a cycle at each end
/// (tests/vectors/class-a, from memory).</summary>
public sealed class VoltageEventTests
{
    private const double Rate = 10240;

    public static TheoryData<double, double, double> Dips() => new()
    {
        // residual fraction, cycles, frequency
        { 0.85, 1, 50 }, { 0.7, 2, 50 }, { 0.4, 5, 49.7 }, { 0.7, 25, 50.4 }, { 0.1, 10, 50 }, { 0.5, 100, 50 }, { 0.7, 30, 60 },
    };

    [Theory]
    [MemberData(nameof(Dips))]
    public void A_dip_on_one_phase_has_its_residual_and_duration(double residual, double cycles, double hertz)
    {
        var nominal = hertz < 55 ? 50 : 60;
        var from = Math.Round(3 * hertz) / hertz;
        var to = from + (cycles / hertz);
        var wave = new PanelWave(Rate).With(0, hertz, 230, -90).With(1, hertz, 230, -210)
            .With(2, hertz, 230, 30, time => time >= from && time < to ? residual : 1);
        var sink = PanelWave.Measure(PanelWave.Plan(Rate, nominal, MeasuringInterval.Cycles) with { Lanes = 7 }, wave.Frames(to + 3));

        var dip = Assert.Single(sink.Events, found => found.Event.Kind == VoltageEventKind.Dip);
        Assert.Equal(0b100, dip.Event.Lanes);
        // A whole cycle between two zero crossings lies within the dip when it lasts a cycle and a half.
        if (cycles >= 2) Assert.Equal(residual, dip.Event.ExtremeFraction, 0.002);
        Assert.InRange(dip.Seconds, (cycles - 1) / hertz, (cycles + 1) / hertz);
        Assert.InRange(dip.StartSeconds, from - (1 / hertz), from + (0.5 / hertz));
        Assert.DoesNotContain(sink.Events, found => found.Event.Kind is VoltageEventKind.Interruption or VoltageEventKind.Swell or VoltageEventKind.Transient);
        Assert.All(sink.Rows, row => Assert.Equal(row.EndSeconds > dip.StartSeconds && row.StartSeconds < dip.StartSeconds + dip.Seconds, row.Flags.HasFlag(ValueMarks.Dip)));
        Assert.Single(sink.Waveforms);
    }

    [Fact]
    public void A_swell_has_its_highest_value()
    {
        var wave = new PanelWave(Rate).WithThree(0, 50, 230, 0, time => time is > 3 and < 3.4 ? 1.2 : 1);
        var swell = Assert.Single(PanelWave.Measure(PanelWave.Plan(Rate, 50, MeasuringInterval.Cycles), wave.Frames(6)).Events);
        Assert.Equal(VoltageEventKind.Swell, swell.Event.Kind);
        Assert.Equal(0b111, swell.Event.Lanes);
        Assert.Equal(1.2, swell.Event.ExtremeFraction, 0.002);
        Assert.InRange(swell.Seconds, 0.38, 0.42);
    }

    [Fact]
    public void An_interruption_needs_all_phases()
    {
        var all = new PanelWave(Rate).WithThree(0, 50, 230, 0, time => time is > 3 and < 4.5 ? 0.01 : 1);
        var sink = PanelWave.Measure(PanelWave.Plan(Rate, 50, MeasuringInterval.Cycles), all.Frames(7));
        var interruption = Assert.Single(sink.Events);
        Assert.Equal(VoltageEventKind.Interruption, interruption.Event.Kind);
        Assert.InRange(interruption.Seconds, 1.47, 1.53);
        Assert.Equal(0.01, interruption.Event.ExtremeFraction, 0.002);
        Assert.Contains(sink.Rows, row => row.Flags.HasFlag(ValueMarks.Interruption) && row.Flags.HasFlag(ValueMarks.FrequencyHeld));

        var one = new PanelWave(Rate).With(0, 50, 230, 0, time => time is > 3 and < 4.5 ? 0.01 : 1).With(1, 50, 230, -120).With(2, 50, 230, 120);
        var dip = Assert.Single(PanelWave.Measure(PanelWave.Plan(Rate, 50, MeasuringInterval.Cycles), one.Frames(7)).Events);
        Assert.Equal(VoltageEventKind.Dip, dip.Event.Kind);
    }

    [Fact]
    public void Dips_of_phases_that_overlap_are_one()
    {
        var wave = new PanelWave(Rate).With(0, 50, 230, 0, time => time is > 3 and < 3.2 ? 0.6 : 1)
            .With(1, 50, 230, -120, time => time is > 3.1 and < 3.5 ? 0.7 : 1).With(2, 50, 230, 120);
        var dip = Assert.Single(PanelWave.Measure(PanelWave.Plan(Rate, 50, MeasuringInterval.Cycles), wave.Frames(6)).Events);
        Assert.Equal(0b011, dip.Event.Lanes);
        Assert.InRange(dip.Seconds, 0.48, 0.52);
        Assert.Equal(0.6, dip.Event.ExtremeFraction, 0.002);
    }

    [Fact]
    public void Hysteresis_keeps_a_voltage_at_the_threshold_from_chattering()
    {
        var wave = new PanelWave(Rate).WithThree(0, 50, 230, 0, time => time > 3 ? 0.9 + (0.01 * Math.Sin(2 * Math.PI * 2 * (time - 3))) : 1);
        var dip = Assert.Single(PanelWave.Measure(PanelWave.Plan(Rate, 50, MeasuringInterval.Cycles), wave.Frames(8)).Events, found => found.Event.Kind == VoltageEventKind.Dip);
        Assert.True(dip.Event.IsCutShort);
    }

    [Fact]
    public void A_step_within_bounds_is_a_rapid_voltage_change()
    {
        var wave = new PanelWave(Rate).WithThree(0, 50, 230, 0, time => time > 4 ? 0.94 : 1);
        var found = PanelWave.Measure(PanelWave.Plan(Rate, 50, MeasuringInterval.Cycles), wave.Frames(8)).Events;
        Assert.Equal(3, found.Count);
        Assert.All(found, change =>
        {
            Assert.Equal(VoltageEventKind.RapidChange, change.Event.Kind);
            Assert.Equal(0.06, change.Event.ExtremeFraction, 0.002);
            Assert.Equal(0.06, change.Event.SteadyFraction, 0.002);
            Assert.InRange(change.StartSeconds, 3.97, 4.02);
        });
    }

    [Fact]
    public void An_impulse_is_one_transient_and_no_echo()
    {
        var frames = new PanelWave(Rate).WithThree(0, 50, 230, 0).Frames(6);
        for (var index = 0; index < 6; index++) frames[((31000 + index) * 8) + 1] += 150 - (20 * index);
        var transient = Assert.Single(PanelWave.Measure(PanelWave.Plan(Rate, 50, MeasuringInterval.Cycles), frames).Events);
        Assert.Equal(VoltageEventKind.Transient, transient.Event.Kind);
        Assert.Equal(0b010, transient.Event.Lanes);
        Assert.Equal(31000 / Rate, transient.StartSeconds, 1e-4);
        Assert.Equal(150 / (230 * Math.Sqrt(2)), transient.Event.ExtremeFraction, 0.01);
    }
}
