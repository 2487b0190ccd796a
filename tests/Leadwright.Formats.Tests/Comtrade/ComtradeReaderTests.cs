using System.Text;
using Leadwright.Core.Signals;
using Leadwright.Formats.Comtrade;

namespace Leadwright.Formats.Tests.Comtrade;

public sealed partial class ComtradeReaderTests
{
    private static readonly (uint, double, double, ushort)[] s_three = [(0, 100, 10, 0), (1000, -100, 20, 1), (2000, 50, -30, 0)];

    public static TheoryData<string> DataTypes() => ["ASCII", "BINARY", "BINARY32", "FLOAT32"];

    [Theory]
    [MemberData(nameof(DataTypes))]
    public void Every_data_type_gives_the_same_values(string type)
    {
        var record = RecordOf(type, s_three).Read();

        Assert.Equal([50, -50, 25], record.Recording.Channels[0].Samples.ToArray());
        Assert.Equal([1.1, 1.2, 0.7], record.Recording.Channels[1].Samples.ToArray().Select(value => Math.Round(value, 12)));
        Assert.Equal([false, true, false], Enumerable.Range(0, 3).Select(at => record.Statuses.IsOn(0, at)));
        Assert.Equal([0, 1000, 2000], record.Stamps.ToArray());
        Assert.Equal(new RateSegment(0, 3, 1000, 0), Assert.Single(record.Recording.Segments));
        Assert.Equal(25e-6, record.Recording.Channels[1].SkewSeconds, 12);
        Assert.Empty(record.Warnings);
    }

    [Theory]
    [MemberData(nameof(DataTypes))]
    public void Binary_section_of_a_combined_file_is_read_by_its_byte_count(string type)
    {
        var small = RecordOf(type, s_three);
        var data = small.DatFile.Bytes.ToArray();
        var head = $"--- file type: CFG ---\r\n{small.Cfg}--- file type: INF ---\r\nmade up\r\n--- file type: HDR ---\r\nfree text\r\n";
        head += type == "ASCII" ? "--- file type: DAT ASCII ---\r\n" : $"--- file type: DAT {type}: {data.Length} ---\r\n";
        byte[] bytes = [.. Encoding.UTF8.GetBytes(head), .. data, .. type == "ASCII" ? ""u8 : "\r\n"u8];

        var record = ComtradeReader.ReadCombined(new InputFile("small.cff", bytes));

        Assert.Equal([50, -50, 25], record.Recording.Channels[0].Samples.ToArray());
        Assert.Equal(("free text", "made up"), (record.HeaderText, record.InformationText));
        Assert.Empty(record.Warnings);
    }

    [Theory]
    [InlineData("BINARY", -32768)]
    [InlineData("BINARY32", -2147483648)]
    [InlineData("FLOAT32", double.NaN)]
    [InlineData("FLOAT32", double.PositiveInfinity)]
    public void Missing_code_of_binary_data_is_no_number(string type, double code)
    {
        var record = RecordOf(type, [(0, 100, 10, 0), (1000, code, 20, 0), (2000, 50, code, 0)]).Read();

        Assert.Equal([50, double.NaN, 25], record.Recording.Channels[0].Samples.ToArray());
        Assert.True(double.IsNaN(record.Recording.Channels[1].Samples.Span[2]));
        Assert.Equal(2, record.Warnings.Length);
    }

    [Theory]
    [InlineData("")]
    [InlineData("  ")]
    [InlineData("99999")]
    [InlineData("+99999")]
    [InlineData("NaN")]
    public void Missing_code_of_text_is_no_number(string code)
    {
        var record = new SmallRecord { Dat = $"1,0,100,10,0\n2,1000,{code},20,1\n3,2000,50,-30,0\n" }.Read();

        Assert.Equal([50, double.NaN, 25], record.Recording.Channels[0].Samples.ToArray());
        Assert.Equal("Channel 'UA': 1 of 3 samples are marked as missing.", Assert.Single(record.Warnings).Says);
    }

    [Fact]
    public void The_number_99999_counts_where_the_stated_maximum_is_higher()
    {
        var small = new SmallRecord { Dat = "1,0,99999,10,0\n2,1000,1,20,1\n3,2000,50,-30,0\n" };
        var record = (small with { Channels = ["1,UA,A,,V,0.5,0,0,-1000000,1000000,100,1,S", .. small.Channels[1..]] }).Read();

        Assert.Equal(49999.5, record.Recording.Channels[0].Samples.Span[0]);
    }

    [Theory]
    [InlineData("kV", 1e3)]
    [InlineData("KV", 1e3)]
    [InlineData("MV", 1e6)]
    [InlineData("mV", 1e-3)]
    [InlineData(" V ", 1)]
    [InlineData("Volts", 1)]
    [InlineData("bar", 1)]
    public void Values_are_in_base_units(string unit, double factor)
    {
        var small = new SmallRecord();
        var record = (small with { Channels = [$"1,UA,A,,{unit},0.5,0,0,-32767,32767,100,1,S", .. small.Channels[1..]] }).Read();

        Assert.Equal(50 * factor, record.Recording.Channels[0].Samples.Span[0], 9);
        Assert.Equal(unit.Trim(), record.Recording.Channels[0].Unit);
    }

    [Theory]
    [InlineData("S", ComtradeScaling.AsRecorded, 1.1)]
    [InlineData("S", ComtradeScaling.Primary, 44)]
    [InlineData("s", ComtradeScaling.Primary, 44)]
    [InlineData("S", ComtradeScaling.Secondary, 1.1)]
    [InlineData("P", ComtradeScaling.Secondary, 0.0275)]
    [InlineData("p", ComtradeScaling.Primary, 1.1)]
    public void Values_are_on_the_side_asked_for(string side, ComtradeScaling scaling, double expected)
    {
        var small = new SmallRecord();
        var record = (small with { Channels = [small.Channels[0], $"2,IA,A,,A,0.01,1,0,-32767,32767,200,5,{side}", small.Channels[2]] })
            .Read(new() { Scaling = scaling });

        Assert.Equal(expected, record.Recording.Channels[1].Samples.Span[0], 9);
    }

    [Theory]
    [InlineData("0,5,S", "states no usable ratio")]
    [InlineData("5,0,S", "states no usable ratio")]
    [InlineData("200,5,", "states no side")]
    public void A_ratio_that_cannot_be_used_leaves_values_as_recorded_and_is_told(string ratio, string says)
    {
        var small = new SmallRecord();
        var record = (small with { Channels = [small.Channels[0], $"2,IA,A,,A,0.01,1,0,-32767,32767,{ratio}", small.Channels[2]] })
            .Read(new() { Scaling = ComtradeScaling.Primary });

        Assert.Equal(1.1, record.Recording.Channels[1].Samples.Span[0], 9);
        Assert.Contains(record.Warnings, warning => warning.Says.Contains("'IA' " + says, StringComparison.Ordinal));
    }

    [Fact]
    public void Stray_bytes_after_the_last_sample_are_told()
    {
        var small = RecordOf("BINARY", s_three);
        var record = (small with { Binary = [.. small.Binary!, 0x0D, 0x0A] }).Read();

        Assert.Equal(3, record.Stamps.Length);
        var warning = Assert.Single(record.Warnings);
        Assert.Equal("2 bytes after the last whole sample in 'small.dat' are left out.", warning.Says);
        Assert.Equal(42, warning.ByteOffset);
    }

    [Fact]
    public void Padding_of_a_whole_sample_is_left_out_and_told()
    {
        var small = RecordOf("BINARY", s_three);
        var record = (small with { Binary = [.. small.Binary!, .. Enumerable.Repeat((byte)0x1A, 14)] }).Read();

        Assert.Equal(3, record.Stamps.Length);
        Assert.Equal("14 bytes after the last of 3 samples in 'small.dat' are left out.", Assert.Single(record.Warnings).Says);
    }

    [Theory]
    [MemberData(nameof(DataTypes))]
    public void Samples_beyond_the_stated_ones_are_read_and_told(string type)
    {
        var record = (RecordOf(type, s_three) with { Rates = ["1", "1000,2"] }).Read();

        Assert.Equal(3, record.Stamps.Length);
        Assert.Equal(3, record.Recording.Segments.Single().Length);
        Assert.Equal("'small.dat' holds 3 samples, more than the 2 that the configuration states; all are read.", Assert.Single(record.Warnings).Says);
    }

    [Theory]
    [MemberData(nameof(DataTypes))]
    public void Fewer_samples_than_stated_are_read_and_told(string type)
    {
        var small = RecordOf(type, s_three) with { Rates = ["1", "1000,5"] };

        Assert.Equal(
            "'small.dat' holds 3 whole samples of the 5 that the configuration states; these are read.",
            Assert.Single(small.Read().Warnings).Says);
    }

    [Theory]
    [InlineData("ASCII", "expected 5 samples, found 3 whole samples.")]
    [InlineData("BINARY", "expected 5 samples of 14 bytes, found 42 bytes: 3 whole samples.")]
    public void Fewer_samples_than_stated_are_refused_when_asked(string type, string message)
    {
        var error = (RecordOf(type, s_three) with { Rates = ["1", "1000,5"] }).Fail(new() { RefuseIncomplete = true });

        Assert.Contains(message, error.Message, StringComparison.Ordinal);
        Assert.Contains("copy both files again", error.Hint, StringComparison.Ordinal);
    }

    [Fact]
    public void Data_without_one_whole_sample_is_refused()
    {
        var error = new SmallRecord { Type = "BINARY", Binary = new byte[13] }.Fail();

        Assert.StartsWith(
            "Cannot read 'small.dat': byte 0: expected 3 samples of 14 bytes, found 13 bytes: 0 whole samples.",
            error.Message, StringComparison.Ordinal);
        Assert.Contains("expected 3 samples, found 0 whole samples", new SmallRecord { Dat = "\r\n" }.Fail().Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_last_line_that_is_cut_short_is_left_out_and_told()
    {
        var record = new SmallRecord { Dat = "1,0,100,10,0\n2,1000,-100,20,1\n3,2000,5" }.Read();

        Assert.Equal(2, record.Stamps.Length);
        Assert.Equal(["The last line of 'small.dat' is cut short; the sample is left out.",
            "'small.dat' holds 2 whole samples of the 3 that the configuration states; these are read."],
            record.Warnings.Select(warning => warning.Says));
    }

    [Theory]
    [InlineData("1,0,100,10,0\n2,1000,x7,20,1\n3,2000,5,6,0\n", 2, "UA", "line 2, column 3 'UA' (byte 20): expected a number, found \"x7\"")]
    [InlineData("1,0,100,10,0\n2,1000,7,20,2\n3,2000,5,6,0\n", 2, "TRIP", "line 2, column 5 'TRIP' (byte 25): expected 0 or 1, found \"2\"")]
    [InlineData("1,0,100,10,0\n2,y,7,20,1\n3,2000,5,6,0\n", 2, "timestamp", "column 2 'timestamp' (byte 15): expected a number, found \"y\"")]
    [InlineData("q,0,100,10,0\n2,1,7,20,1\n3,2000,5,6,0\n", 1, "n", "column 1 'n' (byte 0): expected a sample number, found \"q\"")]
    [InlineData("1,0,100,10\n2,1,7,20,1\n3,2000,5,6,0\n", 1, null, "expected 5 fields (number, time stamp, 2 analog, 1 status), found 4")]
    [InlineData("1,0,100,10,0,4\n2,1,7,20,1\n3,2000,5,6,0\n", 1, null, "expected 5 fields (number, time stamp, 2 analog, 1 status), found 6")]
    public void A_damaged_line_is_named(string dat, int line, string? field, string message)
    {
        var error = new SmallRecord { Dat = dat }.Fail();

        Assert.Equal((line, field, "small.dat"), (error.Line, error.Field, error.Source));
        Assert.Contains(message, error.Message, StringComparison.Ordinal);
        Assert.EndsWith("The line is damaged, or the .dat does not belong to this .cfg.", error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Text_data_may_have_reals_blanks_closing_commas_blank_lines_and_padding()
    {
        var record = new SmallRecord { Dat = " 1 , 0.0, 100.0 ,1.0e1,0,\r\n\r\n2,1000,-100,+20,1,\r\n3,2000,50,-30,0,\r\n\u001A\u001A" }.Read();

        Assert.Equal([50, -50, 25], record.Recording.Channels[0].Samples.ToArray());
        Assert.Equal([1.1, 1.2, 0.7], record.Recording.Channels[1].Samples.ToArray().Select(value => Math.Round(value, 12)));
        Assert.Empty(record.Warnings);
    }

    [Fact]
    public void Data_of_another_width_than_stated_is_refused_with_the_type_that_fits()
    {
        var error = (RecordOf("BINARY32", s_three) with { Type = "BINARY" }).Fail();

        Assert.Contains("expected 3 samples of 14 bytes (BINARY), found 54 bytes, which is 3 samples of 18 bytes", error.Message, StringComparison.Ordinal);
        Assert.Contains("should read BINARY32 or FLOAT32", error.Hint, StringComparison.Ordinal);
    }

    [Fact]
    public void Text_where_binary_is_stated_is_refused()
    {
        var error = new SmallRecord { Type = "BINARY" }.Fail();

        Assert.Contains("expected binary data (BINARY), found text", error.Message, StringComparison.Ordinal);
        Assert.Contains("should read ASCII", error.Hint, StringComparison.Ordinal);
    }

    [Fact]
    public void Binary_where_text_is_stated_is_refused()
    {
        var error = (RecordOf("BINARY", s_three) with { Type = "ASCII" }).Fail();

        Assert.Equal("small.dat", error.Source);
        Assert.Equal(1, error.Line);
    }

    [Fact]
    public void Sample_numbers_that_do_not_run_on_are_told()
    {
        var small = RecordOf("BINARY", s_three);
        small.Binary![14] = 77;

        Assert.Contains("do not run on at 2 of 3 samples", Assert.Single(small.Read().Warnings).Says, StringComparison.Ordinal);
    }

    [Theory]
    [MemberData(nameof(DataTypes))]
    public void Without_a_rate_the_stamps_say_when_and_a_gap_cuts_the_recording(string type)
    {
        (uint, double, double, ushort)[] samples =
            [(0, 1, 1, 0), (1000, 2, 1, 0), (2000, 3, 1, 0), (3000, 4, 1, 0), (9000, 5, 1, 0), (9500, 6, 1, 0), (10000, 7, 1, 0)];
        var record = (RecordOf(type, samples) with { Rates = ["0", "0,7"] }).Read();

        Assert.Equal(
            [(0, 4, 1000, 0), (4, 3, 2000, 9000)],
            record.Recording.Segments.Select(segment =>
                (segment.FirstIndex, segment.Length, (int)Math.Round(segment.RateHertz), (int)Math.Round(segment.StartSeconds * 1e6))));
    }

    [Theory]
    [InlineData("BINARY", "expected rising time stamps, since the configuration states no sampling rate, found 1000 after 1000 at sample 3")]
    [InlineData("ASCII", "found no stamp at sample 3")]
    public void Without_a_rate_stamps_that_do_not_rise_are_refused(string type, string message)
    {
        var small = RecordOf(type, [(0, 1, 1, 0), (1000, 2, 1, 0), (1000, 3, 1, 0)]) with
        {
            Rates = ["0", "0,3"],
            Dat = "1,0,1,1,0\n2,1000,1,1,0\n3,,1,1,0\n",
        };

        var error = small.Fail();

        Assert.Contains(message, error.Message, StringComparison.Ordinal);
        Assert.Contains("Put the sampling rate into a copy of the .cfg", error.Hint, StringComparison.Ordinal);
    }

    [Fact]
    public void A_gap_in_the_stamps_cuts_a_stretch_of_one_rate()
    {
        var samples = Enumerable.Range(0, 40).Select(at => ((uint)((at * 1000) + (at >= 25 ? 500_000 : 0)), 1.0, 1.0, (ushort)0)).ToArray();
        var record = (RecordOf("BINARY", samples) with { Rates = ["1", "1000,40"] }).Read();

        Assert.Equal([(0, 25, 0.0), (25, 15, 0.525)], record.Recording.Segments.Select(segment => (segment.FirstIndex, segment.Length, Math.Round(segment.StartSeconds, 9))));
        Assert.Contains("jump at 1 places", Assert.Single(record.Warnings).Says, StringComparison.Ordinal);
    }

    [Fact]
    public void Missing_stamps_leave_the_stated_rate_to_rule()
    {
        var record = RecordOf("BINARY", [(uint.MaxValue, 1, 1, 0), (uint.MaxValue, 2, 1, 0), (uint.MaxValue, 3, 1, 0)]).Read();

        Assert.Equal(new RateSegment(0, 3, 1000, 0), Assert.Single(record.Recording.Segments));
        Assert.All(record.Stamps.ToArray(), stamp => Assert.True(double.IsNaN(stamp)));
    }

    [Fact]
    public void Binary_stamps_run_on_when_their_32_bits_start_over()
    {
        var samples = Enumerable.Range(0, 20).Select(at => (unchecked(4294960000u + ((uint)at * 1000)), 1.0, 1.0, (ushort)0)).ToArray();
        var record = (RecordOf("BINARY", samples) with { Rates = ["0", "0,20"] }).Read();

        Assert.Equal((20, 1000.0), (record.Recording.Segments.Single().Length, Math.Round(record.Recording.Segments.Single().RateHertz, 6)));
    }

    [Fact]
    public void Nanosecond_dates_make_the_stamps_nanoseconds()
    {
        var record = (RecordOf("BINARY", [(0, 1, 1, 0), (1_000_000, 2, 1, 0), (2_000_000, 3, 1, 0)]) with
        {
            Year = "2013",
            Rates = ["0", "0,3"],
            Start = "31/01/2026,10:20:30.123456789",
        }).Read();

        Assert.Equal(1000, Assert.Single(record.Recording.Segments).RateHertz, 6);
    }

    [Fact]
    public void Status_channels_alone_make_a_record_without_channels()
    {
        var record = new SmallRecord
        {
            Totals = "2,0A,2D",
            Channels = ["1,TRIP,,,0", "2,ALARM,,,1"],
            Dat = "1,0,0,1\n2,1000,1,1\n3,2000,0,0\n",
        }.Read();

        Assert.Empty(record.Recording.Channels);
        Assert.Equal(3, record.Recording.Segments.Single().Length);
        Assert.True(record.Statuses.IsOn(0, 1));
        Assert.Equal([false, true], record.Configuration.Statuses.Select(channel => channel.IsNormallyOn));
    }

    [Theory]
    [InlineData("DAT BINARY", "The DAT section states no byte count; all that follows is read as data.")]
    [InlineData("DAT BINARY: 56", "The DAT section of 'small.cff' states 56 bytes of data, but 42 follow; these are read.")]
    public void A_combined_file_with_a_wrong_byte_count_is_read_and_told(string opening, string says)
    {
        var small = RecordOf("BINARY", s_three);
        byte[] bytes = [.. Encoding.UTF8.GetBytes($"--- FILE TYPE: CFG ---\n{small.Cfg}--- file type: {opening} ---\n"), .. small.Binary!];

        var record = ComtradeReader.ReadCombined(new InputFile("small.cff", bytes));

        Assert.Equal([50, -50, 25], record.Recording.Channels[0].Samples.ToArray());
        Assert.Equal(says, Assert.Single(record.Warnings).Says);
    }

    [Fact]
    public void Many_stated_channels_over_little_data_reserve_little()
    {
        var channels = Enumerable.Range(1, 20_000).Select(number => $"{number},U{number},,,V,1,0,0,,,1,1,S").ToArray();
        var small = new SmallRecord { Totals = "20000,20000A,0D", Channels = channels, Dat = new string('\n', 100_000) + "1,0,5" };
        var before = GC.GetAllocatedBytesForCurrentThread();

        var error = small.Fail();

        Assert.Contains("found 0 whole samples", error.Message, StringComparison.Ordinal);
        // One double for each line and channel would be 16 gigabytes.
        Assert.InRange(GC.GetAllocatedBytesForCurrentThread() - before, 0, 200_000_000);
    }

    [Theory]
    [InlineData("", "expected a section '--- file type: CFG ---', found no section at all")]
    [InlineData("--- file type: CFG ---\nS,R,1999\n", "expected a section '--- file type: DAT ---', found only CFG")]
    [InlineData("--- file type: DAT ASCII ---\n1,0,1\n", "expected a section '--- file type: CFG ---', found only DAT")]
    public void A_combined_file_without_its_sections_is_refused(string text, string message)
    {
        var error = Assert.Throws<FormatReadException>(() => ComtradeReader.ReadCombined(TestData.Text("x.cff", text)));

        Assert.Contains(message, error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_combined_file_whose_sections_disagree_is_refused()
    {
        var text = $"--- file type: CFG ---\n{new SmallRecord().Cfg}--- file type: DAT BINARY: 42 ---\n{new string('x', 42)}";
        var error = Assert.Throws<FormatReadException>(() => ComtradeReader.ReadCombined(TestData.Text("x.cff", text)));

        Assert.Contains("expected a DAT section of ASCII data, as the CFG section states, found one of BINARY data", error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Errors_in_a_combined_file_name_the_line_of_the_whole_file()
    {
        var text = $"--- file type: CFG ---\n{new SmallRecord { LineEnd = "\n" }.Cfg}--- file type: DAT ASCII ---\n1,0,5,6,0\n2,1000,z,6,0\n3,2000,5,6,0\n";
        var error = Assert.Throws<FormatReadException>(() => ComtradeReader.ReadCombined(TestData.Text("x.cff", text)));

        Assert.Equal(16, error.Line);
        Assert.Equal("z", text.Split('\n')[15].Split(',')[2]);
        Assert.Equal(text.IndexOf(",z,", StringComparison.Ordinal) + 1, error.ByteOffset);
    }

    [Theory]
    [InlineData("sample_ascii.cff", null)]
    [InlineData("sample_float32.cff", null)]
    [InlineData("sample_bin.cfg", "sample_bin.dat")]
    [InlineData("sample_iso8859-1_bin.cfg", "sample_iso8859-1_bin.dat")]
    [InlineData("sample_ascii.cfg", "sample_ascii.dat")]
    public void Files_cut_at_any_byte_are_read_or_refused_with_reason(string first, string? second)
    {
        var whole = TestData.File($"comtrade/basic/{first}");
        var dat = second is null ? null : TestData.File($"comtrade/basic/{second}");
        for (var length = 0; length <= whole.Bytes.Length; length++)
        {
            var cut = new InputFile(whole.Name, whole.Bytes[..length]);
            OnlyFormatErrors(() => dat is null ? ComtradeReader.ReadCombined(cut) : ComtradeReader.Read(cut, dat));
        }

        for (var length = 0; length <= dat?.Bytes.Length; length++)
        {
            var cut = new InputFile(dat.Name, dat.Bytes[..length]);
            OnlyFormatErrors(() => ComtradeReader.Read(whole, cut));
        }
    }

    [Theory]
    [InlineData("sample_ascii.cff")]
    [InlineData("sample_float32.cff")]
    public void Files_with_any_byte_changed_are_read_or_refused_with_reason(string name)
    {
        var whole = TestData.File($"comtrade/basic/{name}");
        foreach (var other in (byte[])[0, (byte)',', (byte)'9', (byte)'\n', 0xFF])
        {
            for (var index = 0; index < Math.Min(whole.Bytes.Length, 1200); index++)
            {
                var bytes = whole.Bytes.ToArray();
                bytes[index] = other;
                OnlyFormatErrors(() => ComtradeReader.ReadCombined(new InputFile(whole.Name, bytes)));
            }
        }
    }

    // Any other exception escapes and fails the test.
    private static void OnlyFormatErrors(Func<object> read)
    {
        try
        {
            _ = read();
        }
        catch (FormatReadException exception)
        {
            Assert.StartsWith("Cannot read '", exception.Message, StringComparison.Ordinal);
        }
    }

    private static SmallRecord RecordOf(string type, (uint, double, double, ushort)[] samples) => type switch
    {
        "BINARY" => new() { Type = type, Binary = SmallRecord.Records(samples) },
        "BINARY32" => new() { Type = type, Binary = SmallRecord.Records32(samples) },
        "FLOAT32" => new() { Type = type, Binary = SmallRecord.RecordsSingle(samples) },
        _ => new()
        {
            Dat = string.Concat(samples.Select((sample, at) => FormattableString.Invariant(
                $"{at + 1},{sample.Item1},{sample.Item2},{sample.Item3},{sample.Item4}\r\n"))),
        },
    };
}
