using System.Globalization;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Panels;

namespace Leadwright.Core.Tests.Panels;

/// <summary>Source of the values: derived for this project, docs/methods/wrong-connection-effects.md; the two wattmeters: see
/// tests/vectors/wrong-connections/README.md.</summary>
public class TwoElementEffectsTests
{
    private const ServiceKind Kind = ServiceKind.DeltaTwoClamp;
    private static readonly string[] s_powerFactors = ["1.000", "0.950", "0.900", "0.866", "0.800", "0.700", "0.500"];

    private static readonly Dictionary<string, Hookup> s_hookups = new()
    {
        ["right"] = Make("ABC", "A", "C"),
        ["clamp-1-reversed"] = Make("ABC", "-A", "C"),
        ["clamp-3-reversed"] = Make("ABC", "A", "-C"),
        ["clamps-exchanged"] = Make("ABC", "C", "A"),
        ["clamps-exchanged-1-reversed"] = Make("ABC", "-C", "A"),
        ["clamps-exchanged-3-reversed"] = Make("ABC", "C", "-A"),
        ["leads-2-3-exchanged-clamp-3-reversed"] = Make("ACB", "A", "-C"),
        ["leads-1-2-exchanged-clamp-1-reversed"] = Make("BAC", "-A", "C"),
        ["leads-rotated-forward"] = Make("BCA", "A", "C"),
        ["leads-rotated-back"] = Make("CAB", "A", "C"),
        ["leads-1-2-exchanged-clamps-exchanged-both-reversed"] = Make("BAC", "-C", "-A"),
        ["lead-2-lost-equal-inputs"] = Make("A?C", "A", "C"),
    };

    [Fact]
    public void Wrong_hook_ups_read_the_ratios_of_the_table_at_every_power_factor()
    {
        foreach (var row in Vectors.Read("two-element.csv"))
        {
            foreach (var text in s_powerFactors)
            {
                var powerFactor = text == "0.866" ? Math.Sqrt(3) / 2 : double.Parse(text, CultureInfo.InvariantCulture);
                var expected = row.Number("a") + (row.Number("b") * Math.Tan(Math.Acos(powerFactor)));
                var solution = Ideal.Balanced(Kind, powerFactor);
                var ratio = row["hookup"] switch
                {
                    "element-1-lost" => Ideal.Read(solution, s_hookups["right"]).Phases[3].Watts!.Value / 3000,
                    "element-3-lost" => Ideal.Read(solution, s_hookups["right"]).Phases[1].Watts!.Value / 3000,
                    var name => Ideal.Watts(Ideal.Read(solution, s_hookups[name])) / 3000,
                };
                Assert.Equal(expected, ratio, 1e-8);
                Assert.Equal(row.Number("pf" + text), ratio, 0.00051);
            }
        }
    }

    [Fact]
    public void Of_the_48_arrangements_on_lines_A_and_C_twelve_read_zero()
    {
        var solution = Ideal.Balanced(Kind, Math.Cos(17.3 * Math.PI / 180));
        var arrangements = Arrangements(anyTwo: false).ToList();
        Assert.Equal(48, arrangements.Count);
        Assert.Equal(12, arrangements.Count(hookup => Math.Abs(Ideal.Watts(Ideal.Read(solution, hookup))) < 1e-6));
    }

    [Fact]
    public void The_144_arrangements_on_any_two_lines_give_48_different_readings_three_of_each()
    {
        var solution = Ideal.Balanced(Kind, Math.Cos(17.3 * Math.PI / 180));
        var groups = Arrangements(anyTwo: true)
            .GroupBy(hookup =>
            {
                var readings = Ideal.Read(solution, hookup);
                return string.Join('/', readings.Channels.Values.Select(channel =>
                    $"{Math.Round(channel.Rms!.Value, 3)}@{Math.Round(Angle.WrapDegrees(channel.AngleDegrees!.Value + 1e-6), 3)}"));
            })
            .ToList();
        Assert.Equal(144, groups.Sum(group => group.Count()));
        Assert.Equal(48, groups.Count);
        Assert.All(groups, group => Assert.Equal(3, group.Count()));
    }

    [Fact]
    public void Two_wattmeters_read_the_worked_examples()
    {
        foreach (var row in Vectors.Read("two-wattmeters.csv"))
        {
            var (watts, vars) = (row.Number("P_W"), row.Number("Q_var"));
            var hasVolts = row["V_line"].Length > 0;
            var lineVolts = hasVolts ? row.Number("V_line") : 1000;
            var nominal = new NominalVoltage(lineVolts / Math.Sqrt(3), lineVolts);
            var load = PanelLoad.Balanced("Load", Kind, nominal, watts, vars);
            var readings = Ideal.Read(new VirtualPanel(Kind, Ideal.Source(nominal), load).Solve(), Ideal.Expected(Kind));

            // Half a unit of the last printed digit, for P and Q enter with three decimals.
            Assert.Equal(row.Number("W_higher"), readings.Phases[3].Watts!.Value, 0.0011);
            Assert.Equal(row.Number("W_lower"), readings.Phases[1].Watts!.Value, 0.0011);
            if (hasVolts) Assert.Equal(row.Number("I_line_A"), readings.Channels[Channel.I1].Rms!.Value, 1e-5);
            var apparent = Math.Sqrt((watts * watts) + (vars * vars));
            Assert.Equal(row.Number("pf_lagging"), watts / apparent, 1e-6);
        }
    }

    [Fact]
    public void Two_wattmeters_read_the_true_power_of_an_unbalanced_three_wire_load()
    {
        // Derived example: 480 V lines, 30 A at -20, 45 A at -160 degrees from phase A to star point; sum 21568.867 W.
        // Load branches chosen so that these are the line currents: I_AB = 0, I_BC and I_CA carry them.
        var nominal = new NominalVoltage(480 / Math.Sqrt(3), 480);
        var (a, b) = (Phasor.FromDegrees(30, -20), Phasor.FromDegrees(45, -160));
        var volts = nominal.LineToNeutralVolts;
        var bc = Phasor.FromDegrees(volts, -120) - Phasor.FromDegrees(volts, 120);
        var ac = Phasor.FromDegrees(volts, 0) - Phasor.FromDegrees(volts, 120);
        var (powerBc, powerAc) = (bc * b.Conjugate, ac * a.Conjugate);
        var panel = new VirtualPanel(
            Kind,
            Ideal.Source(nominal),
            PanelLoad.Between("B to C", nominal, Conductor.B, Conductor.C, powerBc.Real, powerBc.Imaginary),
            PanelLoad.Between("A to C", nominal, Conductor.A, Conductor.C, powerAc.Real, powerAc.Imaginary));
        var readings = Ideal.Read(panel.Solve(), Ideal.Expected(Kind).WithClamps((Clamp.I3, Conductor.B, false)).WithLeads(
            (Lead.V2, Conductor.C), (Lead.V3, Conductor.B)));

        // Elements AC,A and BC,B: with C as the common line the sum is the same.
        Assert.Equal(21568.867, Ideal.Watts(readings), 0.001);
        var usual = Ideal.Read(panel.Solve(), Ideal.Expected(Kind));
        Assert.Equal(9256.142, usual.Phases[1].Watts!.Value, 0.001);
        Assert.Equal(12312.725, usual.Phases[3].Watts!.Value, 0.001);
    }

    [Fact]
    public void A_reversed_clamp_of_two_makes_the_derived_third_current_root_three_times_too_large()
    {
        var readings = Ideal.Read(Ideal.Balanced(Kind, 0.8), s_hookups["clamp-3-reversed"]);
        var derived = -(Ideal.Of(readings, Channel.I1) + Ideal.Of(readings, Channel.I3));
        Assert.Equal(Math.Sqrt(3), derived.Magnitude / readings.Channels[Channel.I1].Rms!.Value, 1e-9);
    }

    private static IEnumerable<Hookup> Arrangements(bool anyTwo)
    {
        string[] lines = ["A", "B", "C"];
        foreach (var leads in Ideal.Orders)
        {
            var places = string.Concat(leads.Select(line => lines[line]));
            foreach (var one in lines)
            {
                foreach (var other in lines)
                {
                    if (one == other || (!anyTwo && (one == "B" || other == "B"))) continue;
                    foreach (var first in new[] { one, "-" + one })
                        foreach (var third in new[] { other, "-" + other })
                            yield return Make(places, first, third);
                }
            }
        }
    }

    private static Hookup Make(string leads, string first, string third)
    {
        Conductor? Line(char letter) => letter == '?' ? null : Enum.Parse<Conductor>(letter.ToString());
        return Ideal.Expected(Kind)
            .WithLeads((Lead.V1, Line(leads[0])), (Lead.V2, Line(leads[1])), (Lead.V3, Line(leads[2])))
            .WithClamps((Clamp.I1, Line(first[^1]), first[0] == '-'), (Clamp.I3, Line(third[^1]), third[0] == '-'));
    }
}
