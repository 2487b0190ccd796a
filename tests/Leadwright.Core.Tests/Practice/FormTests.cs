using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Hookups.Settling;
using Leadwright.Core.Panels;
using Leadwright.Core.Practice;
using Leadwright.Core.Practice.Forms;

namespace Leadwright.Core.Tests.Practice;

/// <summary>Each form against a value of docs/methods/wrong-connection-effects.md (derived closed forms; its tables are in
/// tests/vectors/wrong-connections).</summary>
public sealed class FormTests
{
    private static readonly double s_root3 = Math.Sqrt(3);

    // One clamp of three reversed reads a third of the true power of a balanced load: the row "one clamp reversed", 1/3.
    [Fact]
    public void Name_the_fault_shows_what_the_fault_reads()
    {
        var nominal = new NominalVoltage(230, 400);
        var panel = new VirtualPanel(
            ServiceKind.Wye, new PanelSource { Nominal = nominal, FrequencyHertz = 50 }, PanelLoad.Linear(ServiceKind.Wye, nominal, 9000, 0.8));
        var hookup = TwinSites.Right with { Clamps = TwinSites.Right.Clamps.SetItem(Clamp.I2, new ClampPlace(Conductor.B, true, 1)) };
        var site = new PracticeSite(panel, Instrument.Ideal, hookup, 1);
        Assert.Equal(1.0 / 3, site.Readings.Phases.Values.Sum(power => power.Watts!.Value) / panel.Solve().Watts, 1e-9);
    }

    // The hexagon: one reading fits six hook-ups with displacements 60 degrees apart (derived).
    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    public void What_next_offers_two_answers_that_read_the_same_sixty_degrees_apart(int level)
    {
        foreach (var seed in Seeds(12))
        {
            var exercise = Make(PracticeForm.WhatNext, level, seed);
            double[] amperes = [.. exercise.Readings!.Channels.Where(entry => entry.Key >= Channel.I1).Select(entry => entry.Value.Rms!.Value)];
            var read = Lag(exercise.Readings, Channel.V1, Channel.I1);
            var other = exercise.Candidates[1];
            var sites = exercise.Candidates.Select(hookup => TwinSites.Of(hookup, read, amperes, 100, 1)).ToList();
            Assert.Equal(sites[0].Readings.Channels, sites[1].Readings.Channels);
            var solutions = sites.Select(site => site.Panel.Solve()).ToList();
            var lags = solutions.Select(solution => Wrapped(
                solution.Potential(Conductor.A).AngleDegrees - solution.Current(Conductor.A).AngleDegrees)).ToList();
            Assert.Equal(60, Math.Abs(lags[0] - lags[1]), 1e-6);
            Assert.Equal(3, other.Clamps.Values.Count(place => place.Reversed));
        }
    }

    [Fact]
    public void What_next_accepts_what_comes_out_differently_and_nothing_else()
    {
        foreach (var seed in Seeds(20))
        {
            var balanced = Make(PracticeForm.WhatNext, 1, seed).RightChoices;
            Assert.Contains("switched:A", balanced);
            Assert.DoesNotContain("rotation", balanced);
            Assert.DoesNotContain("meter:V1-V2", balanced);
            Assert.DoesNotContain("hand-clamp:A", balanced);
            Assert.Contains("hand-clamp:A", Make(PracticeForm.WhatNext, 2, seed).RightChoices);

            // A motor of power factor 0.75 lags by 41 degrees: moved back and turned it reads cos(41° + 60°), below nothing.
            var isBack = Make(PracticeForm.WhatNext, 1, seed).Candidates[1] == TwinSites.BackTurned;
            Assert.Equal(isBack, balanced.Contains("motor"));
        }
    }

    // The rows "leads 2 and 3 exchanged, clamp 3 reversed" and "leads 1 and 2 exchanged, clamp 1 reversed": 1 ± tan φ / √3, which is 1 at φ = 0.
    [Fact]
    public void The_heater_test_passes_and_the_motor_shows_it()
    {
        var seen = new HashSet<string>();
        foreach (var seed in Seeds(12))
        {
            var exercise = Make(PracticeForm.HeaterTest, 1, seed);
            var choice = Assert.Single(exercise.RightChoices);
            seen.Add(choice);
            var (heaters, motor) = (Figure(exercise, "heater-watts"), Figure(exercise, "motor-watts"));
            Assert.Equal(1, Total(exercise.Readings!) / heaters, 2e-3);
            var tangent = motor * 0.75 / (heaters + motor);
            var sign = choice == HeaterTestForm.ReadsMore ? 1 : choice == HeaterTestForm.ReadsLess ? -1 : 0;
            var after = exercise.Take(new SettlingAction(SettlingKind.Motor)).After!;
            Assert.Equal(1 + (sign * tangent / s_root3), Total(after) / (heaters + motor), 3e-3);
        }

        Assert.Equal(3, seen.Count);
    }

    // The trap: forward with all clamps reversed reads 1/2 + (√3/2) tan φ, exactly 1 at 30 degrees lagging, and shows 0.866 leading.
    [Fact]
    public void The_plausible_total_is_the_true_total_at_a_leading_power_factor()
    {
        var seen = new HashSet<string>();
        foreach (var seed in Seeds(12))
        {
            var exercise = Make(PracticeForm.PlausibleTotal, 1, seed);
            seen.Add(Assert.Single(exercise.RightChoices));
            var solution = exercise.Site!.Panel.Solve();
            var ideal = Instrument.Ideal.Read(solution, exercise.Truth!, 1);
            Assert.Equal(1, Total(ideal) / solution.Watts, 1e-9);
            Assert.Equal(Figure(exercise, "supplier-watts"), solution.Watts, 5.001);
            Assert.All(ideal.Phases.Values, power => Assert.Equal(Math.Cos(Math.PI / 6), Math.Abs(power.PowerFactor!.Value), 1e-9));
            Assert.Equal(-30, Lag(ideal, Channel.V1, Channel.I1), 1e-6);
        }

        Assert.Equal(2, seen.Count);
    }

    // The table "Voltages": lead off 0, 1, 1 and between lines 1, √3, 1; a primary line of a delta-wye lost 0.5, 1, 0.5 and 1.5, 1.5, 0.
    [Fact]
    public void Lead_or_supply_shows_the_voltages_of_its_event_and_whether_the_currents_noticed()
    {
        var seen = new HashSet<string>();
        foreach (var seed in Seeds(40))
        {
            var exercise = Make(PracticeForm.LeadOrSupply, 2, seed);
            var choice = Assert.Single(exercise.RightChoices);
            seen.Add(choice);
            var unit = exercise.Nominal.LineToNeutralVolts;
            double[] Last(params Channel[] channels) => [.. channels.Select(channel => exercise.Strip!.Values[channel][^1]).Order()];
            var (lines, pairs) = (Last(Channel.V1, Channel.V2, Channel.V3), Last(Channel.V12, Channel.V23, Channel.V31));
            double[] ratios = [.. new[] { Channel.I1, Channel.I2, Channel.I3 }
                .Select(channel => exercise.Strip!.Values[channel][^1] / exercise.Strip.Values[channel][0]).Order()];
            switch (choice)
            {
                case LeadOrSupplyForm.LeadOff:
                    Near([0, 1, 1], lines, unit, 0.065);
                    Near([1, 1, 1], ratios, 1, 0.01);
                    break;
                case LeadOrSupplyForm.LegLost:
                    Near([0, 1, 1], lines, unit, 0.005);
                    Near([1, 1, s_root3], pairs, unit, 0.005);
                    Near([0, 1, 1], ratios, 1, 0.01);
                    break;
                case LeadOrSupplyForm.PrimaryLost:
                    Near([0.5, 0.5, 1], lines, unit, 0.005);
                    Near([0, 1.5, 1.5], pairs, unit, 0.005);
                    Near([0.5, 0.5, 1], ratios, 1, 0.01);
                    break;
                case LeadOrSupplyForm.ClampOff:
                    Near([1, 1, 1], lines, unit, 0.005);
                    Near([0, 1, 1], ratios, 1, 0.02);
                    break;
                default:
                    Near([s_root3, s_root3, s_root3], pairs, unit, 0.005);
                    Assert.True(lines[2] - lines[0] > 0.05 * unit);
                    break;
            }
        }

        Assert.Equal(5, seen.Count);
    }

    // An earthed corner: the others √3 times line to neutral, 60 degrees apart; an open lead: once, 120 degrees apart.
    [Fact]
    public void Corner_or_open_shows_sixty_or_a_hundred_and_twenty_degrees()
    {
        var seen = new HashSet<string>();
        foreach (var seed in Seeds(24))
        {
            var exercise = Make(PracticeForm.CornerOrOpen, 2, seed);
            var choice = Assert.Single(exercise.RightChoices);
            seen.Add(choice);
            var live = exercise.Readings!.Channels.Where(entry => entry.Key <= Channel.V3).OrderBy(entry => entry.Value.Rms).Skip(1).ToList();
            var apart = Math.Abs(Wrapped(live[0].Value.AngleDegrees!.Value - live[1].Value.AngleDegrees!.Value));
            Assert.Equal(choice == CornerOrOpenForm.Corner ? 60 : 120, apart, 1.0);
            foreach (var (_, reading) in live)
                Assert.Equal(choice == CornerOrOpenForm.Corner ? s_root3 : 1, reading.Rms!.Value / exercise.Nominal.LineToNeutralVolts, 0.02);
        }

        Assert.Equal(3, seen.Count);
    }

    // Plausible numbers are no proof of a neutral: with like loads or like inputs the star point stands where it would be (derived).
    [Fact]
    public void An_open_neutral_reads_fine_until_a_load_is_switched()
    {
        var seen = new HashSet<string>();
        foreach (var seed in Seeds(20))
        {
            var exercise = Make(PracticeForm.OpenNeutral, 1, seed);
            var choice = Assert.Single(exercise.RightChoices);
            seen.Add(choice);
            double[] before = Volts(exercise.Readings!);
            Assert.All(before, volts => Assert.Equal(1, volts / exercise.Nominal.LineToNeutralVolts, 0.03));
            double[] after = Volts(exercise.Take(new SettlingAction(SettlingKind.Switched) { AtConductor = Conductor.A }).After!);
            var spread = (after.Max() - after.Min() - (before.Max() - before.Min())) / exercise.Nominal.LineToNeutralVolts;
            Assert.Equal(choice == OpenNeutralForm.SupplyOpen, spread > 0.03);
            var toNeutral = exercise.Take(new SettlingAction(SettlingKind.Meter) { AtLead = Lead.VN, AtConductor = Conductor.A }).Answer;
            Assert.Equal(choice == OpenNeutralForm.LeadOpen, toNeutral == "0");
        }

        Assert.Equal(3, seen.Count);
    }

    private static Exercise Make(PracticeForm form, int level, ulong seed) => Exercise.Of(new ExerciseKey(form, null, null, level, seed));

    private static double Total(PanelReadings readings) => readings.Phases.Values.Sum(power => power.Watts ?? 0);

    private static double Figure(Exercise exercise, string name) => exercise.Figures.Single(figure => figure.Name == name).Value;

    private static double[] Volts(PanelReadings readings) =>
        [.. readings.Channels.Where(entry => entry.Key <= Channel.V3).Select(entry => entry.Value.Rms!.Value)];

    private static double Lag(PanelReadings readings, Channel volts, Channel amperes) =>
        Wrapped(readings.Channels[volts].AngleDegrees!.Value - readings.Channels[amperes].AngleDegrees!.Value);

    private static double Wrapped(double degrees) => degrees - (360 * Math.Round(degrees / 360));

    private static void Near(double[] expected, double[] found, double unit, double tolerance)
    {
        for (var index = 0; index < expected.Length; index++) Assert.Equal(expected[index], found[index] / unit, tolerance);
    }

    private static IEnumerable<ulong> Seeds(int count) => Enumerable.Range(1, count).Select(seed => (ulong)seed);
}
