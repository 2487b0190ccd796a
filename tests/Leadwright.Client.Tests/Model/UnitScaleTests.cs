using Leadwright.Client.Model.Charts;

namespace Leadwright.Client.Tests.Model;

public sealed class UnitScaleTests
{
    [Theory]
    [InlineData("W", 27040, 1000, "kW", "0.00")]
    [InlineData("W", -24960, 1000, "kW", "0.00")]
    [InlineData("W", 1999, 1, "W", "0")]
    [InlineData("var", 2e6, 1e6, "Mvar", "0.000")]
    [InlineData("A", 27040, 1, "A", "0")]
    [InlineData("V", 231.2, 1, "V", "0.0")]
    public void All_values_of_a_chart_are_in_the_unit_that_its_largest_deserves(string unit, double largest, double factor, string shown, string format) =>
        Assert.Equal(new UnitScale(factor, shown, format), UnitScale.Of(unit, [Summary(0, 1), Summary(Math.Min(0, largest), Math.Max(0, largest))]));

    [Fact]
    public void What_is_lost_altogether_counts_for_nothing() => Assert.Equal(new UnitScale(1000, "kW", "0.000"), UnitScale.Of("W", [Summary(double.NaN, double.NaN), Summary(0, 4000)]));

    private static ColumnSummary Summary(double least, double most) => new(least, 0, most, 1, 0, 0, 0);
}
