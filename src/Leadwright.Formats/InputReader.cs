using System.Collections.Immutable;
using Leadwright.Formats.Comtrade;
using Leadwright.Formats.Csv;
using Leadwright.Formats.Logs;
using Leadwright.Formats.Pqdif;
using Leadwright.Formats.Readings;

namespace Leadwright.Formats;

/// <summary>Reads whatever files were handed over: named on a command line, or dropped on a page.</summary>
public static class InputReader
{
    /// <summary>The files to look for beside a file, best first; a caller that has a folder adds those it finds.</summary>
    /// <param name="name">Name of the file at hand, with or without folders.</param>
    /// <returns>Names with the same folders: .dat, .hdr and .inf of a .cfg, the .cfg of a .dat; in the case of its ending,
    /// then in the other.</returns>
    public static ImmutableArray<string> CompanionsOf(string name)
    {
        var file = new InputFile(name, default);
        string[] endings = file.Ending switch
        {
            ".cfg" => [".dat", ".hdr", ".inf"],
            ".dat" => [".cfg", ".hdr", ".inf"],
            _ => [],
        };
        var stem = name[..^file.Ending.Length];
        var isUpper = name.EndsWith(file.Ending.ToUpperInvariant(), StringComparison.Ordinal);
        return [.. endings.SelectMany(ending => isUpper
            ? [stem + ending.ToUpperInvariant(), stem + ending]
            : (string[])[stem + ending, stem + ending.ToUpperInvariant()])];
    }

    /// <summary>Reads a set of files; those of one COMTRADE record are put together.</summary>
    /// <param name="files">The files.</param>
    /// <param name="options">How to read; null for the defaults.</param>
    /// <returns>One record for each input, in the order of the files; a PQDIF file may hold several recordings and logs.</returns>
    /// <exception cref="FormatReadException">A file can't be used, or the other one of its pair is missing.</exception>
    public static ImmutableArray<InputRecord> Read(IReadOnlyList<InputFile> files, InputReadOptions? options = null)
    {
        ArgumentNullException.ThrowIfNull(files);
        options ??= new();
        var kinds = files.Select(InputSniffer.KindOf).ToList();
        var records = ImmutableArray.CreateBuilder<InputRecord>();
        for (var index = 0; index < files.Count; index++)
        {
            var file = files[index];
            switch (kinds[index])
            {
                case InputKind.ComtradeConfiguration: records.Add(ReadPair(file, files, kinds, options)); break;
                case InputKind.ComtradeCombined:
                    var record = ComtradeReader.ReadCombined(file, options.Comtrade);
                    records.Add(new SampledInput(file.Name, record.Warnings, record.Recording, record));
                    break;
                case InputKind.Readings: records.Add(new ReadingsInput(file.Name, ReadingsReader.Read(file, options.Service))); break;
                case InputKind.Table:
                    var table = CsvSampleReader.Read(file, options.Csv);
                    records.Add(new SampledInput(file.Name, table.Warnings, table.Recording, null));
                    break;
                case InputKind.Workbook or InputKind.Parquet when SampleSheets.TextOf(file, options.Csv.RateHertz) is { } text:
                    var sheet = CsvSampleReader.Read(text, options.Csv);
                    records.Add(new SampledInput(file.Name, sheet.Warnings, sheet.Recording, null));
                    break;
                case InputKind.LogTable or InputKind.Workbook or InputKind.Parquet:
                    records.Add(new LogInput(file.Name, LogReader.Read(file, options.Log)));
                    break;
                case InputKind.Pqdif: records.AddRange(PqdifReader.ReadInputs(file, options.Pqdif)); break;
                case InputKind.Unknown: throw Unknown(file);
                default: RequireConfiguration(file, files, kinds); break;
            }
        }

        return records.ToImmutable();
    }

    private static SampledInput ReadPair(
        InputFile cfg, IReadOnlyList<InputFile> files, List<InputKind> kinds, InputReadOptions options)
    {
        var dat = PartnerOf(cfg, InputKind.ComtradeConfiguration, InputKind.ComtradeData, files, kinds)
            ?? throw new FormatReadException(
                cfg.Name, $"its data file '{cfg.Stem}.dat' beside it", "the .cfg alone",
                "A COMTRADE record is a .cfg and a .dat file: give both, or a .cff file.");
        var record = ComtradeReader.Read(cfg, dat, options.Comtrade);
        if (PartnerOf(cfg, InputKind.ComtradeConfiguration, InputKind.ComtradeHeader, files, kinds) is { } header)
            record = record with { HeaderText = ComtradeReader.TextOf(header.Bytes.Span) };
        if (PartnerOf(cfg, InputKind.ComtradeConfiguration, InputKind.ComtradeInformation, files, kinds) is { } information)
            record = record with { InformationText = ComtradeReader.TextOf(information.Bytes.Span) };
        if (!string.Equals(cfg.Stem, dat.Stem, StringComparison.OrdinalIgnoreCase))
        {
            record = record with
            {
                Warnings = [new ReadWarning($"'{dat.Name}' is read as the data of '{cfg.Name}', though their names differ."), .. record.Warnings],
            };
        }

        return new SampledInput(cfg.Name, record.Warnings, record.Recording, record);
    }

    // By name; a lone pair belongs together whatever its names.
    private static InputFile? PartnerOf(
        InputFile file, InputKind own, InputKind wanted, IReadOnlyList<InputFile> files, List<InputKind> kinds)
    {
        var candidates = files.Where((_, index) => kinds[index] == wanted).ToList();
        var named = candidates.Where(other => string.Equals(other.Stem, file.Stem, StringComparison.OrdinalIgnoreCase)).ToList();
        // Records of the same name in different folders are told apart by their folders.
        var beside = named.Find(other => string.Equals(FolderOf(other), FolderOf(file), StringComparison.Ordinal));
        if (beside is not null || named.Count > 0) return beside ?? named[0];
        return candidates.Count == 1 && kinds.Count(kind => kind == own) == 1 ? candidates[0] : null;
    }

    private static string FolderOf(InputFile file) => file.Name[..^file.ShortName.Length];

    private static void RequireConfiguration(InputFile file, IReadOnlyList<InputFile> files, List<InputKind> kinds)
    {
        var index = Enumerable.Range(0, files.Count).First(at => ReferenceEquals(files[at], file));
        if (PartnerOf(file, kinds[index], InputKind.ComtradeConfiguration, files, kinds) is not null) return;
        throw new FormatReadException(
            file.Name, $"its configuration '{file.Stem}.cfg' beside it", $"the {file.Ending} file alone",
            "A COMTRADE record is a .cfg and a .dat file: give both, or a .cff file.");
    }

    private static FormatReadException Unknown(InputFile file) => new(
        file.Name,
        "a COMTRADE record (.cfg with .dat, or .cff), a PQDIF file (.pqd), a table of samples (.csv), a log of intervals (.csv, .xlsx, .parquet) or readings (.json)",
        file.Bytes.IsEmpty ? "an empty file" : "something else",
        "Export the recording in one of these open formats.");
}
