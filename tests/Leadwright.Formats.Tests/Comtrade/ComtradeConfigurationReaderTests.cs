using System.Text;
using Leadwright.Formats.Comtrade;

namespace Leadwright.Formats.Tests.Comtrade;

public sealed class ComtradeConfigurationReaderTests
{
    private static readonly string[] s_tenFields = ["1,UA,A,,V,0.5,0,0,-32767,32767", "2,IA,A,,A,0.01,1,25,-32767,32767", "1,TRIP,0"];

    [Theory]
    [InlineData("", true, ComtradeRevision.Rev1991)]
    [InlineData("1991", true, ComtradeRevision.Rev1991)]
    [InlineData("1999", true, ComtradeRevision.Rev1991)]
    [InlineData("2013", true, ComtradeRevision.Rev1991)]
    [InlineData("", false, ComtradeRevision.Rev1999)]
    [InlineData("1991", false, ComtradeRevision.Rev1999)]
    [InlineData("2000", false, ComtradeRevision.Rev1999)]
    [InlineData("2013", false, ComtradeRevision.Rev2013)]
    public void Layout_is_told_by_the_fields_and_only_then_by_the_year(string year, bool isShort, ComtradeRevision expected)
    {
        var small = new SmallRecord { Year = year, Start = "01/02/2026,10:00:00.5", Trigger = "01/02/2026,10:00:00.6" };
        var configuration = Read(isShort ? small with { Channels = s_tenFields } : small, out var warnings);

        Assert.Equal(expected, configuration.Revision);
        // Month first in the 1991 layout, day first since.
        Assert.Equal(isShort ? new DateTime(2026, 1, 2) : new DateTime(2026, 2, 1), configuration.Start?.Value.Date);
        Assert.Equal("TRIP", configuration.Statuses.Single().Id);
        Assert.Equal(isShort && year is "1999" or "2013" && isShort, warnings.Any(warning => warning.Says.Contains("have the fields of 1991", StringComparison.Ordinal)));
    }

    [Theory]
    [InlineData("\r\n")]
    [InlineData("\n")]
    [InlineData("\r")]
    [InlineData("\r\r\n")]
    [InlineData("\r\n\r\n")]
    public void Any_end_of_line_will_do(string lineEnd)
    {
        var configuration = Read(new SmallRecord { LineEnd = lineEnd, Tail = ["1", "0,0", "0,0", "", ""] }, out var warnings);

        Assert.Equal((2, 1, 50.0), (configuration.Analogs.Length, configuration.Statuses.Length, configuration.LineFrequencyHertz));
        Assert.Equal(("0", "0"), (configuration.TimeCode, configuration.TimeQualityCode));
        Assert.Empty(warnings);
    }

    [Fact]
    public void A_byte_order_mark_is_no_part_of_the_name()
    {
        var warnings = new List<ReadWarning>();
        var configuration = ComtradeConfigurationReader.Read(Encoding.UTF8.GetBytes("\uFEFF" + new SmallRecord().Cfg), "small.cfg", warnings);

        Assert.Equal("STATION", configuration.StationName);
    }

    // Deviations reported by users of such files: tests/data/README.md, comtrade/basic.
    [Fact]
    public void Empty_skew_and_reals_for_whole_numbers_are_put_up_with()
    {
        var configuration = Read(new SmallRecord
        {
            Channels = ["1,UA,A,,V,0.5,,,-3.2767E+04,3.2767E+04,100.0,1.0,S", "2.0,IA,A,,A,1E-2,1.0,,,,,,", "1,TRIP,,,"],
            Frequency = "50.000",
            Rates = ["1.0", "1000.000,3.0"],
            Tail = ["1.00"],
        }, out var warnings);

        Assert.Equal((0.0, 0.0, 32767.0, 100.0), (configuration.Analogs[0].Offset, configuration.Analogs[0].SkewSeconds, configuration.Analogs[0].Maximum, configuration.Analogs[0].Primary));
        Assert.Equal(ComtradeSide.NotStated, configuration.Analogs[1].Side);
        Assert.Equal([new ComtradeRate(1000, 3)], configuration.Rates);
        Assert.Empty(warnings);
    }

    [Theory]
    [InlineData("0")]
    [InlineData("0.000")]
    public void A_line_frequency_of_zero_is_not_stated(string frequency) =>
        Assert.Null(Read(new SmallRecord { Frequency = frequency }, out _).LineFrequencyHertz);

    [Fact]
    public void An_empty_line_frequency_is_put_up_with()
    {
        var configuration = Read(new SmallRecord { Frequency = "" }, out var warnings);

        Assert.Null(configuration.LineFrequencyHertz);
        Assert.Equal([new ComtradeRate(1000, 3)], configuration.Rates);
        Assert.Equal("The line frequency is not stated.", Assert.Single(warnings).Says);
    }

    [Fact]
    public void Number_of_rates_zero_may_come_without_its_line()
    {
        var configuration = Read(new SmallRecord { Rates = ["0"] }, out var warnings);

        Assert.Equal([new ComtradeRate(0, 0)], configuration.Rates);
        Assert.Single(warnings);
    }

    [Fact]
    public void Everything_after_the_file_type_may_be_missing()
    {
        var configuration = Read(new SmallRecord { Tail = [] }, out var warnings);

        Assert.Equal((1.0, ""), (configuration.TimeMultiplier, configuration.TimeCode));
        Assert.Empty(warnings);
    }

    [Theory]
    [InlineData("binary", ComtradeDataType.Binary)]
    [InlineData(" Ascii ", ComtradeDataType.Ascii)]
    [InlineData("Binary32", ComtradeDataType.Binary32)]
    [InlineData("float32", ComtradeDataType.Float32)]
    public void File_type_may_be_in_any_case(string type, ComtradeDataType expected) =>
        Assert.Equal(expected, Read(new SmallRecord { Type = type }, out _).DataType);

    [Theory]
    [InlineData("1999", "01/31/2026,10:00:00.0", "2026-01-31")]
    [InlineData("1991", "31/01/2026,10:00:00.0", "2026-01-31")]
    public void Dates_in_the_other_order_are_read_when_only_that_makes_sense(string year, string date, string expected)
    {
        var small = new SmallRecord { Year = year, Start = date, Trigger = date };
        var configuration = Read(year == "1991" ? small with { Channels = s_tenFields } : small, out var warnings);

        Assert.Equal(expected, configuration.Start?.Value.ToString("yyyy-MM-dd", null));
        Assert.Contains("only make sense with the", Assert.Single(warnings).Says, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("01/02/99,10:00:00.0", 1999)]
    [InlineData("01/02/15,10:00:00.0", 2015)]
    public void Years_of_two_digits_belong_to_the_nearer_century(string date, int year) =>
        Assert.Equal(year, Read(new SmallRecord { Start = date }, out _).Start?.Value.Year);

    [Fact]
    public void A_leap_second_runs_over_into_the_next_minute() =>
        Assert.Equal(new DateTime(2017, 1, 1, 0, 0, 0), Read(new SmallRecord { Start = "31/12/2016,23:59:60.000000" }, out _).Start?.Value);

    [Theory]
    [InlineData(",")]
    [InlineData("00/00/0000,00:00:00.000000")]
    [InlineData("31/02/2026,10:00:00.0")]
    [InlineData("01/02/2026,25:00:00.0")]
    public void A_date_that_is_none_is_told_and_leaves_the_recording_without_date(string date)
    {
        var configuration = Read(new SmallRecord { Start = date }, out var warnings);

        Assert.Null(configuration.Start);
        Assert.NotNull(configuration.Trigger);
        Assert.Contains("is no date and time; the recording has no date", Assert.Single(warnings).Says, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("9,2A,1D", "The total says \"9\", but 2 analog and 1 status channels are stated")]
    [InlineData("3,1D,2A", null)]
    [InlineData("3,2a,1d", null)]
    [InlineData("3, 2A, 1D", null)]
    public void Channel_totals_may_be_odd(string totals, string? says)
    {
        var configuration = Read(new SmallRecord { Totals = totals }, out var warnings);

        Assert.Equal((2, 1), (configuration.Analogs.Length, configuration.Statuses.Length));
        if (says is null) Assert.Empty(warnings);
        else Assert.Contains(says, Assert.Single(warnings).Says, StringComparison.Ordinal);
    }

    public static TheoryData<string, string, int, string> BadConfigurations() => new()
    {
        { "2A,1D", "x", 2, "line 2: expected the channel totals, such as 8,6A,2D, found \"3,x\"" },
        { "3,2A,1D", "0,0A,0D", 2, "expected at least one channel, found \"0,0A,0D\"" },
        { "3,2A,1D", "3,-2A,1D", 2, "expected the channel totals" },
        { "3,2A,1D", "4,3A,1D", 5, "expected analog channel 3 of 3, a line of 10 fields (1991) or 13 (1999, 2013), found \"1,TRIP,,,0\"" },
        { "3,2A,1D", "2,1A,1D", 4, "expected status channel 1 of 1, a line of 3 fields (1991) or 5 (1999, 2013)" },
        { "V,0.5,0", "V,a,0", 3, "column 6 'a': expected a number, found \"a\"" },
        { "V,0.5,0", "V,,0", 3, "column 6 'a': expected a number, found nothing" },
        { "V,0.5,0,0", "V,0,5,0,0", 3, "expected an analog channel line of 10 fields (1991) or 13 (1999, 2013), found \"1,UA" },
        { "V,0.5,0,0,-32767,32767,100,1,S", "V,0,5,0,0,-32767,32767", 3, "expected an analog channel line of 10 fields (1991) or 13 (1999, 2013)" },
        { "V,0.5,0,0,-32767,32767,100,1,S", "V,0,5,0,0,0,0,-32767,32767", 3, "expected an analog channel line of 10 fields (1991) or 13 (1999, 2013)" },
        { "1000,3", "1000", 8, "expected a sampling rate and its last sample number, such as 1200,40, found \"1000\"" },
        { "1000,3", "fast,3", 8, "'samp': expected a number, found \"fast\"" },
        { "1000,3", "1000,3.5", 8, "'endsamp': expected a whole number from 0 to 2147483647, found \"3.5\"" },
        { "1000,3", "-1,3", 8, "expected a rate of zero or more, found \"-1\"" },
        { "\n1\n1000,3", "\n2\n1000,3\n900,2", 9, "expected a sample number of at least 3, found \"2\"" },
        { "\n1\n1000,3", "\nmany\n1000,3", 7, "'nrates': expected a whole number from 0 to 999999, found \"many\"" },
        { "ASCII", "TEXT", 11, "column 1 'ft': expected the file type ASCII, BINARY, BINARY32 or FLOAT32, found \"TEXT\"" },
    };

    [Theory]
    [MemberData(nameof(BadConfigurations))]
    public void A_bad_line_is_named_with_what_was_expected(string replace, string by, int line, string message)
    {
        var cfg = new SmallRecord { LineEnd = "\n" }.Cfg;
        Assert.Contains(replace, cfg, StringComparison.Ordinal);

        var at = cfg.IndexOf(replace, StringComparison.Ordinal);
        cfg = cfg[..at] + by + cfg[(at + replace.Length)..];
        var error = Assert.Throws<FormatReadException>(() => ComtradeConfigurationReader.Read(Encoding.UTF8.GetBytes(cfg), "small.cfg", []));

        Assert.Contains(message, error.Message.Replace($" (byte {error.ByteOffset})", "", StringComparison.Ordinal), StringComparison.Ordinal);
        Assert.Equal(line, error.Line);
        // The offset points at what was found.
        var found = error.Found == "nothing" ? "," : error.Found.Trim('"', '…');
        Assert.StartsWith(found, cfg[(int)error.ByteOffset!.Value..], StringComparison.Ordinal);
        Assert.StartsWith("Cannot read 'small.cfg': line ", error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Too_many_rates_are_told_where_the_date_should_stand()
    {
        var error = new SmallRecord { Rates = ["1", "1000,3", "900"] }.Fail();

        Assert.Contains("expected a date and a time, such as 31/01/2026,23:59:59.000000, found \"900\"", error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void An_empty_file_says_what_was_expected()
    {
        var error = Assert.Throws<FormatReadException>(() => ComtradeConfigurationReader.Read([], "empty.cfg", []));

        Assert.Equal(
            "Cannot read 'empty.cfg': line 1 (byte 0): expected the station line: name, recorder, revision year, found the end of the configuration.\nThe .cfg is cut short: copy it again from the recorder.",
            error.Message);
    }

    [Fact]
    public void Text_in_utf_16_is_refused_with_what_to_do()
    {
        var error = Assert.Throws<FormatReadException>(() => ComtradeConfigurationReader.Read(
            [.. Encoding.Unicode.GetPreamble(), .. Encoding.Unicode.GetBytes(new SmallRecord().Cfg)], "small.cfg", []));

        Assert.Contains("found UTF-16 text", error.Message, StringComparison.Ordinal);
        Assert.Contains("Save the file as UTF-8", error.Hint, StringComparison.Ordinal);
    }

    private static ComtradeConfiguration Read(SmallRecord record, out List<ReadWarning> warnings)
    {
        warnings = [];
        return ComtradeConfigurationReader.Read(record.CfgFile.Bytes.Span, record.CfgFile.Name, warnings);
    }
}
