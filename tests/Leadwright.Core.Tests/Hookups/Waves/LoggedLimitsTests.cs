using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Hookups.Hypotheses;
using Leadwright.Core.Hookups.Steps;
using Leadwright.Core.Logs;
using Leadwright.Core.Panels;

namespace Leadwright.Core.Tests.Hookups.Waves;

/// <summary>What keeps the changes of a log from saying more than they know.</summary>
public class LoggedLimitsTests
{
    // Written by hand: a supply that wanders by 0.06 % behind no impedance at all, loads of constant power that answer to it, a load on each leg that comes and goes.
    private static PanelReadings Stiff(bool areOnOneLeg)
    {
        var random = new SeededRandom(9);
        const int Rows = 240;
        LogColumn[] columns =
        [
            new("V1", LogQuantity.Voltage, LogPlace.Phase1), new("V2", LogQuantity.Voltage, LogPlace.Phase2),
            new("I1", LogQuantity.Current, LogPlace.Phase1), new("I2", LogQuantity.Current, LogPlace.Phase2),
            new("P1", LogQuantity.ActivePower, LogPlace.Phase1), new("P2", LogQuantity.ActivePower, LogPlace.Phase2),
            new("Q1", LogQuantity.ReactivePower, LogPlace.Phase1), new("Q2", LogQuantity.ReactivePower, LogPlace.Phase2),
        ];
        var values = columns.Select(_ => new double[Rows]).ToArray();
        for (var row = 0; row < Rows; row++)
        {
            var volts = 120 * (1 + (6e-4 * random.Gaussian()));
            // Switched one after the other: two in three intervals see no load change at all.
            double[] watts = [2000 + (row / 6 % 2 * 700), 1500 + ((row + 3) / 6 % 2 * 900)];
            for (var leg = 0; leg < 2; leg++)
            {
                values[leg][row] = Math.Round(volts, 2);
                var power = watts[areOnOneLeg ? 0 : leg];
                values[2 + leg][row] = power / 0.9 / volts;
                values[4 + leg][row] = power;
                values[6 + leg][row] = power * Math.Sqrt((1 / 0.81) - 1);
            }
        }

        var log = new IntervalLog([.. columns], [.. Enumerable.Range(0, Rows).Select(row => row * TimeSpan.TicksPerSecond)], values, 1);
        return PanelLog.Read(log, 0, Rows, ServiceKind.Split, new NominalVoltage(120, 240))!;
    }

    [Fact]
    public void A_supply_s_wandering_is_not_told_from_the_stillest_currents_alone()
    {
        // Neighbouring intervals differ by √2 of 0.06 %; the stillest two fifths of them would give less than half of that.
        var changes = Stiff(false).Logged!;
        Assert.InRange(changes.CommonWandering, 0.8 * 8.5e-4, 1.25 * 8.5e-4);
        Assert.InRange(changes.OwnWandering, 2e-5, 6e-5);
    }

    [Fact]
    public void A_right_hook_up_on_a_stiff_supply_is_not_called_faulty()
    {
        var verdict = HookupCheck.Judge(Stiff(false), new CheckOptions());
        Assert.NotEqual(Verdict.Faulty, verdict.Verdict);
        Assert.True(verdict.Best.Hookup.IsRight);
    }

    [Theory]
    [InlineData(true, 1.5, 4)]
    [InlineData(false, -15, -10)]
    public void Clamps_on_one_conductor_change_alike_and_others_do_not_and_neither_is_ever_ruled_out(bool areOnOneLeg, double from, double to)
    {
        var readings = Stiff(areOnOneLeg);
        var table = LoggedTable.Of(readings.Logged, [Channel.V1, Channel.V2], 120)!;
        var currents = new LoggedCurrents(table, Service.Of(ServiceKind.Split));
        int[] positions = [0, 1];
        Assert.InRange(currents.LogOf(new ClampMap([0, 0], [false, false], -1, 1, 0), positions), from, to);
        Assert.Equal(0, currents.LogOf(new ClampMap([0, 1], [false, false], -1, 1, 0), positions));
        // At ten times the other's ratio they are not alike.
        Assert.InRange(currents.LogOf(new ClampMap([0, 0], [false, false], 1, 10, 0), positions), -15, -10);
        Assert.True(currents.Most >= to - 2.2);
    }

    // A likelihood with its top at 7 and a shoulder: from either side of it, and from a top that chance made where nothing is seen.
    [Theory]
    [InlineData(0.5)]
    [InlineData(7)]
    [InlineData(90)]
    public void The_size_of_the_impedances_is_found_from_afar(double from)
    {
        var found = SourceModel.Climb(from, 0.01, 100, size => -Math.Pow(Math.Log(size / 7), 2));
        Assert.InRange(found, 7 / 1.6, 7 * 1.6);
    }

    [Fact]
    public void A_supply_of_which_nothing_is_seen_is_found_beyond_a_dip()
    {
        var found = SourceModel.Climb(1, 0.01, 100, size => size < 0.1 ? 0 : -5 - Math.Abs(Math.Log(size)));
        Assert.InRange(found, 0.01, 0.1);
    }
}
