using System.Collections.Immutable;
using Leadwright.Core.Integrity;
using Leadwright.Core.Mending;
using Leadwright.Formats.Logs;
using Leadwright.Reports.Mending;

namespace Leadwright.App.Verbs.Mending;

/// <summary>Mends one file.</summary>
internal static class MendRun
{
    private const string Unfinished = ".unfinished";

    /// <summary>Reads, guards and mends it, and writes the table where one is wanted.</summary>
    /// <param name="path">The file.</param>
    /// <param name="request">How.</param>
    /// <param name="cancellation">Stops the work; no table is left then.</param>
    /// <exception cref="InputRefusedException">The file can't be used, or the table can't be written.</exception>
    public static async Task<MendDocument> MendAsync(string path, MendRequest request, CancellationToken cancellation)
    {
        if (request.Output is { } wanted && Path.GetFullPath(wanted) == Path.GetFullPath(path))
            throw new InputRefusedException(ExitCode.WrongUsage, $"-o: '{wanted}' is the recording itself, which is never changed. Give the mended table another name.");
        var file = RecordingFile.Read(path, request.Recording, prefersSamples: false, cancellation);
        var read = LogOf(file);
        var service = request.Recording.Service?.Kind ?? LogSubject.ServiceFor(read.Log);
        var guard = IntervalGuard.Judge(
            read.Log,
            new GuardOptions
            {
                Service = service, Nominal = NominalText.Parse(request.Recording.Nominal, service), FrequencyHertz = request.Recording.FrequencyHertz, Check = request.Known,
            },
            cancellation);
        guard = WithdrawnFinding.TakeOut(guard, request.Withdrawn);
        var report = Mend(file, guard, request, cancellation);
        if (request.Output is { } output) await WriteAsync(output, path, report, cancellation);
        ImmutableArray<string> notes = [.. NominalNote.Of(read.Log, service, request.Recording), .. file.Warnings];
        if (!request.Withdrawn.IsEmpty)
            notes = notes.Add($"{(request.Withdrawn.Length == 1 ? "1 correction is" : $"{request.Withdrawn.Length} corrections are")} switched off in the survey and not made.");
        return new MendDocument(path, report, notes) { Table = request.Output, Spans = guard.Spans, IsAccuracyStated = request.AccuracyPercent > 0 };
    }

    /// <summary>Mends what was read, by what a guard found in it.</summary>
    /// <param name="file">The recording.</param>
    /// <param name="guard">What was found.</param>
    /// <param name="request">How.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <exception cref="InputRefusedException">It holds no rows of logged values.</exception>
    public static MendReport Mend(RecordingFile file, GuardReport guard, MendRequest request, CancellationToken cancellation)
    {
        var log = LogOf(file).Log;
        var service = request.Recording.Service?.Kind ?? LogSubject.ServiceFor(log);
        return IntervalMender.Mend(
            log, guard,
            new MendOptions { Service = service, Nominal = NominalText.Parse(request.Recording.Nominal, service), AccuracyPercent = request.AccuracyPercent, DemandMinutes = request.DemandMinutes },
            cancellation);
    }

    private static LogFile LogOf(RecordingFile file)
    {
        if (file.Log is not { } read)
            throw new InputRefusedException(ExitCode.InputUnusable, $"Cannot mend '{file.Path}': it holds samples. Measure it into a table first (leadwright measure {file.Path} -o table.csv), then mend that.");
        return read.Log.Count > 0 ? read : throw new InputRefusedException(ExitCode.InputUnusable, $"Cannot mend '{file.Path}': it has no rows. Export the log again.");
    }

    // Under its name only when it is whole.
    private static async Task WriteAsync(string output, string source, MendReport report, CancellationToken cancellation)
    {
        var draft = output + Unfinished;
        try
        {
            await using (var stream = new FileStream(draft, FileMode.Create, FileAccess.ReadWrite))
            {
                if (Path.GetExtension(output).Equals(".csv", StringComparison.OrdinalIgnoreCase))
                    await LogWriter.WriteCsvAsync(report.Log, stream, report.Standings, cancellation);
                else
                    await LogWriter.WriteParquetAsync(report.Log, stream, report.Standings, new Dictionary<string, string> { ["source"] = Path.GetFileName(source), ["made_by"] = MendJson.Schema }, cancellation);
            }

            File.Move(draft, output, overwrite: true);
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
        {
            throw InputRefusedException.CannotWrite($"'{output}'", failure);
        }
        finally
        {
            if (File.Exists(draft)) File.Delete(draft);
        }
    }
}
