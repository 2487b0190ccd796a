using Leadwright.Formats.Comtrade;
using Leadwright.Formats.Csv;
using Leadwright.Formats.Logs;
using Leadwright.Formats.Pqdif;

namespace Leadwright.Formats.Sampling;

/// <summary>A file that is opened when it is read.</summary>
/// <param name="Name">Display name.</param>
/// <param name="Open">Opens it at its start, with seeking; each time anew.</param>
public sealed record SampleFile(string Name, Func<Stream> Open);

/// <summary>Opens the files of one recording of samples for reading block by block, whatever their format.</summary>
public static class SampleFiles
{
    private const int HeadBytes = 1 << 16;

    // A configuration is text about channels; none is larger.
    private const long MostConfigurationBytes = 64L << 20;

    /// <summary>Opens a recording.</summary>
    /// <param name="files">Its files, the one to open first.</param>
    /// <param name="options">How to read; null for the defaults.</param>
    /// <param name="cancellation">Ends it early.</param>
    /// <returns>The recording at its first sample; null when the files hold no samples.</returns>
    /// <exception cref="FormatReadException">A file can't be used, or its other half is missing.</exception>
    public static SampleSource? Open(IReadOnlyList<SampleFile> files, InputReadOptions? options = null, CancellationToken cancellation = default) =>
        Opener(files, options, cancellation)?.Invoke();

    /// <summary>Finds out how a recording is to be opened, so that it can be gone through more than once.</summary>
    /// <param name="files">Its files, the one to open first.</param>
    /// <param name="options">How to read; null for the defaults.</param>
    /// <param name="cancellation">Ends it early.</param>
    /// <returns>Opens it at its first sample, each time anew; null when the files hold no samples by their kind. What it opens is null where a file
    /// turns out to hold none.</returns>
    /// <exception cref="FormatReadException">A file can't be used, or its other half is missing.</exception>
    public static Func<SampleSource?>? Opener(IReadOnlyList<SampleFile> files, InputReadOptions? options = null, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(files);
        options ??= new();
        var kinds = files.Select(KindOf).ToList();
        if (kinds.IndexOf(InputKind.ComtradeConfiguration) is >= 0 and var cfg)
        {
            var data = DataOf(files, kinds, cfg);
            return () => Comtrade(files[cfg], data, options);
        }

        for (var index = 0; index < files.Count; index++)
        {
            var file = files[index];
            switch (kinds[index])
            {
                case InputKind.ComtradeCombined: return () => Combined(file, options);
                case InputKind.Table: return Table(file, options, cancellation);
                case InputKind.Parquet when SampleSheets.StreamOf(file, options.Csv.RateHertz) is { } rows: return Table(file with { Open = rows }, options, cancellation);
                case InputKind.Workbook when SampleSheets.TextOf(BytesOf(file, options.MostHeldBytes), options.Csv.RateHertz) is { } text:
                    return Table(new SampleFile(text.Name, () => LogReader.StreamOf(text)), options, cancellation);
                case InputKind.Pqdif: return () => Pqdif(file, options.Pqdif, cancellation);
            }
        }

        return null;
    }

    /// <summary>What a file is, by its begin.</summary>
    /// <param name="file">The file.</param>
    public static InputKind KindOf(SampleFile file)
    {
        ArgumentNullException.ThrowIfNull(file);
        using var stream = file.Open();
        var head = new byte[HeadBytes];
        return InputSniffer.KindOf(new InputFile(file.Name, head.AsMemory(0, stream.ReadAtLeast(head, head.Length, throwOnEndOfStream: false))));
    }

    private static SampleFile DataOf(IReadOnlyList<SampleFile> files, List<InputKind> kinds, int cfg) =>
        kinds.IndexOf(InputKind.ComtradeData) is >= 0 and var data ? files[data] : throw new FormatReadException(
            files[cfg].Name, "its data file (.dat) beside it", "the .cfg alone", "A COMTRADE record is a .cfg and a .dat file: give both, or a .cff file.");

    private static SampleSource Comtrade(SampleFile cfg, SampleFile data, InputReadOptions options)
    {
        var configuration = BytesOf(cfg, MostConfigurationBytes);
        if (Taken(data.Open(), stream => ComtradeFiles.TryOpen(configuration, data.Name, stream, options.Comtrade)) is { } source) return source;
        var record = ComtradeReader.Read(configuration, BytesOf(data, options.MostHeldBytes), options.Comtrade);
        return new RecordingSource(cfg.Name, record.Recording, record.Warnings);
    }

    private static SampleSource Combined(SampleFile file, InputReadOptions options)
    {
        if (Taken(file.Open(), stream => ComtradeFiles.TryOpenCombined(file.Name, stream, options.Comtrade)) is { } source) return source;
        var record = ComtradeReader.ReadCombined(BytesOf(file, options.MostHeldBytes), options.Comtrade);
        return new RecordingSource(file.Name, record.Recording, record.Warnings);
    }

    private static Func<SampleSource?> Table(SampleFile file, InputReadOptions options, CancellationToken cancellation)
    {
        CsvLayout layout;
        using (var table = file.Open()) layout = CsvLayout.Of(file.Name, table, options.Csv, cancellation);
        return () => Taken(file.Open(), stream => new CsvSampleSource(layout, stream));
    }

    private static SampleSource? Pqdif(SampleFile file, PqdifReadOptions? options, CancellationToken cancellation) =>
        Taken(file.Open(), stream => PqdifSource.TryOpen(file.Name, stream, options, cancellation));

    // A stream that no source took over is closed.
    private static SampleSource? Taken(Stream stream, Func<Stream, SampleSource?> open)
    {
        SampleSource? source = null;
        try
        {
            return source = open(stream);
        }
        finally
        {
            if (source is null) stream.Dispose();
        }
    }

    private static InputFile BytesOf(SampleFile file, long most)
    {
        using var stream = file.Open();
        if (stream.Length > most)
        {
            throw new FormatReadException(
                file.Name, FormattableString.Invariant($"at most {most >> 20} MB where a file must be read whole"), FormattableString.Invariant($"{stream.Length >> 20} MB"),
                "Export the recording in parts.");
        }

        var bytes = new byte[stream.Length];
        stream.ReadExactly(bytes);
        return new InputFile(file.Name, bytes);
    }
}
