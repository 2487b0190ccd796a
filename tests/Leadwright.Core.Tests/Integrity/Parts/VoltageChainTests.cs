using Leadwright.Core.Circuits;
using Leadwright.Core.Integrity.Chains;
using Leadwright.Core.Integrity.Relations;
using Leadwright.Core.Panels;

namespace Leadwright.Core.Tests.Integrity.Parts;

/// <summary>What voltages in the proportions of a handbook are taken for, from row 50 to row 99 of 200.</summary>
public sealed class VoltageChainTests
{
    private const int Count = 200, From = 50, End = 100;

    [Theory]
    [InlineData(1.3, 0.7)]
    [InlineData(0.55, 1.45)]
    public void Two_legs_that_go_apart_by_as_much_as_each_other_have_lost_the_supplys_neutral(double first, double second) =>
        AssertRows(VoltageStateKind.SupplyNeutralLost, Find(ServiceKind.Split, 120, [1, 1], [first, second]));

    [Fact]
    public void With_the_neutral_of_a_high_leg_service_lost_the_high_leg_stands_off_by_the_triangles_height()
    {
        // The star point moved by 0.3 of a half between A and C: the height is root three, √(3 + 0.3²) is its distance.
        AssertRows(VoltageStateKind.SupplyNeutralLost, Find(ServiceKind.HighLeg, 120, [1, Math.Sqrt(3), 1], [1.3, Math.Sqrt(3.09), 0.7]));
    }

    [Fact]
    public void Two_lines_of_a_network_whose_neutral_is_lost_share_what_is_between_them() =>
        AssertRows(VoltageStateKind.SupplyNeutralLost, Find(ServiceKind.Network, 120, [1, 1], [1.2, Math.Sqrt(3) - 1.2]));

    [Fact]
    public void A_star_point_that_moved_leaves_the_lines_their_triangle()
    {
        // By 0.2 towards line A: 0.8 from it, √(1 + 0.2 + 0.04) from the others.
        AssertRows(VoltageStateKind.SupplyNeutralLost, Find(ServiceKind.Wye, 230, [1, 1, 1], [0.8, Math.Sqrt(1.24), Math.Sqrt(1.24)]));
    }

    [Fact]
    public void A_lead_that_reads_nothing_is_on_the_neutral_and_one_that_picks_something_up_is_in_the_air()
    {
        var onNeutral = Find(ServiceKind.Wye, 230, [1, 1, 1], [1, 0, 1], noise: 0.0002);
        AssertRows(VoltageStateKind.Leads, onNeutral);
        Assert.Equal([0, 3, 2, 3], onNeutral.At(70).Leads);
        var inTheAir = Find(ServiceKind.Wye, 230, [1, 1, 1], [1, 0.004, 1], noise: 0.0002);
        AssertRows(VoltageStateKind.Leads, inTheAir);
        Assert.Equal([0, -1, 2, 3], inTheAir.At(70).Leads);
    }

    // A tenth of a volt and more in the air; less than half a volt from the first row on may be the neutral's own drop.
    [Theory]
    [InlineData(0.001, new[] { 0, -1, 2, 3 })]
    [InlineData(0.0001, new[] { 0, 3, 2, 3 })]
    public void A_lead_that_went_to_next_to_nothing_within_the_recording_has_fallen_off(double reads, int[] leads) =>
        Assert.Equal(leads, Find(ServiceKind.Wye, 230, [1, 1, 1], [1, reads, 1], noise: 0.0002).At(70).Leads);

    [Fact]
    public void From_the_first_row_on_next_to_nothing_is_the_neutral() =>
        Assert.Equal([0, 3, 2, 3], Find(ServiceKind.Wye, 230, [1, 0.001, 1], [1, 0.001, 1], noise: 0.0002).At(70).Leads);

    // One line's load moves the star point as a lost neutral does, but three currents without a neutral add up to nothing.
    [Theory]
    [InlineData(20, VoltageStateKind.SupplyNeutralLost)]
    [InlineData(90, VoltageStateKind.Sound)]
    public void A_neutral_is_not_lost_while_one_line_carries_more_than_the_others_bring_back(double heavy, object kind) =>
        Assert.Equal(kind, Find(ServiceKind.Wye, 230, [1, 1, 1], [0.96, Math.Sqrt(1 + 0.04 + 0.0016), Math.Sqrt(1 + 0.04 + 0.0016)], [heavy, 20, 20], noise: 0.002).At(70).Kind);

    [Fact]
    public void A_lead_in_the_air_takes_the_star_point_of_two_with_it_where_the_neutral_lead_is_off_too()
    {
        // The middle of two of three equal lines lies 0.866 from both; the input whose lead is off stands there too, and reads nothing.
        var history = Find(ServiceKind.Wye, 230, [1, 1, 1], [0.0005, Math.Sqrt(0.75), Math.Sqrt(0.75)]);
        AssertRows(VoltageStateKind.Leads, history);
        Assert.Equal([-1, 1, 2, -1], history.At(70).Leads);
    }

    [Theory]
    [InlineData(0, 0.5, 0.5)]
    [InlineData(1, 0.5, 0.5)]
    [InlineData(2, 0.5, 0.5)]
    [InlineData(0, 0.7, 0.7)]
    public void One_phase_lost_upstream_leaves_two_lines_at_a_half_or_at_what_motors_hold_up(int kept, double one, double other)
    {
        double[] volts = [1, 1, 1];
        (volts[(kept + 1) % 3], volts[(kept + 2) % 3]) = (one, other);
        var history = Find(ServiceKind.Wye, 230, [1, 1, 1], volts);
        AssertRows(VoltageStateKind.UpstreamPhaseLost, history);
        Assert.Equal(kept, history.At(70).Line);
    }

    [Fact]
    public void Of_pairs_a_phase_lost_upstream_leaves_one_at_nothing_and_two_at_0_866()
    {
        // One and a half of the star voltage, over root three of it.
        var history = Find(ServiceKind.Delta, 400, [1, 1, 1], [Math.Sqrt(0.75), 0.001, Math.Sqrt(0.75)]);
        AssertRows(VoltageStateKind.UpstreamPhaseLost, history);
        Assert.Equal(0, history.At(70).Line);
    }

    // Loads across a lost line share what stands between the other two: 0.4 and 0.65 of it make up the whole and a little more, as two phasors do.
    [Theory]
    [InlineData(0.4, 0.65)]
    [InlineData(0.6, 0.45)]
    public void A_lost_line_of_three_leaves_two_pairs_that_share_the_third(double one, double other)
    {
        var history = Find(ServiceKind.Delta, 400, [1, 1, 1], [1, one, other], [20, 20, 20], idle: 2);
        Assert.Equal((VoltageStateKind.LineLost, 2), (history.At(70).Kind, history.At(70).Line));
    }

    // An input in the air stands at the star point of the others, half-way between two lines: so does a lost line under loads that are alike. Its own current tells them apart.
    [Theory]
    [InlineData(true, VoltageStateKind.LineLost)]
    [InlineData(false, VoltageStateKind.Leads)]
    public void Half_and_half_is_a_lost_line_where_its_current_is_gone_and_a_lead_in_the_air_where_it_flows_on(bool isGone, object kind)
    {
        var random = new SeededRandom(18);
        var log = new PartLog(ServiceKind.Delta) { Nominal = new NominalVoltage(400 / Math.Sqrt(3), 400) };
        double[] within = [1, 0.5, 0.5];
        for (var line = 0; line < 3; line++)
        {
            var at = line;
            log.Pair(line, PartLog.Rows(1000, row => 400 * (row is >= 500 and < 520 ? within[at] : 1) * (1 + (0.002 * random.Gaussian()))))
                .Amperes(line, PartLog.Rows(1000, row => isGone && at == 2 && row is >= 500 and < 520 ? 0 : 20));
        }

        var history = VoltageChain.Find(log.ToFrame(), TestContext.Current.CancellationToken);
        Assert.Equal((kind, 2), (history.At(510).Kind, history.At(510).Line));
    }

    [Fact]
    public void A_supply_that_sags_on_all_lines_alike_is_sound() =>
        Assert.All(Find(ServiceKind.Wye, 230, [1, 1, 1], [0.94, 0.94, 0.94]).Rows, state => Assert.Equal(0, state));

    [Fact]
    public void One_line_that_its_own_load_pulls_down_by_four_percent_for_some_hours_has_its_lead_on() =>
        Assert.All(Find(ServiceKind.Wye, 230, [1, 1, 1], [1, 0.96, 1], noise: 0.0005).Rows, state => Assert.Equal(0, state));

    [Theory]
    [InlineData(0.06)]
    [InlineData(0.5)]
    [InlineData(0.85)]
    public void A_lead_in_the_air_reads_anything_up_to_its_neighbours(double within)
    {
        var history = Find(ServiceKind.Wye, 230, [1, 1, 1], [1, within, 1], noise: 0.0005);
        AssertRows(VoltageStateKind.Leads, history);
        Assert.Equal([0, -1, 2, 3], history.At(70).Leads);
    }

    // Three percent up and three down. Without the supply's neutral one leg's current comes back in the other: 20 A in both may be a loop, 20 and 10 A are none.
    [Theory]
    [InlineData(20, VoltageStateKind.SupplyNeutralLost)]
    [InlineData(10, VoltageStateKind.Sound)]
    public void Two_legs_that_go_apart_have_lost_the_supplys_neutral_only_where_their_currents_are_one(double second, object kind) =>
        Assert.Equal(kind, Find(ServiceKind.Split, 120, [1, 1], [1.03, 0.97], [20, second], noise: 0.0005).At(70).Kind);

    [Fact]
    public void What_a_sound_channel_reads_is_learned_from_the_hours_in_which_it_was()
    {
        // Line 2 a percent high, and its lead off for a quarter of the time.
        var history = Find(ServiceKind.Wye, 230, [1, 1.01, 1], [1, 0.03, 1]);
        AssertRows(VoltageStateKind.Leads, history);
        Assert.Equal([1, 1.01, 1], history.Base.Select(value => Math.Round(value, 3)));
    }

    [Fact]
    public void A_clamp_shows_nothing_below_twelve_thousandths_of_what_the_middle_one_carries()
    {
        // Currents of 10, 20 and 400 A: 0.004 of the middle one's, thrice, is 0.24 A; 0.004 of 400 A is more.
        var history = Find(ServiceKind.Wye, 230, [1, 1, 1], [1, 1, 1], [10, 20, 400]);
        Assert.Equal([0.24, 0.24, 1.6, 0], history.Floors.Select(floor => Math.Round(floor, 9)));
    }

    private static void AssertRows(VoltageStateKind kind, VoltageHistory history)
    {
        var rows = Enumerable.Range(0, Count).Where(row => history.Rows[row] != 0).ToArray();
        Assert.All(rows, row => Assert.Equal(kind, history.At(row).Kind));
        Assert.Equal((From, End - 1, End - From), (rows[0], rows[^1], rows.Length));
    }

    private static VoltageHistory Find(ServiceKind service, double unit, double[] sound, double[] within, double[]? amperes = null, double noise = 0.002, int idle = -1)
    {
        var random = new SeededRandom(17);
        var log = new PartLog(service) { Nominal = service == ServiceKind.Delta ? new NominalVoltage(unit / Math.Sqrt(3), unit) : new NominalVoltage(unit, unit * NominalVoltage.LineRatio(service)) };
        for (var line = 0; line < sound.Length; line++)
        {
            var volts = PartLog.Rows(Count, row => unit * Math.Abs((row is >= From and < End ? within : sound)[line] * (1 + (noise * random.Gaussian()))));
            if (service == ServiceKind.Delta) log.Pair(line, volts);
            else log.Volts(line, volts);
            var own = amperes?[line] ?? 20;
            var isIdle = line == idle;
            log.Amperes(line, PartLog.Rows(Count, row => isIdle && row is >= From and < End ? 0 : own));
        }

        return VoltageChain.Find(log.ToFrame(), TestContext.Current.CancellationToken);
    }
}
