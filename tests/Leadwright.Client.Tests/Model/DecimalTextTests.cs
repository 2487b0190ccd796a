using System.Globalization;
using FsCheck.Xunit;
using Leadwright.Client.Model;

namespace Leadwright.Client.Tests.Model;

public sealed class DecimalTextTests
{
    [Theory]
    [InlineData("230.4", 230.4)]
    [InlineData("230,4", 230.4)]
    [InlineData(" -120,3 ", -120.3)]
    [InlineData("\u2212120.3", -120.3)]
    [InlineData("+119.8", 119.8)]
    [InlineData("0", 0)]
    [InlineData(".5", 0.5)]
    [InlineData("1,234", 1.234)]
    public void TryRead_takes_point_and_comma_alike(string text, double expected)
    {
        Assert.True(DecimalText.TryRead(text, out var value));
        Assert.Equal(expected, value);
    }

    [Theory]
    [InlineData("")]
    [InlineData(null)]
    [InlineData("-")]
    [InlineData("1,234.5")]
    [InlineData("1.234,5")]
    [InlineData("12 A")]
    [InlineData("1e3")]
    [InlineData("1,2,3")]
    [InlineData("NaN")]
    [InlineData("∞")]
    public void TryRead_refuses_what_it_would_have_to_guess(string? text) => Assert.False(DecimalText.TryRead(text, out _));

    [Theory]
    [InlineData("de-DE")]
    [InlineData("en-US")]
    [InlineData("ar-SA")]
    public void TryRead_gives_the_same_number_in_every_language(string culture)
    {
        var before = CultureInfo.CurrentCulture;
        CultureInfo.CurrentCulture = CultureInfo.GetCultureInfo(culture);
        try
        {
            Assert.True(DecimalText.TryRead("-1,5", out var value));
            Assert.Equal(-1.5, value);
            Assert.Equal("-1.5", DecimalText.Of(value));
        }
        finally
        {
            CultureInfo.CurrentCulture = before;
        }
    }

    [Property]
    public bool A_measured_number_written_is_read_back_as_the_same_number(int thousandths) =>
        DecimalText.TryRead(DecimalText.Of(thousandths / 1000.0), out var value) && value == thousandths / 1000.0;

    [Theory]
    [InlineData("120.3", "-120.3")]
    [InlineData("-120.3", "120.3")]
    [InlineData("\u2212120.3", "120.3")]
    [InlineData("+5", "-5")]
    [InlineData("", "-")]
    [InlineData("-", "")]
    [InlineData(null, "-")]
    public void WithOtherSign_adds_or_takes_the_minus(string? text, string expected) =>
        Assert.Equal(expected, DecimalText.WithOtherSign(text));
}
