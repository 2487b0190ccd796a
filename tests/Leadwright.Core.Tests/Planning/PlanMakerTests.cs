using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Panels;
using Leadwright.Core.Planning;

namespace Leadwright.Core.Tests.Planning;

public sealed class PlanMakerTests
{
    // IEC 60038: 230/400 V. Line to line is √3 times line to neutral, a third of a turn apart; A-B-C turns B behind A.
    [Fact]
    public void A_wye_service_shows_its_nominal_voltages_a_third_of_a_turn_apart()
    {
        var sheet = PlanMaker.Of(Wye() with { ExpectedAmperes = 40 });
        Shows(sheet, Channel.V1, 230, 0, 0);
        Shows(sheet, Channel.V2, 230, -120, -120);
        Shows(sheet, Channel.V3, 230, 120, 120);
        Shows(sheet, Channel.V12, 398.37, 30, 30);
    }

    // A four-wire delta of 240 V: 120 V, 208 V (120 √3, NEC 110.15's high leg) and 120 V to neutral; the outer two half a turn apart.
    [Fact]
    public void A_high_leg_service_shows_its_high_leg_a_quarter_turn_off()
    {
        var sheet = PlanMaker.Of(new SurveyPlan { Service = ServiceKind.HighLeg, Nominal = new NominalVoltage(120, 240) });
        Shows(sheet, Channel.V1, 120, 0, 0);
        Shows(sheet, Channel.V2, 207.85, -90, -90);
        Shows(sheet, Channel.V3, 120, 180, 180);
        Shows(sheet, Channel.V12, 240, 60, 60);
    }

    // The simulated panel shares nothing with these closed forms: what it shows with everything right must lie in what is expected.
    [Theory]
    [InlineData(ServiceKind.Wye, 230, 400)]
    [InlineData(ServiceKind.Delta, 277.128, 480)]
    [InlineData(ServiceKind.DeltaTwoClamp, 277.128, 480)]
    [InlineData(ServiceKind.HighLeg, 120, 240)]
    public void A_right_hookup_on_a_simulated_panel_reads_what_the_plan_expects(ServiceKind kind, double lineToNeutral, double lineToLine)
    {
        var nominal = new NominalVoltage(lineToNeutral, lineToLine);
        var service = Service.Of(kind);
        var plan = new SurveyPlan { Service = kind, Nominal = nominal, ExpectedWatts = 30_000, Load = LoadKind.Motors };
        var sheet = PlanMaker.Of(plan);
        var typical = DisplacementRange.Of(LoadKind.Motors).TypicalDegrees;
        var panel = new VirtualPanel(
            kind, new PanelSource { Nominal = nominal, FrequencyHertz = 60 }, PanelLoad.Linear(kind, nominal, 30_000, Math.Cos(typical * Math.PI / 180)));
        var readings = Instrument.Ideal.Read(panel.Solve(), Hookup.Expected(service.Leads, service.Clamps), 1);
        foreach (var expected in sheet.Readings)
        {
            if (!readings.Channels.TryGetValue(expected.Channel, out var shown)) continue;
            // 230 and 400 V are rounded: their ratio is 0.4 % off √3.
            Assert.Equal(expected.Typical!.Value, shown.Rms!.Value, 0.005 * shown.Rms.Value);
            var above = Wrapped(shown.AngleDegrees!.Value - expected.AngleFromDegrees);
            Assert.InRange(above, -0.5, expected.AngleToDegrees - expected.AngleFromDegrees + 0.5);
        }

        foreach (var power in sheet.Powers.Where(power => power.Watts is not null))
            Assert.Equal(power.Watts!.Value, readings.Phases[power.Phase].Watts!.Value, 0.002 * 30_000);
        foreach (var power in sheet.Powers)
            Assert.InRange(readings.Phases[power.Phase].Watts!.Value / readings.Phases[power.Phase].VoltAmperes!.Value, power.LowPowerFactor - 0.01, power.HighPowerFactor + 0.01);
    }

    // P = √3 V I cos φ (textbook): 100 kW at 400 V and the median displacement.
    [Fact]
    public void Current_follows_from_power()
    {
        var cosine = Math.Cos(DisplacementRange.Of(LoadKind.Mixed).TypicalDegrees * Math.PI / 180);
        Assert.Equal(100_000 / (Math.Sqrt(3) * 400 * cosine), PlanMaker.Of(Wye() with { ExpectedWatts = 100_000 }).LineAmperes!.Value, 1e-9);
        Assert.Null(PlanMaker.Of(Wye()).LineAmperes);
    }

    // 1 % of the reading and 0.1 % of 1000 A at 20 A: 1 % + 1 A of 20 A = 6 %. A degree costs 1.745 tan φ percent of the power
    // (docs/methods/wrong-connection-effects.md).
    [Fact]
    public void A_clamp_that_is_far_too_large_is_warned_of_with_its_error()
    {
        var sheet = PlanMaker.Of(Wye() with { ExpectedAmperes = 20, Clamp = new ClampFigures(1000, 1, 0.1, 1) });
        var fit = sheet.Clamp!.Value;
        Assert.Equal(0.02, fit.ShareOfRange, 1e-12);
        Assert.Equal(6, fit.CurrentErrorPercent, 1e-9);
        var range = DisplacementRange.Of(LoadKind.Mixed);
        var tangent = Math.Max(Math.Abs(Math.Tan(range.FromDegrees * Math.PI / 180)), Math.Tan(range.ToDegrees * Math.PI / 180));
        Assert.Equal(6 + (1.745 * tangent), fit.PowerErrorPercent, 1e-3);
        Assert.Contains(PlanWarning.ClampRangeTooLarge, sheet.Warnings);
        Assert.Equal(100, sheet.SuitableRangeAmperes);
    }

    [Fact]
    public void A_peak_above_the_range_is_warned_of_and_a_fitting_range_is_not()
    {
        Assert.Contains(PlanWarning.ClampRangeTooSmall, PlanMaker.Of(Wye() with { ExpectedAmperes = 60, Clamp = new ClampFigures(100, 1, 0.1, 1) }).Warnings);
        Assert.Empty(PlanMaker.Of(Wye() with { ExpectedAmperes = 60, Clamp = new ClampFigures(200, 1, 0.1, 1) }).Warnings);
    }

    // EN 50160: ten minutes, a week (1008 values). NEC 220.87, exception: 30 days.
    [Theory]
    [InlineData(SurveyPurpose.Voltage, 600, 7)]
    [InlineData(SurveyPurpose.SpareCapacity, 60, 30)]
    public void A_purpose_has_its_interval_and_length(SurveyPurpose purpose, double seconds, double days)
    {
        var sheet = PlanMaker.Of(Wye() with { Purposes = [purpose] });
        Assert.Equal((seconds, days), (sheet.IntervalSeconds, sheet.Days));
    }

    [Fact]
    public void Several_purposes_take_the_shortest_interval_and_the_longest_time()
    {
        var sheet = PlanMaker.Of(Wye() with { Purposes = [SurveyPurpose.Voltage, SurveyPurpose.SpareCapacity] });
        Assert.Equal((60, 30), (sheet.IntervalSeconds, sheet.Days));
        var decided = PlanMaker.Of(Wye() with { Purposes = [SurveyPurpose.Voltage], IntervalSeconds = 900, Days = 5 });
        Assert.Equal([PlanWarning.IntervalTooLong, PlanWarning.DurationTooShort], decided.Warnings);
    }

    // 12 quantities × 3 values × 4 bytes = 144 bytes; a week of minutes is 10,080: 1,451,520 bytes.
    [Fact]
    public void Memory_is_quantities_times_values_times_bytes_times_intervals()
    {
        var sheet = PlanMaker.Of(Wye() with { Recorder = new RecorderFigures { MemoryBytes = 1_000_000 } });
        Assert.Equal(10_080, sheet.Memory!.Value.Intervals, 1e-9);
        Assert.Equal(1_451_520, sheet.Memory.Value.Bytes, 1e-6);
        Assert.Equal(1_000_000 / (1.2 * 144 * 1440), sheet.Memory.Value.DaysThatFit!.Value, 1e-9);
        Assert.Contains(PlanWarning.MemoryTooSmall, sheet.Warnings);
    }

    [Fact]
    public void A_battery_must_outlast_the_outage()
    {
        PlanSheet With(double hours) => PlanMaker.Of(Wye() with { Recorder = new RecorderFigures { BatteryHours = hours, OutageHours = 8 } });
        Assert.Contains(PlanWarning.BatteryTooShort, With(2).Warnings);
        Assert.Empty(With(10).Warnings);
    }

    // The mixture of ordinary loads has its weight at 22 degrees with 12 of spread, and lighter parts on both sides (docs/methods/priors.md).
    [Fact]
    public void The_displacement_of_eight_in_ten_sites_lies_where_the_check_believes_it()
    {
        var mixed = DisplacementRange.Of(LoadKind.Mixed);
        Assert.InRange(mixed.TypicalDegrees, 17, 25);
        Assert.InRange(mixed.FromDegrees, -15, 5);
        Assert.InRange(mixed.ToDegrees, 37, 55);
        Assert.True(DisplacementRange.Of(LoadKind.Motors).TypicalDegrees > mixed.TypicalDegrees + 5);
        Assert.True(DisplacementRange.Of(LoadKind.Lighting).TypicalDegrees < mixed.TypicalDegrees - 5);
    }

    [Fact]
    public void Figures_out_of_range_are_refused_with_the_figure()
    {
        void Refuses(string says, SurveyPlan plan) => Assert.Contains(says, Assert.Throws<ArgumentException>(() => PlanMaker.Of(plan)).Message, StringComparison.Ordinal);
        Refuses("The expected power must be above 0; found -3 W.", Wye() with { ExpectedWatts = -3 });
        Refuses("The peak is at least once", Wye() with { PeakFactor = 0.5 });
        Refuses("at least one purpose", Wye() with { Purposes = [] });
        Refuses("The clamps' range must be above 0; found 0 A.", Wye() with { Clamp = new ClampFigures(0, 1, 1, 1) });
    }

    private static SurveyPlan Wye() => new() { Service = ServiceKind.Wye, Nominal = new NominalVoltage(230, 400) };

    private static void Shows(PlanSheet sheet, Channel channel, double rms, double from, double to)
    {
        var reading = sheet.Readings.Single(entry => entry.Channel == channel);
        Assert.Equal(rms, reading.Typical!.Value, 0.01);
        Assert.Equal(0, Wrapped(reading.AngleFromDegrees - from), 0.01);
        Assert.Equal(0, Wrapped(reading.AngleToDegrees - to), 0.01);
    }

    private static double Wrapped(double degrees) => degrees - (360 * Math.Round(degrees / 360));
}
