using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Panels;

namespace Leadwright.Core.Tests.Panels;

/// <summary>A balanced three-phase load on a 240/120 V four-wire delta, read by three elements. Source of all values: derived for this
/// project, docs/methods/services.md, "High leg": voltages from the middle of one side of an equilateral triangle.</summary>
public class HighLegEffectsTests
{
    private static readonly NominalVoltage s_nominal = new(120, 240);

    [Theory]
    [InlineData(Conductor.A)]
    [InlineData(Conductor.B)]
    [InlineData(Conductor.C)]
    public void Two_lines_stand_at_120_V_and_the_high_leg_at_208_V_90_degrees_from_both(Conductor highLeg)
    {
        var solution = Panel(1, Rotation.Abc, highLeg);
        var high = (int)highLeg;
        var (before, after) = ((Conductor)((high + 2) % 3), (Conductor)((high + 1) % 3));
        var leg = solution.Potential(before);
        Assert.Equal(120, leg.Magnitude, 1e-6);
        Assert.Equal(180, Math.Abs((solution.Potential(after) / leg).AngleDegrees), 1e-6);
        Assert.Equal(120, solution.Potential(after).Magnitude, 1e-6);
        Assert.Equal(120 * Math.Sqrt(3), solution.Potential(highLeg).Magnitude, 1e-6);
        Assert.Equal(-90, (solution.Potential(highLeg) / leg).AngleDegrees, 1e-6);
        foreach (var line in new[] { Conductor.A, Conductor.B, Conductor.C })
        {
            var next = (Conductor)(((int)line + 1) % 3);
            Assert.Equal(240, (solution.Potential(line) - solution.Potential(next)).Magnitude, 1e-6);
        }
    }

    // The published form of the table is for the order A-C-B: A leads.
    [Theory]
    [InlineData(1.0, 0.25, 0.50, 0.25, 30, 0, -30)]
    [InlineData(0.866025403784438647, 0.16666667, 0.5, 0.33333333, 60, 30, 0)]
    public void Elements_share_the_power_as_derived(double powerFactor, double a, double b, double c, double atA, double atB, double atC)
    {
        var readings = Ideal.Read(Panel(powerFactor, Rotation.Acb), Ideal.Expected(ServiceKind.HighLeg));
        var total = Ideal.Watts(readings);
        Assert.Equal(3000, total, 1e-6);
        double[] shares = [a, b, c];
        double[] angles = [atA, atB, atC];
        for (var phase = 0; phase < 3; phase++)
        {
            Assert.Equal(shares[phase], readings.Phases[phase + 1].Watts!.Value / total, 1e-6);
            var lag = Ideal.Of(readings, Channel.V1 + phase).AngleDegrees - Ideal.Of(readings, Channel.I1 + phase).AngleDegrees;

            // In the table the element whose current lags further takes less: for A-C-B, C has the place of A.
            Assert.Equal(phase switch { 0 => angles[0], 1 => angles[1], _ => angles[2] }, Math.IEEERemainder(lag, 360), 1e-6);
        }
    }

    [Theory]
    [InlineData(1.0, Clamp.I2, 0)]
    [InlineData(1.0, Clamp.I1, 0.5)]
    [InlineData(1.0, Clamp.I3, 0.5)]
    [InlineData(0.866025403784438647, Clamp.I2, 0)]
    [InlineData(0.866025403784438647, Clamp.I1, 0.66666667)]
    [InlineData(0.866025403784438647, Clamp.I3, 0.33333333)]
    public void A_reversed_clamp_gives_the_ratio_derived(double powerFactor, Clamp reversed, double ratio)
    {
        var hookup = Ideal.Expected(ServiceKind.HighLeg).WithClamps((reversed, Service.HomeOf(reversed), true));
        Assert.Equal(ratio, Ideal.Watts(Ideal.Read(Panel(powerFactor, Rotation.Acb), hookup)) / 3000, 1e-6);
    }

    [Theory]
    [InlineData(Clamp.I1, Clamp.I2)]
    [InlineData(Clamp.I2, Clamp.I3)]
    [InlineData(Clamp.I1, Clamp.I3)]
    public void Any_two_clamps_exchanged_read_nothing_in_all(Clamp one, Clamp other)
    {
        foreach (var powerFactor in new[] { 1.0, 0.8, 0.5 })
        {
            var hookup = Ideal.Expected(ServiceKind.HighLeg)
                .WithClamps((one, Service.HomeOf(other), false), (other, Service.HomeOf(one), false));
            Assert.Equal(0, Ideal.Watts(Ideal.Read(Panel(powerFactor, Rotation.Abc), hookup)), 1e-6);
        }
    }

    private static PanelSolution Panel(double powerFactor, Rotation rotation, Conductor highLeg = Conductor.B) => new VirtualPanel(
        ServiceKind.HighLeg,
        new PanelSource { Nominal = s_nominal, FrequencyHertz = 60, Rotation = rotation, HighLeg = highLeg },
        PanelLoad.Linear(ServiceKind.HighLeg, s_nominal, 3000, powerFactor)).Solve();
}
