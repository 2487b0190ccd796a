using System.Globalization;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Panels;

namespace Leadwright.Core.Tests.Panels;

/// <summary>Source of all values: derived for this project, docs/methods/wrong-connection-effects.md.</summary>
public class FourWireEffectsTests
{
    private static readonly string[] s_powerFactors = ["1.00", "0.95", "0.90", "0.85", "0.80", "0.70", "0.50"];

    [Fact]
    public void All_48_arrangements_read_the_ratios_of_the_table_at_every_power_factor()
    {
        var table = Vectors.Read("four-wire.csv").ToDictionary(row => row["hookup"]);
        foreach (var text in s_powerFactors)
        {
            var powerFactor = double.Parse(text, CultureInfo.InvariantCulture);
            var tangent = Math.Tan(Math.Acos(powerFactor));
            foreach (var (name, hookup) in Arrangements())
            {
                var row = table[name];
                var ratio = Ratio(hookup, powerFactor);
                Assert.Equal(row.Number("a") + (row.Number("b") * tangent), ratio, 1e-8);
                Assert.Equal(row.Number("pf" + text), ratio, 0.00051);
            }
        }
    }

    [Fact]
    public void Each_row_of_the_table_stands_for_as_many_arrangements_as_it_says()
    {
        var counted = Arrangements().CountBy(pair => pair.Name).ToDictionary();
        foreach (var row in Vectors.Read("four-wire.csv")) Assert.Equal((int)row.Number("count"), counted[row["hookup"]]);
        Assert.Equal(48, counted.Values.Sum());
    }

    [Fact]
    public void The_48_arrangements_give_only_19_different_ratios_and_48_different_sets_of_angles()
    {
        // At a displacement of 17.3 degrees no two of the closed forms meet by chance.
        var powerFactor = Math.Cos(17.3 * Math.PI / 180);
        var hookups = Arrangements().Select(pair => pair.Hookup).ToList();
        Assert.Equal(19, hookups.Select(hookup => Math.Round(Ratio(hookup, powerFactor), 6) + 0.0).Distinct().Count());

        var solution = Ideal.Balanced(ServiceKind.Wye, powerFactor);
        var angles = hookups.Select(hookup =>
        {
            var readings = Ideal.Read(solution, hookup);
            return string.Join('/', new[] { Channel.I1, Channel.I2, Channel.I3 }.Select(channel =>
                Math.Round(readings.Channels[channel].AngleDegrees!.Value, 3).ToString(CultureInfo.InvariantCulture)));
        });
        Assert.Equal(48, angles.Distinct().Count());
    }

    [Fact]
    public void Without_the_power_factor_the_48_arrangements_fall_into_8_classes_of_6()
    {
        var solution = Ideal.Balanced(ServiceKind.Wye, 0.9);
        var classes = Arrangements().GroupBy(pair =>
        {
            // Angles from each clamp's own lead; what all three have in common could be the load's displacement.
            var powers = Ideal.Read(solution, pair.Hookup).Phases.Values
                .Select(phase => new Phasor(phase.Watts!.Value, phase.Vars!.Value)).ToList();
            return (SixthsBetween(powers[1], powers[0]), SixthsBetween(powers[2], powers[0]));
        }).ToList();
        Assert.Equal(8, classes.Count);
        Assert.All(classes, group => Assert.Equal(6, group.Count()));

        static int SixthsBetween(Phasor one, Phasor other) => (int)Math.Round((one / other).AngleDegrees / 60 + 6) % 6;
    }

    [Fact]
    public void Trap_forward_and_all_reversed_reads_exactly_true_at_power_factor_0866_with_every_channel_positive_and_leading()
    {
        var hookup = Ideal.Expected(ServiceKind.Wye).WithClamps(
            (Clamp.I1, Conductor.B, true), (Clamp.I2, Conductor.C, true), (Clamp.I3, Conductor.A, true));
        var readings = Ideal.Read(Ideal.Balanced(ServiceKind.Wye, Math.Sqrt(3) / 2), hookup);

        Assert.Equal(3000, Ideal.Watts(readings), 1e-6);
        Assert.All(readings.Phases.Values, phase =>
        {
            Assert.Equal(1000, phase.Watts!.Value, 1e-6);
            Assert.Equal(Math.Sqrt(3) / 2, phase.PowerFactor!.Value, 1e-9);
            Assert.True(phase.Vars < 0, "The current must seem to lead.");
        });
    }

    [Theory]
    [InlineData(Conductor.A)]
    [InlineData(Conductor.B)]
    [InlineData(Conductor.C)]
    public void One_clamp_or_one_lead_missing_reads_two_thirds(Conductor line)
    {
        var solution = Ideal.Balanced(ServiceKind.Wye, 0.8);
        var right = Ideal.Expected(ServiceKind.Wye);
        Assert.Equal(2000, Ideal.Watts(Ideal.Read(solution, right.WithClamps(((Clamp)line, null, false)))), 1e-6);
        Assert.Equal(2000, Ideal.Watts(Ideal.Read(solution, right.WithLeads(((Lead)line, null)))), 1e-6);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(20)]
    [InlineData(70)]
    public void A_single_phase_load_referred_to_the_wrong_leg_reads_the_cosine_120_degrees_off(double lagDegrees)
    {
        var load = PanelLoad.SinglePhase(Ideal.Nominal, Conductor.A, 1000, Math.Cos(lagDegrees * Math.PI / 180));
        var solution = new VirtualPanel(ServiceKind.Wye, Ideal.Source(), load).Solve();
        var right = Ideal.Expected(ServiceKind.Wye);
        foreach (var (lead, shift) in new[] { (Conductor.B, -120.0), (Conductor.C, 120.0) })
        {
            var watts = Ideal.Read(solution, right.WithLeads((Lead.V1, lead))).Phases[1].Watts!.Value;
            var expected = Math.Cos((lagDegrees + shift) * Math.PI / 180) / Math.Cos(lagDegrees * Math.PI / 180);
            Assert.Equal(expected, watts / 1000, 1e-9);
            if (lagDegrees == 0) Assert.Equal(-0.5, watts / 1000, 1e-9);
        }
    }

    [Fact]
    public void Clamp_angle_error_costs_the_tabled_percentage_of_power_per_degree()
    {
        foreach (var row in Vectors.Read("clamp-angle.csv"))
        {
            var solution = Ideal.Balanced(ServiceKind.Wye, row.Number("pf"));
            var right = Ideal.Expected(ServiceKind.Wye);
            var (more, less) = (WattsWithClampAngle(0.05), WattsWithClampAngle(-0.05));
            var tolerance = row["percent_per_degree"].Length < 4 ? 0.051 : 0.0051;
            Assert.Equal(row.Number("percent_per_degree"), 100 * (more - less) / 0.1 / 3000, tolerance);

            double WattsWithClampAngle(double degrees)
            {
                var error = new ChannelError(0, degrees);
                var instrument = Instrument.Ideal with
                {
                    ClampErrors = Instrument.Ideal.ClampErrors
                        .Add(Clamp.I1, error).Add(Clamp.I2, error).Add(Clamp.I3, error),
                };
                return Ideal.Watts(instrument.Read(solution, right, 1));
            }
        }
    }

    /// <summary>Every arrangement with the name of its row in the table.</summary>
    private static IEnumerable<(string Name, Hookup Hookup)> Arrangements()
    {
        foreach (var order in Ideal.Orders)
        {
            for (var mask = 0; mask < 8; mask++)
            {
                bool[] reversed = [(mask & 1) != 0, (mask & 2) != 0, (mask & 4) != 0];
                var hookup = Ideal.Expected(ServiceKind.Wye).WithClamps(
                    (Clamp.I1, (Conductor)order[0], reversed[0]), (Clamp.I2, (Conductor)order[1], reversed[1]),
                    (Clamp.I3, (Conductor)order[2], reversed[2]));
                yield return (NameOf(order, reversed), hookup);
            }
        }
    }

    private static string NameOf(int[] order, bool[] reversed)
    {
        var count = reversed.Count(value => value);
        var kept = Enumerable.Range(0, 3).Where(clamp => order[clamp] == clamp).ToList();
        string[] amount = ["", "one-reversed", "two-reversed", "all-reversed"];
        if (kept.Count == 3) return count == 0 ? "right" : amount[count];
        if (kept.Count == 0)
        {
            var direction = order[0] == 1 ? "forward" : "back";
            return count == 0 ? direction : $"{direction}-{amount[count]}";
        }

        var other = kept[0];
        var (earlier, later) = ((other + 1) % 3, (other + 2) % 3);
        return (reversed[earlier], reversed[later], reversed[other]) switch
        {
            (false, false, false) => "exchanged",
            (true, true, true) => "exchanged-all-reversed",
            (true, true, false) => "exchanged-both-reversed",
            (false, false, true) => "exchanged-other-reversed",
            (true, false, false) => "exchanged-earlier-reversed",
            (false, true, false) => "exchanged-later-reversed",
            (true, false, true) => "exchanged-earlier-and-other-reversed",
            (false, true, true) => "exchanged-later-and-other-reversed",
        };
    }

    private static double Ratio(Hookup hookup, double powerFactor) =>
        Ideal.Watts(Ideal.Read(Ideal.Balanced(ServiceKind.Wye, powerFactor), hookup)) / 3000;
}
