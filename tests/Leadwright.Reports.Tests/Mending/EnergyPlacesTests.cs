using System.Collections.Immutable;
using Leadwright.Core.Wording;
using Leadwright.Reports.Mending;

namespace Leadwright.Reports.Tests.Mending;

public sealed class EnergyPlacesTests
{
    [Theory]
    [InlineData(354.9743, 28.6399, "355", "29")]
    [InlineData(0.0231, 0.0783, "0.023", "0.078")]
    [InlineData(-0.0049, 0.0621, "-0.005", "0.062")]
    [InlineData(8.15, 1.56, "8.2", "1.6")]
    [InlineData(540.4, 50.7, "540", "51")]
    [InlineData(5678, 351, "5680", "350")]
    [InlineData(5678, 99.6, "5680", "100")]
    [InlineData(12.5, 0.0996, "12.50", "0.10")]
    [InlineData(-2.7, 259.3, "0", "260")]
    public void A_value_is_written_to_the_second_digit_of_what_it_may_be_off_by(double value, double halfWidth, string text, string uncertainty)
    {
        var places = EnergyPlaces.Of(value, halfWidth);
        Assert.Equal((text, uncertainty), (places.Text(value), places.Text(halfWidth)));
    }

    [Theory]
    [InlineData(2850.6603, "2850.7")]
    [InlineData(106.288, "106.29")]
    [InlineData(0, "0.00")]
    [InlineData(-0.0001, "0.00")]
    [InlineData(123456.7, "123457")]
    public void Without_an_interval_a_value_has_five_digits_at_most(double value, string text)
    {
        Assert.Equal(text, EnergyPlaces.Of(value).Text(value));
        Assert.Equal(text, EnergyPlaces.Of(value, 0).Text(value));
    }

    [Fact]
    public void An_interval_of_next_to_nothing_does_not_make_a_value_more_exact_than_its_recorder() => Assert.Equal("106.29", EnergyPlaces.Of(106.288, 0.00004).Text(106.288));

    [Fact]
    public void What_is_not_known_is_a_dash() => Assert.Equal("–", EnergyPlaces.Of(double.NaN, double.NaN).Text(double.NaN));

    [Fact]
    public void The_mark_is_that_of_the_words_in_force()
    {
        using var words = Say.By(new SpokenWords(ImmutableSortedDictionary<string, string>.Empty, ","));
        Assert.Equal("8,2", EnergyPlaces.Of(8.15, 1.56).Text(8.15));
    }

    // 1,120 kWh, give or take 210, of which 536.3 were counted: that is no 540.
    [Fact]
    public void What_was_counted_is_written_to_the_kilowatt_hour_at_least()
    {
        var places = EnergyPlaces.Of(1122.704, 209.4);
        Assert.Equal("1120", places.Text(1122.704));
        Assert.Equal("536", places.OfCounted.Text(536.323));
        Assert.Equal("26.33", EnergyPlaces.Of(26.331, 0.34).OfCounted.Text(26.331));
    }
}
