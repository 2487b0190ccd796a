using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Logs;
using Leadwright.Core.Panels;

namespace Leadwright.Core.Tests.Hookups.Waves;

/// <summary>What loads that switch leave in logged values: sizes and powers of every second, no phasors.</summary>
/// <remarks>The physics is dE = −Z·dJ along each voltage: circuit theory. The panels are simulated by code that knows nothing of the
/// check.</remarks>
public sealed class LoggedStepTests
{
    private static readonly LoggingPlan s_seconds = new(1, 240, 20, 1e-4, 3e-4);

    private static PanelPopulation Population(LoadFamily family, FaultStyle faults = FaultStyle.Slips) =>
        new() { Service = ServiceKind.Wye, Family = family, Faults = faults, Seed = 41 };

    private static PanelReadings ReadingsOf(PanelCase drawn, LoggingPlan plan)
    {
        var log = drawn.Log(plan);
        return PanelLog.Read(log, 0, log.Count, drawn.Panel.Service, drawn.Panel.Source.Nominal)!;
    }

    [Theory]
    [InlineData(LoadFamily.Export)]
    [InlineData(LoadFamily.Leading)]
    public void A_log_of_seconds_names_what_its_means_alone_leave_open(LoadFamily family)
    {
        var (named, namedFromMeans, falseAlarms) = (0, 0, 0);
        for (var index = 0; index < 6; index++)
        {
            var drawn = Population(family, FaultStyle.Uniform48).Case(index);
            var readings = ReadingsOf(drawn, s_seconds);
            var verdict = HookupCheck.Judge(readings, drawn.Options);
            if (Named(drawn, readings, verdict)) named++;
            if (drawn.Truth.IsRight && verdict.Verdict == Verdict.Faulty) falseAlarms++;
            var means = readings with { Logged = null };
            if (Named(drawn, means, HookupCheck.Judge(means, drawn.Options))) namedFromMeans++;
        }

        Assert.Equal(0, falseAlarms);
        Assert.InRange(named, 5, 6);
        Assert.True(named >= namedFromMeans);
    }

    [Fact]
    public void Intervals_of_a_quarter_of_an_hour_promise_nothing()
    {
        var readings = ReadingsOf(Population(LoadFamily.Ordinary).Case(0), new LoggingPlan(900, 96, 20, 1e-3, 5e-3));
        Assert.False(readings.Logged!.IsTelling);
    }

    [Fact]
    public void A_right_hook_up_is_never_called_wrong()
    {
        for (var index = 0; index < 6; index++)
        {
            var drawn = Population(LoadFamily.Motors, FaultStyle.None).Case(index);
            Assert.NotEqual(Verdict.Faulty, HookupCheck.Judge(ReadingsOf(drawn, s_seconds), drawn.Options).Verdict);
        }
    }

    [Fact]
    public void Rows_of_an_outage_are_left_out_of_the_means()
    {
        var log = Population(LoadFamily.Ordinary, FaultStyle.None).Case(1).Log(s_seconds);
        var values = Enumerable.Range(0, log.Columns.Length).Select(column => log.Values(column).ToArray()).ToArray();
        var before = PanelLog.Read(log, 0, 100, ServiceKind.Wye, null)!;
        foreach (var column in values) Array.Clear(column, 100, 50);
        var cut = new IntervalLog(log.Columns, log.Starts.ToArray(), values, log.IntervalSeconds);
        var after = PanelLog.Read(cut, 0, 150, ServiceKind.Wye, null)!;
        foreach (var channel in before.Channels.Keys) Assert.Equal(before.Channels[channel].Rms!.Value, after.Channels[channel].Rms!.Value, 9);
    }

    [Fact]
    public void Without_watts_the_sizes_still_pair_clamps_with_leads()
    {
        var drawn = Population(LoadFamily.Ordinary, FaultStyle.None).Case(2);
        var log = drawn.Log(s_seconds with { StepCount = 40 });
        int[] kept = [.. Enumerable.Range(0, log.Columns.Length).Where(column => log.Columns[column].Quantity is LogQuantity.Voltage or LogQuantity.Current)];
        // Clamps 2 and 3 on each other's conductors.
        var swapped = kept.Select(column => log.Columns[column].Quantity == LogQuantity.Current && log.Columns[column].Place is LogPlace.Phase2 or LogPlace.Phase3
            ? Array.FindIndex(log.Columns.ToArray(), other => other.Quantity == LogQuantity.Current && other.Place == (log.Columns[column].Place == LogPlace.Phase2 ? LogPlace.Phase3 : LogPlace.Phase2))
            : column).ToArray();
        var sizes = new IntervalLog(
            [.. kept.Select(column => log.Columns[column])], log.Starts.ToArray(), [.. swapped.Select(column => log.Values(column).ToArray())], log.IntervalSeconds);
        var readings = PanelLog.Read(sizes, 0, sizes.Count, ServiceKind.Wye, drawn.Panel.Source.Nominal)!;
        var verdict = HookupCheck.Judge(readings, drawn.Options);
        Assert.Equal(Conductor.C, verdict.Best.Hookup.Clamps[Clamp.I2].On);
        Assert.Equal(Conductor.B, verdict.Best.Hookup.Clamps[Clamp.I3].On);
    }

    // A clamp that ends at 240 A (common practice, no source: beyond the range a reading stands while watts and vars turn) makes changes that are none.
    [Theory]
    [InlineData(0)]
    [InlineData(17)]
    public void Changes_at_the_end_of_a_clamp_s_range_do_not_make_a_lead_loose(int index)
    {
        var drawn = new PanelPopulation { Service = ServiceKind.Single, Family = LoadFamily.Ordinary, Faults = FaultStyle.Slips, Seed = 5 }.Case(index);
        var verdict = HookupCheck.Judge(ReadingsOf(drawn, new LoggingPlan(1, 300, 24, 2e-4, 6e-4)), drawn.Options);
        Assert.NotNull(verdict.Best.Hookup.Leads[Lead.V1]);
    }

    // Written by hand: the lamp goes on and off, the voltage answers, the clamp reads what a clamp reads in the air.
    [Fact]
    public void Loads_that_only_the_voltage_shows_speak_for_a_clamp_in_the_air()
    {
        var random = new SeededRandom(3);
        LogColumn[] columns =
        [
            new("V1", LogQuantity.Voltage, LogPlace.Phase1), new("I1", LogQuantity.Current, LogPlace.Phase1), new("P1", LogQuantity.ActivePower, LogPlace.Phase1), new("Q1", LogQuantity.ReactivePower, LogPlace.Phase1),
        ];
        LoggedChanges Changes(bool isClampOn)
        {
            var values = new double[4][];
            for (var column = 0; column < 4; column++) values[column] = new double[240];
            for (var row = 0; row < 240; row++)
            {
                var amperes = 20.0 + (row / 20 % 2 * 15);
                values[0][row] = 231 - (0.12 * amperes) + (0.01 * random.Gaussian());
                var read = isClampOn ? amperes : 0;
                values[1][row] = read + 0.05;
                values[2][row] = (read * values[0][row]) + random.Gaussian();
                values[3][row] = random.Gaussian();
            }

            var log = new IntervalLog([.. columns], [.. Enumerable.Range(0, 240).Select(row => row * TimeSpan.TicksPerSecond)], values, 1);
            return PanelLog.Read(log, 0, 240, ServiceKind.Single, new NominalVoltage(230, 230))!.Logged!;
        }

        // Eleven switchings, each of 1.8 V.
        var open = Changes(false);
        Assert.Equal(11, open.Unclaimed.Length);
        Assert.All(open.Unclaimed, volts => Assert.Equal(1.8, Math.Abs(volts), 0.1));
        var closed = Changes(true);
        Assert.Empty(closed.Unclaimed);
        Assert.Equal(11, closed.ClaimedCount);
    }

    private static bool Named(PanelCase drawn, PanelReadings readings, HookupVerdict verdict) => ReadsAlike.Check(
        readings, drawn.Truth, drawn.Rotation, drawn.HighLeg, verdict.Best.Hookup, verdict.Best.Rotation, Conductor.B);
}
