using System.Globalization;
using System.Text;
using Leadwright.Core.Signals;
using Leadwright.Core.Signals.Lanes;
using Leadwright.Formats.Comtrade;
using Leadwright.Formats.Csv;
using Leadwright.Formats.Sampling;

namespace Leadwright.Formats.Tests.Sampling;

/// <summary>Text that is read line by line gives the samples of the whole file to the last bit, whatever the size of the blocks, and goes on
/// where another reader of it stopped.</summary>
public sealed class StreamedTextTests
{
    private const int Rows = 3000;

    public static TheoryData<string> Cases => [.. s_cases.Keys];

    private static readonly Dictionary<string, (string Cfg, string Dat)> s_cases = new()
    {
        ["usual"] = (Cfg(), Dat()),
        ["carriage returns alone"] = (Cfg(), Dat(end: "\r")),
        ["two carriage returns"] = (Cfg(), Dat(end: "\r\r\n")),
        ["a gap and a step back"] = (Cfg(), Dat(stamp: row => (row < 900 ? row : row < 2000 ? row + 500 : row - 300) * 1000L)),
        ["missing values"] = (Cfg(), Dat(value: (row, channel) => row % 97 == channel ? "" : row % 101 == 0 ? "99999" : null)),
        ["padding behind the end"] = (Cfg(), Dat() + new string('\0', 700_000)),
        ["a last line cut short"] = (Cfg(), Dat()[..^9]),
        ["more samples than stated"] = (Cfg(stated: 2990), Dat()),
        ["stamps that don't agree"] = (Cfg(), Dat(stamp: row => row * 7L)),
        ["no stamps"] = (Cfg(), Dat(stamp: _ => null)),
        ["decimals and blanks"] = (Cfg(), Dat(value: (row, channel) => (channel - (row * 0.125)).ToString(CultureInfo.InvariantCulture) + " ")),
    };

    [Theory]
    [MemberData(nameof(Cases))]
    public void Comtrade_text_is_that_of_the_whole_record(string name)
    {
        var (cfg, dat) = (TestData.Text("x.cfg", s_cases[name].Cfg), TestData.Text("x.dat", s_cases[name].Dat));
        var whole = ComtradeReader.Read(cfg, dat);
        Compare(
            () => new RecordingSource("x.dat", whole.Recording, whole.Warnings),
            () => ComtradeFiles.TryOpen(cfg, "x.dat", Stream(dat))!);
    }

    [Theory]
    [MemberData(nameof(Cases))]
    public void Comtrade_text_within_one_file_is_that_of_the_whole_record(string name)
    {
        var cff = TestData.Text(
            "x.cff", $"--- file type: CFG ---\r\n{s_cases[name].Cfg}--- file type: HDR ---\r\nfree\r\n--- file type: DAT ASCII ---\r\n{s_cases[name].Dat}");
        var whole = ComtradeReader.ReadCombined(cff);
        Compare(
            () => new RecordingSource("x.cff", whole.Recording, whole.Warnings),
            () => ComtradeFiles.TryOpenCombined("x.cff", Stream(cff))!);
    }

    // Records that others published (tests/data/README.md); those of several rates are read whole.
    [Fact]
    public void Published_records_are_the_same_either_way()
    {
        var count = 0;
        foreach (var path in Directory.EnumerateFiles(Path.Combine(TestData.Folder, "comtrade"), "*.cfg", SearchOption.AllDirectories))
        {
            var data = Path.ChangeExtension(path, ".dat");
            if (!File.Exists(data)) continue;
            var (cfg, dat) = (TestData.File(path), TestData.File(data));
            ComtradeRecording whole;
            try
            {
                whole = ComtradeReader.Read(cfg, dat);
            }
            catch (FormatReadException)
            {
                continue;
            }

            using var probe = whole.Configuration.DataType == ComtradeDataType.Ascii ? TryProbe(cfg, dat) : null;
            if (probe is null) continue;
            count++;
            Compare(
                () => new RecordingSource("x", whole.Recording, whole.Warnings), () => ComtradeFiles.TryOpen(cfg, "x", Stream(dat))!);
        }

        Assert.True(count > 0);
    }

    [Theory]
    [InlineData("comtrade/basic/sample_bin")]
    [InlineData("comtrade/relay-a/1")]
    public void Binary_data_within_one_file_is_that_of_two_files(string record)
    {
        var (cfg, dat) = (TestData.File(record + ".cfg"), TestData.File(record + ".dat"));
        if (ComtradeFiles.TryOpen(cfg, "x", Stream(dat)) is not { } probe) return;
        probe.Dispose();
        var bytes = new MemoryStream();
        bytes.Write(Encoding.ASCII.GetBytes("--- file type: CFG ---\r\n"));
        bytes.Write(cfg.Bytes.Span);
        bytes.Write(Encoding.ASCII.GetBytes($"\r\n--- file type: DAT BINARY: {dat.Bytes.Length} ---\r\n"));
        bytes.Write(dat.Bytes.Span);
        bytes.Write(Encoding.ASCII.GetBytes("\r\n--- file type: INF ---\r\nx\r\n"));
        Compare(
            () => ComtradeFiles.TryOpen(cfg, "x", Stream(dat))!,
            () => ComtradeFiles.TryOpenCombined("x", new MemoryStream(bytes.ToArray()))!);
    }

    public static TheoryData<string> Tables => [.. s_tables.Keys];

    private static readonly Dictionary<string, string> s_tables = new()
    {
        ["time column"] = Table("time (s),V1 (V),I1 (mA)", row => $"{Text(row / 5000.0)},{Text(Wave(row))},{row}"),
        ["a gap"] = Table("time (ms),V1 (kV),I1 (A)", row => $"{Text((row < 1234 ? row : row + 800) / 5.0)},{Text(Wave(row))},{row}"),
        ["no time column"] = "# rate_hz: 5000\n# line_frequency_hz: 50\n# start: 2026-03-02T10:00:00\n" + Table("V1 (V),I1 (A)", row => $"{Text(Wave(row))},{row}"),
        ["decimal commas"] = Table("t (s);V1 (V);I1 (A)", row => $"{Text(row / 5000.0)};{Text(Wave(row))};{row}".Replace('.', ',')),
        ["quotes and empty cells"] = Table("time (s),V1 (V),I1 (A)", row => $"{Text(row / 5000.0)},\"{Text(Wave(row))}\",{(row % 50 == 0 ? "" : row % 51 == 0 ? "NaN" : "1e3")},"),
        ["dates"] = Table("time,V1 (V),I1 (A)", row => $"2026-03-02T10:00:0{Text(row / 5000.0)},{Text(Wave(row))},{row}"),
        ["slow time between"] = Table("time (s),V1 (V),I1 (A)", row => $"{Text(row < 2900 ? row / 5000.0 : row)},{Text(Wave(row))},{row}"),
        ["a last row cut short"] = Table("time (s),V1 (V),I1 (A)", row => $"{Text(row / 5000.0)},{Text(Wave(row))},{row}") + "0.6,",
        ["blank lines"] = "\n\n" + Table("time (s),V1,I1 (A)", row => $"{Text(row / 5000.0)},{Text(Wave(row))},{row}{(row % 7 == 0 ? "\n \n" : "")}"),
    };

    [Theory]
    [MemberData(nameof(Tables))]
    public void Tables_of_samples_are_those_of_the_whole_file(string name)
    {
        var file = TestData.Text("x.csv", s_tables[name]);
        var whole = CsvSampleReader.Read(file);
        var layout = CsvLayout.Of("x.csv", Stream(file), cancellation: TestContext.Current.CancellationToken);
        Compare(
            () => new RecordingSource("x.csv", whole.Recording, whole.Warnings), () => new CsvSampleSource(layout, Stream(file)));
    }

    [Fact]
    public void A_damaged_line_is_named_as_in_the_whole_file()
    {
        var dat = Dat().Replace("\r\n2000,", "\r\n2000,zz", StringComparison.Ordinal);
        var (cfg, data) = (TestData.Text("x.cfg", Cfg()), TestData.Text("x.dat", dat));
        var whole = Assert.Throws<FormatReadException>(() => ComtradeReader.Read(cfg, data));
        // The first lines are looked at when the record is opened.
        Assert.Equal(whole.Message, Assert.Throws<FormatReadException>(() => Read(ComtradeFiles.TryOpen(cfg, "x.dat", Stream(data))!, 100)).Message);

        var table = TestData.Text("x.csv", s_tables["time column"].Replace("\n0.4,", "\n0.4,zz", StringComparison.Ordinal));
        whole = Assert.Throws<FormatReadException>(() => CsvSampleReader.Read(table));
        using var rows = new CsvSampleSource(CsvLayout.Of("x.csv", Stream(table), cancellation: TestContext.Current.CancellationToken), Stream(table));
        Assert.Equal(whole.Message, Assert.Throws<FormatReadException>(() => Read(rows, 100)).Message);
    }

    private static void Compare(Func<SampleSource> whole, Func<SampleSource> streamed)
    {
        using var first = whole();
        var expected = Read(first, 1 << 16);
        Assert.NotEmpty(expected.Bits);
        foreach (var block in (int[])[1, 37, 1000, 8192])
        {
            using var source = streamed();
            Assert.Equal(first.RateHertz, source.RateHertz);
            Assert.Equal(first.Start, source.Start);
            Assert.Equal(first.LineFrequencyHertz, source.LineFrequencyHertz);
            Assert.Equal(first.Channels.Select(channel => (channel.Name, channel.Unit)), source.Channels.Select(channel => (channel.Name, channel.Unit)));
            var found = Read(source, block);
            Assert.Equal(expected.Segments, found.Segments);
            Assert.Equal(expected.Bits, found.Bits);
            Assert.Equal(Told(first), Told(source));
            if (block == 1) continue;
            found = Read(streamed(), block, streamed);
            Assert.Equal(expected.Segments, found.Segments);
            Assert.Equal(expected.Bits, found.Bits);
        }
    }

    // Jumps of the stamps are told one by one where a record is read block by block.
    private static IEnumerable<string> Told(SampleSource source) =>
        source.Warnings.Select(warning => warning.Says).Where(says => !says.Contains("stamps jump", StringComparison.Ordinal)).Order(StringComparer.Ordinal);

    private static (List<int> Bits, List<(int At, double Seconds)> Segments) Read(SampleSource source, int block, Func<SampleSource>? again = null)
    {
        var (bits, segments) = (new List<int>(), new List<(int, double)>());
        var choice = LaneChoice.Empty.With(0, 0, isTurned: false).With(5, source.Channels.Length - 1, isTurned: true);
        source.Choose(choice);
        var frames = new float[block * Lane.Count];
        var turn = 0;
        while (true)
        {
            if (again is not null && turn++ % 5 == 3)
            {
                var carrier = new StateCarrier();
                source.Carry(carrier);
                source.Dispose();
                source = again();
                source.Choose(choice);
                source.Carry(new StateCarrier(carrier.Bytes.ToArray()));
            }

            var count = source.Read(frames);
            if (count > 0) bits.AddRange(frames[..(count * Lane.Count)].Select(BitConverter.SingleToInt32Bits));
            else if (source.NextSegmentSeconds is { } seconds) segments.Add((bits.Count, Math.Round(seconds, 9)));
            else break;
        }

        if (again is not null) source.Dispose();
        return (bits, segments);
    }

    private static MemoryStream Stream(InputFile file) => new(file.Bytes.ToArray());

    private static SampleSource? TryProbe(InputFile cfg, InputFile dat)
    {
        try
        {
            return ComtradeFiles.TryOpen(cfg, "x", Stream(dat));
        }
        catch (FormatReadException)
        {
            return null;
        }
    }

    private static string Cfg(int stated = Rows) =>
        "invented,recorder,1999\r\n3,2A,1D\r\n1,V1,A,,V,0.125,0.5,0,-99999,99999,1,1,P\r\n2,I1,A,,mA,0.01,0,0,-99999,99999,1,1,P\r\n1,S1,,,0\r\n50\r\n1\r\n1000,"
        + $"{stated}\r\n02/03/2026,10:00:00.000000\r\n02/03/2026,10:00:00.000000\r\nASCII\r\n1\r\n";

    private static string Dat(string end = "\r\n", Func<int, long?>? stamp = null, Func<int, int, string?>? value = null)
    {
        var text = new StringBuilder();
        for (var row = 0; row < Rows; row++)
        {
            var time = stamp is null ? row * 1000L : stamp(row);
            string Of(int channel) => value?.Invoke(row, channel) ?? Math.Round(1000 * Wave(row + channel)).ToString(CultureInfo.InvariantCulture);
            text.Append(CultureInfo.InvariantCulture, $"{row + 1},{time},{Of(0)},{Of(1)},{row % 2}{end}");
        }

        return text.ToString();
    }

    private static string Table(string headings, Func<int, string> row) =>
        headings + "\n" + string.Concat(Enumerable.Range(0, Rows).Select(index => row(index) + "\n"));

    private static double Wave(int row) => Math.Round(325 * Math.Sin(row * 0.0628), 4);

    private static string Text(double value) => value.ToString("0.######", CultureInfo.InvariantCulture);
}
