using System.Globalization;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Logs;
using Leadwright.Core.Panels.Weeks;

namespace Leadwright.Core.Tests.Panels.Weeks;

public sealed class VirtualWeekTests
{
    private static readonly WeekRecipe s_wye = new()
    {
        Service = ServiceKind.Wye, Nominal = new NominalVoltage(230, 400), Site = SiteKind.Workshop, Seed = 7, Days = 2,
    };

    [Fact]
    public void The_same_recipe_gives_the_same_week()
    {
        var (one, other) = (VirtualWeek.Make(s_wye).Log, VirtualWeek.Make(s_wye).Log);
        for (var column = 0; column < one.Columns.Length; column++) Assert.Equal(one.Values(column).ToArray(), other.Values(column).ToArray());
    }

    [Theory]
    [InlineData(ServiceKind.Wye, 230, 400)]
    [InlineData(ServiceKind.Delta, 277.128, 480)]
    [InlineData(ServiceKind.DeltaTwoClamp, 277.128, 480)]
    [InlineData(ServiceKind.Split, 120, 240)]
    [InlineData(ServiceKind.HighLeg, 120, 240)]
    [InlineData(ServiceKind.Network, 120, 208)]
    [InlineData(ServiceKind.Single, 230, 230)]
    public void What_a_right_hook_up_records_adds_up_to_the_true_energy(ServiceKind service, double lineToNeutral, double lineToLine)
    {
        var week = VirtualWeek.Make(s_wye with { Service = service, Nominal = new NominalVoltage(lineToNeutral, lineToLine) });
        double recorded = 0;
        foreach (var watts in week.Log.Values(week.Log.IndexOf(LogQuantity.ActivePower, LogPlace.Whole))) recorded += watts / 6;
        // Clamps are right to 1.5 percent and two degrees.
        Assert.InRange(recorded / week.Truth.EnergyWattHours, 0.97, 1.03);
        Assert.Equal(week.Truth.EnergyWattHours, week.Truth.LineEnergyWattHours.Sum(), 6);
        Assert.True(Assert.Single(week.Truth.Hookups).Hookup.IsRight);
    }

    [Fact]
    public void Values_are_written_with_the_digits_that_an_instrument_shows()
    {
        var log = VirtualWeek.Make(s_wye).Log;
        for (var column = 0; column < log.Columns.Length; column++)
        {
            foreach (var value in log.Values(column)) Assert.True(value.ToString("R", CultureInfo.InvariantCulture).Length <= 9, $"{log.Columns[column].Name} {value:R}");
        }
    }

    [Fact]
    public void A_turned_clamp_reads_the_same_power_the_other_way()
    {
        var mishap = new Mishap(MishapKind.ClampReversed, 36000, 72000, 1);
        var (sound, turned) = (VirtualWeek.Make(s_wye).Log, VirtualWeek.Make(s_wye with { Mishaps = [mishap] }).Log);
        var column = sound.IndexOf(LogQuantity.ActivePower, LogPlace.Phase2);
        Assert.Equal(-sound.Values(column)[90], turned.Values(column)[90], 0.02 * sound.Values(column)[90]);
        Assert.Equal(sound.Values(column)[50], turned.Values(column)[50]);
    }

    [Fact]
    public void Truth_tells_when_by_the_recorders_own_clock()
    {
        var week = VirtualWeek.Make(s_wye with
        {
            Mishaps =
            [
                new Mishap(MishapKind.ClockForward, 36000, 36000) { Size = 3600 },
                new Mishap(MishapKind.LeadOff, 72000, 80000, 2) { Size = 0.03 },
            ],
        });
        var lead = week.Truth.Spans[1];
        Assert.Equal(s_wye.Start.AddSeconds(72000 + 3600), lead.From);
        Assert.Equal([Lead.V3], lead.Leads);
        Assert.Equal(3, week.Truth.Hookups.Length);
        Assert.Null(week.Truth.Hookups[1].Hookup.Leads[Lead.V3]);
        Assert.Equal(7200, (week.Log.Starts.Span[60] - week.Log.Starts.Span[59]) / (double)TimeSpan.TicksPerSecond - 600 + 3600, 6);
    }

    [Fact]
    public void Proportions_of_a_phase_lost_upstream_are_those_of_a_delta_wye_transformer()
    {
        // 0.5, 1, 0.5 and, line to line, 0.866, 0.866, 0: derived in docs/methods/guard.md.
        var mishap = new Mishap(MishapKind.UpstreamPhaseLost, 36000, 72000, 1);
        var log = VirtualWeek.Make(s_wye with { Mishaps = [mishap] }).Log;
        Assert.InRange(log.Values(0)[90] / log.Values(1)[90], 0.46, 0.53);
        Assert.InRange(log.Values(2)[90] / log.Values(1)[90], 0.46, 0.53);
    }

    [Theory]
    [InlineData(0, 0.866, 0.5)]
    [InlineData(1, 0, 1)]
    [InlineData(2, 0.866, 0.5)]
    public void A_phase_lost_upstream_of_a_high_leg_service_leaves_its_tap_in_the_middle_of_two_lines(int kept, double lines, double high)
    {
        // Corners lie 2/√3 from the triangle's middle, the unit being line to tap. The third stays there, the other two meet at half of it on the other side: √3 from the third, 0.866 from the tap
        // between it and them. B is then 0.866 from the tap where √3 was usual. With A and C together the tap is on both.
        var mishap = new Mishap(MishapKind.UpstreamPhaseLost, 36000, 72000, kept);
        var week = VirtualWeek.Make(s_wye with { Service = ServiceKind.HighLeg, Nominal = new NominalVoltage(120, 240), Mishaps = [mishap] });
        Assert.InRange(week.Log.Values(0)[90] / 120, lines - 0.06, lines + 0.06);
        Assert.InRange(week.Log.Values(2)[90] / 120, lines - 0.06, lines + 0.06);
        Assert.InRange(week.Log.Values(1)[90] / (120 * Math.Sqrt(3)), high - 0.06, high + 0.06);
        Lead[] expected = kept == 1 ? [Lead.V1, Lead.V3] : [Lead.V1, Lead.V2, Lead.V3];
        Assert.Equal(expected, Assert.Single(week.Truth.Spans).Leads);
    }

    [Fact]
    public void A_recorder_that_is_off_leaves_rows_out_and_the_energy_goes_on()
    {
        var off = new Mishap(MishapKind.RecorderOff, 36000, 72000) { Detail = 1 };
        var (sound, cut) = (VirtualWeek.Make(s_wye), VirtualWeek.Make(s_wye with { Mishaps = [off] }));
        Assert.Equal(60, sound.Log.Count - cut.Log.Count);
        Assert.Equal(sound.Truth.EnergyWattHours, cut.Truth.EnergyWattHours, 6);
        var counter = cut.Log.Values(cut.Log.IndexOf(LogQuantity.ActiveEnergy, LogPlace.Whole, LogStatistic.Counter));
        Assert.True(counter[60] < counter[59]);
    }

    [Fact]
    public void A_population_draws_every_kind_and_the_same_again()
    {
        var population = new WeekPopulation { Seed = 3 };
        var kinds = Enumerable.Range(0, 600).SelectMany(index => population.Recipe(index).Mishaps).Select(mishap => mishap.Kind).ToHashSet();
        Assert.Superset(Enum.GetValues<MishapKind>().Where(kind => kind != MishapKind.ClampOnNeutral).ToHashSet(), kinds);
        Assert.Equal(population.Recipe(17).Seed, population.Recipe(17).Seed);
        Assert.All(Enumerable.Range(0, 50), index => Assert.DoesNotContain((population with { IsClean = true }).Recipe(index).Mishaps, mishap => !mishap.IsSupply));
    }

    [Fact]
    public void A_length_of_nothing_is_refused()
    {
        Assert.Throws<ArgumentException>(() => VirtualWeek.Make(s_wye with { Days = 0 }));
        Assert.Throws<ArgumentException>(() => VirtualWeek.Make(s_wye with { IntervalSeconds = 1200 }));
    }
}
