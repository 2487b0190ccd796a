using System.Collections.Immutable;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Hookups.Settling;
using Leadwright.Formats;
using Leadwright.Formats.Comtrade;
using Leadwright.Formats.Csv;
using Leadwright.Formats.Pqdif;
using Leadwright.Formats.Readings;

namespace Leadwright.Client.Model;

/// <summary>What was found in the files that a person dropped or picked: readings, a recording, or why neither.</summary>
/// <param name="Name">The file's name.</param>
/// <param name="Readings">The readings; null when there are none.</param>
/// <param name="Recording">The recording, its channels not matched yet; null when there is none.</param>
/// <param name="Problem">Why the files can't be used and what to do; empty when they can.</param>
public sealed record OpenedFile(string Name, PanelReadings? Readings, LoadedRecording? Recording, string Problem)
{
    /// <summary>What the reader of readings put up with, in sentences.</summary>
    public ImmutableArray<string> Remarks { get; init; } = [];

    /// <summary>What the file says was found at the panel.</summary>
    public ImmutableArray<ToldAnswer> Told { get; init; } = [];

    private const string Wanted = "readings (.json) or one recording (.cfg with .dat, .cff, .pqd, .csv)";

    /// <summary>Reads the files of one recording, or one file of readings.</summary>
    /// <param name="files">The files, read whole.</param>
    /// <param name="service">The service to take for readings that state none; null when none is chosen.</param>
    public static OpenedFile Of(ImmutableArray<InputFile> files, ServiceKind? service)
    {
        if (files.IsDefaultOrEmpty) return Unusable("", $"Expected {Wanted}; found nothing.");
        try
        {
            return Read(files, service);
        }
        catch (FormatReadException failure)
        {
            return Unusable(files[0].Name, failure.Message);
        }
    }

    private static OpenedFile Read(ImmutableArray<InputFile> files, ServiceKind? service)
    {
        if (Ending(files, ".cfg") is { } configuration)
        {
            return Ending(files, ".dat") is { } data
                ? Of(ComtradeReader.Read(configuration, data), configuration.Name)
                : Unusable(configuration.Name, $"'{configuration.Name}' is half of a recording: choose its .dat file together with it.");
        }

        if (Ending(files, ".dat") is { } alone)
            return Unusable(alone.Name, $"'{alone.Name}' is half of a recording: choose its .cfg file together with it.");
        if (files.Length > 1) return Unusable(files[0].Name, $"Expected {Wanted}; found {files.Length} files. Choose one.");
        var file = files[0];
        if (InputSniffer.IsLog(InputSniffer.KindOf(file)))
            return Unusable(file.Name, $"'{file.Name}' is a log of intervals. Drop it under Surveys: there its leads and clamps are judged over the whole of its time. Here one moment is checked, from {Wanted}.");
        return EndingOf(file) switch
        {
            ".json" => Of(ReadingsReader.Read(file, service), file.Name),
            ".cff" => Of(ComtradeReader.ReadCombined(file), file.Name),
            ".pqd" or ".pqdif" when PqdifReader.ReadInputs(file).OfType<SampledInput>().FirstOrDefault() is { } waveform =>
                new(file.Name, null, new(file.Name, waveform.Recording, [.. waveform.Warnings.Select(warning => warning.Says)]), ""),
            ".csv" or ".txt" => Of(CsvSampleReader.Read(file), file.Name),
            var ending => Unusable(file.Name, $"Cannot read '{file.Name}': expected {Wanted}, found the ending '{ending}'."),
        };
    }

    private static OpenedFile Of(ReadingsFile read, string name) => new(name, read.Readings, null, "")
    {
        Remarks = [.. read.Warnings.Select(warning => warning.Says)],
        Told = read.Told,
    };

    private static OpenedFile Of(ComtradeRecording read, string name) =>
        new(name, null, new(name, read.Recording, [.. read.Warnings.Select(warning => warning.Says)]), "");

    private static OpenedFile Of(CsvSampleRecording read, string name) =>
        new(name, null, new(name, read.Recording, [.. read.Warnings.Select(warning => warning.Says)]), "");

    private static OpenedFile Unusable(string name, string problem) => new(name, null, null, problem);

    private static InputFile? Ending(ImmutableArray<InputFile> files, string ending) =>
        files.FirstOrDefault(file => EndingOf(file) == ending);

    private static string EndingOf(InputFile file) => Path.GetExtension(file.Name).ToLowerInvariant();
}
