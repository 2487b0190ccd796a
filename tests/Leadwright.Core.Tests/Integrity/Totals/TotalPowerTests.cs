using Leadwright.Core.Circuits;
using Leadwright.Core.Integrity.Totals;
using Leadwright.Core.Logs;
using Leadwright.Core.Tests.Integrity.Parts;

namespace Leadwright.Core.Tests.Integrity.Totals;

/// <summary>Balanced lines: what a wrong connection makes of the total.</summary>
public sealed class TotalPowerTests
{
    // Two elements, power factor 0.866: measured over true kilowatts, from the two-wattmeter formulas W1 = V12 I1 cos(φ + 30°), W2 = V32 I3 cos(φ − 30°) (textbook, from memory): a clamp turned reads
    // ∓0.577 tan φ = ∓1/3, clamps exchanged nothing, leads rotated −1/2 ± 0.866 tan φ: 0 with lead 1 on B (−90° + 30° and −150° + 30° to their lines' currents, cos 60° − cos 60°), −1 with it on C.
    [Theory]
    [InlineData(new[] { 0, 1, 2, 3 }, 0, 1, 2, 1, 1.0)]
    [InlineData(new[] { 0, 1, 2, 3 }, 0, -1, 2, 1, 1 / 3.0)]
    [InlineData(new[] { 0, 1, 2, 3 }, 0, 1, 2, -1, -1 / 3.0)]
    [InlineData(new[] { 0, 1, 2, 3 }, 0, -1, 2, -1, -1.0)]
    [InlineData(new[] { 0, 1, 2, 3 }, 2, 1, 0, 1, 0.0)]
    [InlineData(new[] { 1, 0, 2, 3 }, 0, 1, 2, 1, 0.0)]
    [InlineData(new[] { 1, 2, 0, 3 }, 0, 1, 2, 1, 0.0)]
    [InlineData(new[] { 2, 0, 1, 3 }, 0, 1, 2, 1, -1.0)]
    public void Two_elements_read_what_the_two_wattmeter_formulas_give(int[] leads, int firstOn, int firstSign, int thirdOn, int thirdSign, double ratio) =>
        Assert.Equal(ratio, Ratio(ServiceKind.DeltaTwoClamp, new TotalHookup(leads, [(firstOn, firstSign), (1, 1), (thirdOn, thirdSign)], 0), 30), 6);

    // Three elements: one clamp of three turned reads a third (Southeastern Meter School, 16 March 2022, instrument transformers: "1 of 3 reversed, bill 1/3"); two exchanged nothing; each moved on by one
    // −1/2 ∓ 0.866 tan φ, at φ = 30° −1 and 0 (closed form, derived).
    [Theory]
    [InlineData(0, -1, 1, 2, 1 / 3.0)]
    [InlineData(1, 1, 0, 2, 0.0)]
    [InlineData(1, 1, 2, 0, -1.0)]
    [InlineData(2, 1, 0, 1, 0.0)]
    public void Three_elements_read_a_third_nothing_or_less(int firstOn, int firstSign, int secondOn, int thirdOn, double ratio)
    {
        var hookup = new TotalHookup([0, 1, 2, 3], [(firstOn, firstSign), (secondOn, 1), (thirdOn, 1)], 0);
        Assert.Equal(ratio, Ratio(ServiceKind.Wye, hookup, 30), 6);
        Assert.Equal(ratio, Ratio(ServiceKind.Delta, hookup, 30), 6);
    }

    [Fact]
    public void A_right_total_is_its_volt_amperes_at_the_loads_angle()
    {
        var frame = new TotalLog(true) { Degrees = _ => 40, Amperes = _ => 25 }.Part().ToFrame();
        var power = TotalPower.Of(frame, PartLog.Sound(frame))!;
        Assert.All(power.Values, value =>
        {
            Assert.Equal(1, value!.Value.Magnitude, 0.03);
            Assert.Equal(40, value.Value.AngleDegrees, 2.0);
        });
    }

    [Fact]
    public void Where_each_phase_has_its_power_the_total_is_not_asked()
    {
        var frame = Balanced(ServiceKind.Wye).Watts(0, PartLog.Steady(4, 1000)).Watts(1, PartLog.Steady(4, 1000)).Watts(2, PartLog.Steady(4, 1000)).ToFrame();
        Assert.Null(TotalPower.Of(frame, PartLog.Sound(frame)));
    }

    /// <summary>Measured over true watts of a balanced load that lags by some degrees.</summary>
    private static double Ratio(ServiceKind service, TotalHookup hookup, double degrees)
    {
        var frame = Balanced(service).ToFrame();
        var factor = TotalPower.Of(frame, PartLog.Sound(frame))!.Factor(hookup, 0);
        return (Phasor.FromDegrees(1, degrees) * factor).Real / Math.Cos(degrees * Math.PI / 180);
    }

    private static PartLog Balanced(ServiceKind service)
    {
        var log = new PartLog(service) { Nominal = new NominalVoltage(230, 400) };
        for (var line = 0; line < 3; line++)
        {
            log = service == ServiceKind.Wye ? log.Volts(line, PartLog.Steady(4, 230)) : log.Pair(line, PartLog.Steady(4, 400));
            if (service != ServiceKind.DeltaTwoClamp || line != 1) log = log.Amperes(line, PartLog.Steady(4, 10));
        }

        return log.With(LogQuantity.ActivePower, LogPlace.Whole, PartLog.Steady(4, 6000));
    }
}
