using Leadwright.Core.Integrity.Relations;
using Leadwright.Core.Panels;

namespace Leadwright.Core.Tests.Integrity.Parts;

/// <summary>Middles and spreads, by hand.</summary>
public sealed class RobustTests
{
    [Fact]
    public void Missing_values_are_left_out_of_the_middle_and_nothing_has_none()
    {
        Assert.Equal(2, Robust.Median([3, double.NaN, 1, 2, double.NaN]));
        Assert.True(double.IsNaN(Robust.Median([double.NaN, double.NaN])));
        Assert.True(double.IsNaN(Robust.Median([])));
        Assert.True(double.IsNaN(Robust.Deviation([double.NaN])));
    }

    // Of eleven values the one at place share times ten, the lower of two.
    [Theory]
    [InlineData(0, 0)]
    [InlineData(0.5, 5)]
    [InlineData(0.95, 9)]
    [InlineData(1, 10)]
    public void A_quantile_is_the_value_at_its_share_of_the_way_up(double share, double value) =>
        Assert.Equal(value, Robust.Quantile([10, 3, 7, 1, 0, 9, 5, 2, 8, 6, 4], share));

    [Fact]
    public void A_year_of_minutes_has_the_quantiles_of_all_of_it()
    {
        var ramp = new double[525_600];
        for (var row = 0; row < ramp.Length; row++) ramp[row] = row / 525_600.0;
        Assert.Equal(0.25, Robust.Quantile(ramp, 0.25), 1e-4);
        Assert.Equal(0.98, Robust.Quantile(ramp, 0.98), 1e-4);
    }

    [Fact]
    public void One_wild_value_does_not_move_the_spread_and_that_of_a_normal_law_is_its_own()
    {
        // Median 3; distances 2, 1, 0, 1 and 997: their median is 1.
        Assert.Equal(1.4826, Robust.Deviation([1, 2, 3, 4, 1000]), 1e-12);
        var random = new SeededRandom(1);
        var normal = new double[20_000];
        for (var row = 0; row < normal.Length; row++) normal[row] = 7 + (0.3 * random.Gaussian());
        Assert.Equal(0.3, Robust.Deviation(normal), 0.01);
    }

    [Fact]
    public void A_change_across_a_missing_value_is_not_known()
    {
        var changes = Robust.Changes([1, 4, double.NaN, 6, 5]);
        Assert.Equal([double.NaN, 3, double.NaN, double.NaN, -1], changes);
        Assert.Empty(Robust.Changes([]));
    }

    [Fact]
    public void The_step_of_writing_is_the_smallest_way_between_two_values()
    {
        Assert.Equal(0.05, Robust.Step([0.3, 0.1, double.NaN, 0.3, 0.35, 2]), 1e-12);
        Assert.Equal(0, Robust.Step([4, 4, 4]));
        // What the arithmetic leaves behind is no step.
        Assert.Equal(0.1, Robust.Step([0.1, 0.1 + 1e-12, 0.2]), 1e-9);
    }

    [Fact]
    public void Five_halves_of_four_are_two_to_the_fifth() => Assert.Equal(32, Robust.FiveHalves(4), 1e-12);
}
