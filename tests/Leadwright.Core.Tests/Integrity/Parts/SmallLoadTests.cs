using Leadwright.Core.Circuits;
using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Tests.Integrity.Parts;

/// <summary>A line of 120 V whose amperes are written to a tenth, and which draws next to nothing from row 20 to row 39.</summary>
public sealed class SmallLoadTests
{
    private const int Count = 60, From = 20, To = 39;

    // 44 W of 120 V · 0.4 A: a power factor of 0.92.
    [Fact]
    public void Forty_four_watts_at_four_tenths_of_an_ampere_are_a_load() => Assert.True(Is(0.4, _ => 44));

    [Fact]
    public void A_load_that_is_fed_the_other_way_is_one_too() => Assert.True(Is(0.4, _ => -44));

    // Watts of nothing go either way.
    [Fact]
    public void What_a_clamp_on_nothing_shows_is_none() => Assert.False(Is(0.4, row => (row % 2 == 0 ? 1 : -1) * (5 + (row % 7 * 6))));

    // 30, 38 and 46 W in turn: power factors of 0.63, 0.79 and 0.96, whose median is a load's, and whose spread is 1.48 · 0.17.
    [Fact]
    public void Without_one_power_factor_it_is_none() => Assert.False(Is(0.4, row => 30 + (8 * (row % 3))));

    // 19 W: 0.4.
    [Fact]
    public void At_a_power_factor_of_less_than_a_half_it_is_none() => Assert.False(Is(0.4, _ => 19));

    // Two steps of a tenth, at the same power factor.
    [Fact]
    public void What_is_two_steps_above_nothing_may_be_nothing() => Assert.False(Is(0.2, _ => 22));

    // Four rows: in the first and the last the power came back too late to be the current's. Power factors of 0.1 and twice 0.92 and 0.1 would have no load's median.
    [Fact]
    public void The_rows_at_the_ends_are_not_asked() => Assert.True(Is(0.4, row => row is To - 3 or To ? 5 : 44, To - 3));

    [Fact]
    public void Without_watts_nothing_is_said() => Assert.False(Is(0.4, null));

    private static bool Is(double amperes, Func<int, double>? watts, int from = From)
    {
        bool IsWithin(int row) => row is >= From and <= To;
        // Elsewhere some amperes at a power factor of one.
        double Usual(int row) => 5 + (0.1 * (row % 9));
        var log = new PartLog { Nominal = new NominalVoltage(120, 208) }.Volts(0, PartLog.Steady(Count, 120)).Amperes(0, PartLog.Rows(Count, row => IsWithin(row) ? amperes : Usual(row)));
        if (watts is not null) log.Watts(0, PartLog.Rows(Count, row => IsWithin(row) ? watts(row) : 120 * Usual(row)));
        return SmallLoad.Is(log.ToFrame(), 0, from, To, 0.1);
    }
}
