using System.Collections.Immutable;
using Leadwright.Core.Signals;
using Leadwright.Formats;
using Leadwright.Formats.Logs;

namespace Leadwright.App.Verbs;

/// <summary>A recording as a file holds it: logged values, or samples.</summary>
/// <param name="Path">The file as named.</param>
/// <param name="Log">The logged values; null when it holds samples.</param>
/// <param name="Samples">The samples; null when it holds logged values.</param>
/// <param name="Warnings">What was met and put up with.</param>
internal sealed record RecordingFile(string Path, LogFile? Log, SampledRecording? Samples, ImmutableArray<string> Warnings)
{
    /// <summary>Reads one.</summary>
    /// <param name="path">The file; its companions are looked for beside it.</param>
    /// <param name="request">How to read it.</param>
    /// <param name="prefersSamples">Which is taken from a file that holds both.</param>
    /// <param name="cancellation">Ends it early.</param>
    /// <exception cref="InputRefusedException">It can't be read, or holds readings.</exception>
    public static RecordingFile Read(string path, RecordingRequest request, bool prefersSamples, CancellationToken cancellation = default)
    {
        try
        {
            if (LongLog.ReadOrNull(path, request, cancellation) is { } log) return OfLog(path, log, request);
        }
        catch (FormatReadException failure)
        {
            throw new InputRefusedException(ExitCode.InputUnusable, failure.Message, failure);
        }

        return Read(Open(path), request, prefersSamples);
    }

    /// <summary>Reads one whose bytes are at hand.</summary>
    /// <param name="file">The file.</param>
    /// <param name="request">How to read it.</param>
    /// <param name="prefersSamples">Which is taken from a file that holds both.</param>
    /// <exception cref="InputRefusedException">It can't be read, or holds readings.</exception>
    public static RecordingFile Read(InputFile file, RecordingRequest request, bool prefersSamples)
    {
        var path = file.Name;
        var files = new List<InputFile> { file };
        foreach (var companion in InputReader.CompanionsOf(path))
        {
            if (InputPaths.Beside(path, System.IO.Path.GetExtension(companion)) is { } beside && files.TrueForAll(other => other.Name != beside)) files.Add(Open(beside));
        }

        try
        {
            var records = InputReader.Read(files, request.ToReadOptions() with { Log = LogOptionsOf(request) });
            var samples = records.OfType<SampledInput>().FirstOrDefault();
            var log = records.OfType<LogInput>().FirstOrDefault();
            if (samples is not null && (prefersSamples || log is null)) return new(path, null, samples.Recording, [.. samples.Warnings.Select(warning => warning.Says)]);
            if (log is not null) return OfLog(path, log.File, request);
        }
        catch (FormatReadException failure)
        {
            throw new InputRefusedException(ExitCode.InputUnusable, failure.Message, failure);
        }

        throw new InputRefusedException(
            ExitCode.InputUnusable, $"Cannot use '{path}': it holds readings of one moment. Give a log of intervals or a recording of samples.");
    }

    /// <summary>A log that was read.</summary>
    /// <param name="path">The file as named.</param>
    /// <param name="log">It.</param>
    /// <param name="request">How it was to be read.</param>
    public static RecordingFile OfLog(string path, LogFile log, RecordingRequest request) =>
        new(path, log, null, [.. request.NotesOfLog, .. log.Warnings.Select(warning => warning.Says), .. log.Questions]);

    /// <summary>How logs are read by a request.</summary>
    public static LogReadOptions LogOptionsOf(RecordingRequest request) =>
        request.ToLogOptions() with { NominalVolts = NominalText.Parse(request.Nominal, request.Service?.Kind)?.LineToNeutralVolts };

    private static InputFile Open(string path)
    {
        HeldFile.Require(path);
        try
        {
            return new InputFile(path, File.ReadAllBytes(path));
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
        {
            var why = failure switch
            {
                FileNotFoundException or DirectoryNotFoundException => "there is no such file. Look at its name and folder.",
                UnauthorizedAccessException when Directory.Exists(path) => "it is a folder. Name the files in it.",
                _ => failure.Message,
            };
            throw new InputRefusedException(ExitCode.InputUnusable, $"Cannot read '{path}': {why}", failure);
        }
    }
}
