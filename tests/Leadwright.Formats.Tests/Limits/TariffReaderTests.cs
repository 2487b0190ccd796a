using System.Text;
using Leadwright.Formats.Limits;

namespace Leadwright.Formats.Tests.Limits;

public sealed class TariffReaderTests
{
    [Fact]
    public void A_calendar_reads_days_ranges_seasons_and_holidays()
    {
        var calendar = TariffReader.Read(File("""
            {"schema":"leadwright.tariff/1","name":"invented","holidays":["2026-12-25"],"otherwise":"low",
             "periods":[{"name":"peak","days":["mon-fri"],"from":"17:00","to":"20:00","season":{"from":"11-01","to":"03-31"}},
                        {"name":"holiday","days":["holiday","sun"]}]}
            """));
        Assert.Equal("peak", calendar.At(new DateTime(2026, 12, 24, 18, 0, 0)));
        Assert.Equal("holiday", calendar.At(new DateTime(2026, 12, 25, 18, 0, 0)));
        Assert.Equal("holiday", calendar.At(new DateTime(2026, 12, 27, 3, 0, 0)));
        Assert.Equal("low", calendar.At(new DateTime(2026, 6, 24, 18, 0, 0)));
        Assert.Equal(["peak", "holiday", "low"], calendar.Names);
    }

    [Fact]
    public void Hours_are_read_as_typed()
    {
        var hours = TariffReader.ParseHours("fri-mon 08:00-12:00, wed 22:00-06:00")!;
        Assert.Equal("open", hours.At(new DateTime(2026, 3, 1, 8, 0, 0)));
        Assert.Equal("closed", hours.At(new DateTime(2026, 3, 3, 8, 0, 0)));
        Assert.Equal("open", hours.At(new DateTime(2026, 3, 4, 5, 0, 0)));
    }

    [Theory]
    [InlineData("")]
    [InlineData("mon")]
    [InlineData("mon 8-12")]
    [InlineData("mon-xyz 08:00-12:00")]
    [InlineData("mon 08:00-08:00")]
    public void What_is_no_hours_gives_nothing(string text) => Assert.Null(TariffReader.ParseHours(text));

    [Theory]
    [InlineData("""{"schema":"leadwright.tariff/1","periods":[{"name":"a","from":"25:00"}]}""", "$.periods[0].from")]
    [InlineData("""{"schema":"leadwright.tariff/1","periods":[{"name":"a","days":["noday"]}]}""", "$.periods[0].days[0]")]
    [InlineData("""{"schema":"leadwright.tariff/1","periods":[{"days":["mon"]}]}""", "$.periods[0].name")]
    [InlineData("""{"schema":"leadwright.tariff/1","holidays":["25.12.2026"],"periods":[{"name":"a"}]}""", "$.holidays[0]")]
    public void A_calendar_that_can_not_be_used_is_refused_with_its_place(string json, string field) =>
        Assert.Equal(field, Assert.Throws<FormatReadException>(() => TariffReader.Read(File(json))).Field);

    private static InputFile File(string json) => new("tariff.json", Encoding.UTF8.GetBytes(json));
}
