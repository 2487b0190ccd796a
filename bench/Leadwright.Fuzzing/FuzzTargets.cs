using System.Runtime.CompilerServices;
using System.Text;
using Leadwright.Core.Signals;
using Leadwright.Formats;
using Leadwright.Formats.Comtrade;
using Leadwright.Formats.Csv;
using Leadwright.Formats.Logs;
using Leadwright.Formats.Matching;
using Leadwright.Formats.Pqdif;
using Leadwright.Formats.Priors;
using Leadwright.Formats.Readings;
using Leadwright.Formats.Sampling;

namespace Leadwright.Fuzzing;

/// <summary>Every reader of bytes from anywhere.</summary>
public static class FuzzTargets
{
    /// <summary>All targets, or the one of a name.</summary>
    /// <param name="name">Its name; null for all.</param>
    /// <exception cref="ArgumentException">There is none of that name.</exception>
    public static IEnumerable<FuzzTarget> All(string? name = null)
    {
        var makers = Makers();
        if (name is null) return makers.Select(maker => maker.Value());
        return makers.TryGetValue(name, out var one) ? [one()] : throw new ArgumentException($"There is no target '{name}': there are {string.Join(", ", makers.Keys)}.", nameof(name));
    }

    /// <summary>The names.</summary>
    public static IReadOnlyCollection<string> Names => Makers().Keys;

    // Texts in code pages, as in the program.
    static FuzzTargets() => Encoding.RegisterProvider(CodePagesEncodingProvider.Instance);

    private static Dictionary<string, Func<FuzzTarget>> Makers() => new(StringComparer.Ordinal)
    {
        ["comtrade-cfg"] = () => new FormatTarget("comtrade-cfg", Data("comtrade/basic", "*.cfg"), Grammar.Text, Comtrade),
        ["comtrade-dat"] = () => new ComtradeDataTarget(),
        ["comtrade-cff"] = () => new FormatTarget("comtrade-cff", Data("comtrade/basic", "*.cff"), Grammar.Text, Combined),
        ["pqdif"] = () => new FormatTarget("pqdif", SeedFiles.Pqdif(), Grammar.Pqdif, Pqdif),
        ["csv-log"] = () => new LogTarget("csv-log", SeedFiles.LogTables(Data("interval", "*.csv"))),
        ["csv-pieces"] = () => new LogPiecesTarget(),
        ["csv-days"] = () => new DayTableTarget(),
        ["csv-samples"] = () => new FormatTarget("csv-samples", SeedFiles.SampleTables(Data("waveform/motor", "*HLT_001.csv")), Grammar.Text, Samples),
        ["xlsx"] = () => new FormatTarget("xlsx", [SeedFiles.Workbook()], Grammar.Zip, input => LogReader.Read(new InputFile("f.xlsx", input))),
        ["parquet"] = () => new FormatTarget("parquet", [.. Data("logged", "*.parquet"), SeedFiles.Parquet()], Grammar.Footer, input => LogReader.Read(new InputFile("f.parquet", input))),
        ["xlsx-samples"] = () => new FormatTarget("xlsx-samples", [SeedFiles.Workbook(SeedFiles.Waveform)], Grammar.Zip, input => Sheets("f.xlsx", input)),
        ["parquet-samples"] = () => new FormatTarget("parquet-samples", [SeedFiles.SampleParquet()], Grammar.Footer, input => Sheets("f.parquet", input)),
        ["readings"] = () => new FormatTarget("readings", Data("../../docs/examples", "*.json"), Grammar.Json, input => ReadingsReader.Read(new InputFile("f.json", input))),
        ["columns"] = () => new FormatTarget("columns", [SeedFiles.Columns()], Grammar.Json, input => ColumnProfileReader.Read(new InputFile("f.json", input))),
        ["priors"] = () => new FormatTarget("priors", [SeedFiles.Priors()], Grammar.Json, input => PriorsReader.Read(new InputFile("f.json", input))),
        ["any"] = () => new FormatTarget("any", [.. Data("comtrade/basic", "*.cff"), .. Data("logged", "*.parquet"), .. SeedFiles.Pqdif(), .. SeedFiles.LogTables(Data("interval", "*.csv"))], Grammar.Bytes, Any),
        ["journal"] = () => new JournalTarget(),
        ["survey-document"] = () => new SurveyDocumentTarget(),
        ["survey-zip"] = () => new SurveyZipTarget(),
        ["web"] = () => new WebTarget(),
    };

    private static void Comtrade(byte[] cfg)
    {
        var record = ComtradeReader.Read(new InputFile("f.cfg", cfg), new InputFile("f.dat", s_dat));
        RequireWhole(record.Recording);
    }

    private static readonly byte[] s_dat = Data("comtrade/basic", "sample_bin.dat")[0];

    private static void Combined(byte[] input)
    {
        RequireWhole(ComtradeReader.ReadCombined(new InputFile("f.cff", input)).Recording);
        using var source = SampleFiles.Open([new SampleFile("f.cff", () => new MemoryStream(input))]);
        Drain(source);
    }

    private static void Pqdif(byte[] input)
    {
        var content = PqdifReader.Read(new InputFile("f.pqd", input), new PqdifReadOptions { MostValues = 1_000_000, MostRecordBytes = 16 << 20 });
        foreach (var recording in content.Recordings) RequireWhole(recording.Recording);
        if (content.Recordings.IsEmpty) return;
        using var source = PqdifSource.TryOpen("f.pqd", new MemoryStream(input), new PqdifReadOptions { MostValues = 1_000_000, MostRecordBytes = 16 << 20 });
        Drain(source);
    }

    private static void Samples(byte[] input)
    {
        var options = new CsvSampleOptions { RateHertz = 5000 };
        RequireWhole(CsvSampleReader.Read(new InputFile("f.csv", input), options).Recording);
        using var source = new CsvSampleSource(CsvLayout.Of("f.csv", new MemoryStream(input), options), new MemoryStream(input));
        Drain(source);
    }

    // Samples in sheets: what is handed on as text must be what the reader of samples takes, or refuses with a message.
    private static void Sheets(string name, byte[] input)
    {
        var file = new InputFile(name, input);
        var holds = SampleSheets.Holds(file);
        if (SampleSheets.TextOf(file) is not { } text)
        {
            // One that is damaged further down is refused by the reader of logs, with what is wrong with it.
            _ = LogReader.Read(file);
            if (holds) throw new FuzzFailureException("a sheet that holds samples was taken for a log");
            return;
        }

        if (!holds) throw new FuzzFailureException("a sheet that holds no samples gave some");
        RequireWhole(CsvSampleReader.Read(text).Recording);
        // The same, made while it is read.
        using var source = SampleFiles.Open([new SampleFile(name, () => new MemoryStream(input))]);
        Drain(source);
    }

    private static void Any(byte[] input)
    {
        foreach (var name in (string[])["f", "f.csv", "f.dat"]) _ = InputReader.Read([new InputFile(name, input)]);
    }

    private static void Drain(SampleSource? source)
    {
        if (source is null) return;
        source.Choose(LaneChoice.Empty.With(0, 0, isTurned: false));
        var frames = new float[8 * 512];
        for (var idle = 0; idle < 3;) idle = source.Read(frames) > 0 || source.NextSegmentSeconds is not null ? 0 : idle + 1;
    }

    // A recording that was taken must be one: channels alike long, stretches in order that cover every sample.
    private static void RequireWhole(SampledRecording recording)
    {
        var count = recording.Channels.IsEmpty ? 0 : recording.Channels[0].Samples.Length;
        var at = 0;
        foreach (var segment in recording.Segments)
        {
            if (segment.FirstIndex != at || segment.Length < 0 || !(segment.RateHertz > 0)) throw new FuzzFailureException("stretches do not follow each other");
            at += segment.Length;
        }

        if (recording.Channels.Any(channel => channel.Samples.Length != count) || (at != count && !recording.Channels.IsEmpty)) throw new FuzzFailureException("channels of different lengths, or samples in no stretch");
    }

    internal static byte[][] Data(string folder, string pattern, [CallerFilePath] string caller = "") =>
        [.. Directory.EnumerateFiles(Path.GetFullPath(Path.Combine(Path.GetDirectoryName(caller)!, "../../tests/data", folder)), pattern).Order(StringComparer.Ordinal).Select(File.ReadAllBytes)];
}
