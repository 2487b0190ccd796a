using System.Globalization;
using System.Text;
using Leadwright.Core.Signals;
using Leadwright.Formats.Csv;

namespace Leadwright.Formats.Tests.Csv;

public sealed class CsvSampleReaderTests
{
    private const string Plain = "time (s),V1 (V),I1 (A)\n0,325.5,1.5\n0.001,-10,2\n0.002,20.25,-3\n";

    [Theory]
    [InlineData(Plain)]
    [InlineData("\uFEFFtime (s),V1 (V),I1 (A)\r\n0,325.5,1.5\r\n0.001,-10,2\r\n0.002,20.25,-3")]
    [InlineData("time [ms],V1 [kV],I1 [mA]\n0,0.3255,1500\n1,-0.01,2000\n2,0.02025,-3000\n")]
    [InlineData("time_s,V1_V,I1_A\n0,325.5,1.5\n0.001,-10,2\n0.002,20.25,-3\n")]
    [InlineData("t/us;V1/V;I1/A\n0;325,5;1,5\n1000;-10;2\n2000;20,25;-3\n")]
    [InlineData("time (s);V1 (V);I1 (A)\n0;325.5;1.5\n0.001;-10;2\n0.002;20.25;-3\n")]
    [InlineData("time (s)\tV1 (V)\tI1 (A)\n0\t325,5\t1,5\n0,001\t-10\t2\n0,002\t20,25\t-3\n")]
    [InlineData("\"time (s)\",\"V1 (V)\",\"I1 (A)\"\n\"0\",\"325.5\",1.5\n0.001,-10,2\n0.002, 20.25 ,-3\n")]
    [InlineData("V1 (V),I1 (A),time (s)\n325.5,1.5,0\n-10,2,0.001\n20.25,-3,0.002\n")]
    [InlineData("# made by hand\n# rate_hz: 1000\nV1 (V),I1 (A)\n325.5,1.5\n-10,2\n\n20.25,-3\n")]
    [InlineData("# columns: V1 (V), I1 (A)\n# rate_hz: 1000\n325.5,1.5\n-10,2\n20.25,-3\n")]
    [InlineData("Timestamp,V1 (V),I1 (A)\n2026-03-02T10:00:00.000,325.5,1.5\n2026-03-02T10:00:00.001,-10,2\n2026-03-02T10:00:00.002,20.25,-3\n")]
    public void Every_way_to_write_a_table_gives_the_same_samples(string text)
    {
        var table = Read(text);

        Assert.Equal(["V1", "I1"], table.Recording.Channels.Select(channel => channel.Name));
        Assert.Equal([325.5, -10, 20.25], table.Recording.Channels[0].Samples.ToArray().Select(value => Math.Round(value, 9)));
        Assert.Equal([1.5, 2, -3], table.Recording.Channels[1].Samples.ToArray().Select(value => Math.Round(value, 9)));
        var segment = Assert.Single(table.Recording.Segments);
        Assert.Equal((0, 3, 0.0), (segment.FirstIndex, segment.Length, segment.StartSeconds));
        Assert.Equal(1000, segment.RateHertz, 6);
        Assert.Empty(table.Warnings);
    }

    [Fact]
    public void A_heading_may_end_in_the_letter_of_a_phase()
    {
        var table = Read("time (s),I_A,V_A,I_B,I_N_mA\n0,1,2,3,4\n0.001,1,2,3,4\n0.002,1,2,3,4\n");

        Assert.Equal([("I_A", ""), ("V_A", ""), ("I_B", ""), ("I_N", "mA")], table.Recording.Channels.Select(channel => (channel.Name, channel.Unit)));
        Assert.Equal(0.004, table.Recording.Channels[3].Samples.Span[0]);
        Assert.Equal(3, table.Warnings.Length);
        Assert.Contains("Column 'I_A' states no unit", table.Warnings[0].Says, StringComparison.Ordinal);
    }

    [Fact]
    public void Remark_lines_give_start_and_line_frequency_and_others_are_told()
    {
        var table = Read("# start: 2026-03-02T10:00:00.5\n# line_frequency_hz: 60\n# weather: dry\n# a remark\n" + Plain);

        Assert.Equal(new DateTime(2026, 3, 2, 10, 0, 0, 500), table.Recording.Start);
        Assert.Equal(60, table.Recording.LineFrequencyHertz);
        var warning = Assert.Single(table.Warnings);
        Assert.Equal(("The line '# weather: …' is not known and is left out.", 3), (warning.Says, warning.Line));
    }

    [Fact]
    public void Dates_in_the_time_column_give_the_start() =>
        Assert.Equal(
            new DateTime(2026, 3, 2, 10, 0, 0),
            Read("timestamp,V1 (V)\n2026-03-02 10:00:00,1\n2026-03-02 10:00:00.001,2\n2026-03-02 10:00:00.002,3\n").Recording.Start);

    // Three line currents of a real motor without heading: rms and sequence as in tests/data/README.md, waveform/motor.
    [Theory]
    [InlineData("SC_HLT_001", 2.0279, 1.8815, 2.0465)]
    [InlineData("SC_HLT_002", 1.9714, 1.9582, 1.9761)]
    [InlineData("SC_A1_B0_C0_001", 2.1552, 2.1261, 1.9351)]
    [InlineData("SC_A4_B0_C0_001", 2.9411, 3.1014, 2.0646)]
    [InlineData("SC_A0_B2_C0_001", 1.9584, 2.3265, 2.7095)]
    [InlineData("SC_A0_B0_C3_001", 2.7240, 1.8885, 2.8264)]
    public void Motor_currents_have_the_published_size(string name, double first, double second, double third)
    {
        var table = CsvSampleReader.Read(
            TestData.File($"waveform/motor/{name}.csv"),
            new() { RateHertz = 1000, Columns = ["I1 (A)", "I2 (A)", "I3 (A)"] });

        Assert.Equal(new RateSegment(0, 1000, 1000, 0), Assert.Single(table.Recording.Segments));
        // Over 950 samples: 57 whole cycles of 60 Hz.
        Assert.Equal(
            [first, second, third],
            table.Recording.Channels.Select(channel => Math.Round(Math.Sqrt(channel.Samples.ToArray().Take(950).Average(value => value * value)), 4)),
            (expected, actual) => Math.Abs(expected - actual) < 0.005 * expected);
        Assert.Empty(table.Warnings);
    }

    [Fact]
    public void Missing_cells_are_no_numbers_and_are_counted()
    {
        var table = Read("time (s),V1 (V),I1 (A)\n0,,1\n0.001,NaN,2\n0.002,3,4\n");

        Assert.Equal([double.NaN, double.NaN, 3], table.Recording.Channels[0].Samples.ToArray());
        Assert.Equal("Column 'V1': 2 of 3 samples are missing.", Assert.Single(table.Warnings).Says);
    }

    [Fact]
    public void A_gap_in_time_cuts_the_recording()
    {
        var table = Read("time (s),V1 (V)\n0,1\n0.001,2\n0.002,3\n0.102,4\n0.103,5\n");

        Assert.Equal([(0, 3, 0.0), (3, 2, 0.102)], table.Recording.Segments.Select(segment => (segment.FirstIndex, segment.Length, segment.StartSeconds)));
        Assert.All(table.Recording.Segments, segment => Assert.Equal(1000, segment.RateHertz, 6));
        Assert.Equal(("There is a gap of 0.1 s before this line; the recording is cut there.", 5), (table.Warnings[0].Says, table.Warnings[0].Line));
    }

    [Fact]
    public void Rounded_times_still_give_the_true_rate()
    {
        var rows = string.Concat(Enumerable.Range(0, 512).Select(at => string.Create(CultureInfo.InvariantCulture, $"{at / 5120.0:0.0000},1\n")));
        var segment = Assert.Single(Read("time (s),V1 (V)\n" + rows).Recording.Segments);

        Assert.Equal(5120, segment.RateHertz, 5.0);
    }

    [Fact]
    public void A_last_row_that_is_cut_short_is_left_out_and_told()
    {
        var table = Read(Plain[..^5]);

        Assert.Equal(2, table.Recording.Channels[0].Samples.Length);
        Assert.Equal(("The last row is cut short and is left out.", 4), (table.Warnings[0].Says, table.Warnings[0].Line));
    }

    [Fact]
    public void A_rate_beside_a_time_column_that_disagrees_is_told()
    {
        var table = CsvSampleReader.Read(TestData.Text("x.csv", Plain), new() { RateHertz = 2000 });

        Assert.Equal(1000, table.Recording.Segments.Single().RateHertz, 6);
        Assert.Contains("stated as 2000 Hz, but the time column runs at 1000 Hz", Assert.Single(table.Warnings).Says, StringComparison.Ordinal);
    }

    public static TheoryData<string, string> BadTables() => new()
    {
        { "", "Cannot read 'x.csv': expected a heading row and rows of samples, found no row." },
        { "# only: remarks\n", "expected a heading row and rows of samples, found no row" },
        { "time (s),V1 (V)\n", "line 1 (byte 0): expected rows of samples below the headings, found no row" },
        { "0,1\n0.001,2\n", "line 1 (byte 0): expected a heading row with a name and unit for each column, such as 'time (s),V1 (V),I1 (A)', found \"0,1\"" },
        { "time (s)\n1\n", "expected at least one column of samples, found \"time (s)\"" },
        { "V1 (V)\n1\n2\n", "expected a time column, or a stated sampling rate, found neither" },
        { "time (s),V1 (V)\n0,1\n", "expected at least two samples, found one" },
        { "time (h),V1 (V)\n0,1\n1,2\n", "column 1 'time': expected a unit of time (s, ms, us, ns), found \"h\"" },
        { "time (s),V1 (V)\n0,1\n0.001,x\n0.002,3\n", "line 3, column 2 'V1' (byte 26): expected a number, found \"x\"" },
        { "time (s),V1 (V)\n0,1\n0.001\n0.002,3\n", "line 3 (byte 20): expected 2 columns as in the heading row, found 1" },
        { "time (s),V1 (V)\n0,1\nsoon,2\n0.002,3\n", "line 3, column 1 'time' (byte 20): expected a time, found \"soon\"" },
        { "time (s),V1 (V)\n0,1\n0.001,2\n0.0005,3\n0.002,3\n0.003,3\n0.004,3\n0.005,3\n", "line 4, column 1 'time' (byte 28): expected a time" },
        { "time (s),V1 (V)\n0,1\n0,2\n0,3\n", "found 0 after 0" },
        { "# rate_hz: fast\nV1 (V)\n1\n", "line 1, 'rate_hz' (byte 0): expected a number above zero, found \"fast\"" },
        { "# rate_hz: -5\nV1 (V)\n1\n", "expected a number above zero, found \"-5\"" },
        { "# start: noon\nV1 (V)\n1\n", "expected a date and time such as 2026-03-02T10:00:00, found \"noon\"" },
        { "time (s),V1 (V)\n0,1\n60,2\n120,3\n", "expected samples of a waveform, at least 120 a second, found 0.01667 a second" },
    };

    [Theory]
    [MemberData(nameof(BadTables))]
    public void A_bad_table_is_refused_with_place_and_reason(string text, string message)
    {
        var error = Fail(text);

        Assert.Contains(message, error.Message, StringComparison.Ordinal);
        Assert.False(string.IsNullOrEmpty(error.Hint) && error.Field is null);
    }

    [Theory]
    [InlineData("time (s);V1 (V)\n0;1.5\n0.001;2,5\n0.002;3.5\n", "Read it with --decimal-mark comma.")]
    [InlineData("time (s);V1 (V)\n0;1,5\n0,001;2.5\n0,002;3,5\n", "Read it with --decimal-mark point.")]
    [InlineData("time (s),V1 (V)\n0,1,5\n0,001,2,5\n", "The decimal mark may be ','")]
    public void A_wrong_decimal_mark_is_told(string text, string hint) =>
        Assert.Contains(hint, Fail(text).Hint, StringComparison.Ordinal);

    [Fact]
    public void Options_win_over_what_the_text_looks_like()
    {
        var table = CsvSampleReader.Read(TestData.Text("x.csv", "V1 (V)|I1 (A)\n1|2\n3|4\n"), new() { Separator = '|', RateHertz = 500 });

        Assert.Equal([1, 3], table.Recording.Channels[0].Samples.ToArray());
    }

    [Fact]
    public void Text_that_is_no_utf_8_neither_fails_nor_shifts()
    {
        var table = CsvSampleReader.Read(TestData.Latin1("x.csv", "time (µs),Spannung Übergang L1 (V)\n0,1\n1000,2\n2000,3\n"));

        Assert.Equal("Spannung Übergang L1", table.Recording.Channels.Single().Name);
        Assert.Equal(1000, table.Recording.Segments.Single().RateHertz, 6);
    }

    [Fact]
    public void A_table_cut_at_any_byte_is_read_or_refused_with_reason()
    {
        foreach (var text in (string[])[Plain, "# rate_hz: 1000\n\"V1 (V)\";I1 (A)\n1,5;2\n3;\"4,5\"\n"])
        {
            var bytes = Encoding.UTF8.GetBytes(text);
            for (var length = 0; length <= bytes.Length; length++)
            {
                var cut = new InputFile("x.csv", bytes.AsMemory(0, length));
                if (Record.Exception(() => CsvSampleReader.Read(cut)) is { } exception) Assert.IsType<FormatReadException>(exception);
            }
        }
    }

    private static CsvSampleRecording Read(string text) => CsvSampleReader.Read(TestData.Text("x.csv", text));

    private static FormatReadException Fail(string text) => Assert.Throws<FormatReadException>(() => Read(text));
}
