using System.Collections.Immutable;
using System.Text;
using System.Text.Json;
using Leadwright.Formats;
using Leadwright.Formats.Logs;
using Leadwright.Formats.Matching;
using Leadwright.Formats.Sampling;
using Leadwright.Surveys.Tables;

namespace Leadwright.Surveys.Importing;

/// <summary>Computes the tables of recordings: at import, and where they are missing, as in a copy that came in a zip file.</summary>
/// <param name="survey">The survey; open to read is enough, since tables are computed and no part of what was saved.</param>
public sealed class RecordingTables(SurveyFolder survey)
{
    /// <summary>Computes those that are missing of the recordings in work.</summary>
    /// <param name="progress">Is told the share done, 0 to 1.</param>
    /// <param name="cancellation">Stops it; the tables that are whole stay.</param>
    /// <returns>The recordings whose table could not be computed, with why: whole sentences.</returns>
    /// <exception cref="SurveyException">The folder can't be written to.</exception>
    public async Task<ImmutableArray<string>> ComputeMissingAsync(IProgress<double>? progress = null, CancellationToken cancellation = default)
    {
        ImmutableArray<TableName> there;
        using (var tables = SurveyTables.Open(survey.Path, survey.State.Id)) there = tables.Names;
        var missing = survey.State.WorkRecordings.Where(recording => recording.Facts.Kind is "log" or "samples" && !recording.Files.IsEmpty
            && !there.Contains(RecordingImport.TableOf(survey.State, recording))).ToList();
        var problems = ImmutableArray.CreateBuilder<string>();
        for (var index = 0; index < missing.Count; index++)
        {
            var (done, all) = (index, missing.Count);
            var share = progress is null ? null : new ShareOf(progress, done, all);
            try
            {
                await ComputeAsync(missing[index], share, cancellation).ConfigureAwait(false);
            }
            catch (FormatReadException failure)
            {
                problems.Add($"The table of '{missing[index].Name}' is not computed: {failure.Message}");
            }
            catch (SurveyException failure) when (failure.Problem == SurveyProblem.NotFound)
            {
                problems.Add($"The table of '{missing[index].Name}' is not computed: {failure.Message}");
            }
        }

        progress?.Report(1);
        return problems.ToImmutable();
    }

    /// <summary>Computes the table of one recording from its originals, as its columns were confirmed or found.</summary>
    /// <param name="recording">The recording.</param>
    /// <param name="progress">Is told the share done, 0 to 1.</param>
    /// <param name="cancellation">Stops it; what was there stays.</param>
    /// <exception cref="FormatReadException">The original can't be read.</exception>
    /// <exception cref="SurveyException">It is gone, or the table can't be written.</exception>
    public Task ComputeAsync(SurveyRecording recording, IProgress<double>? progress = null, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(recording);
        var read = recording.Facts.Reading?.ApplyTo(new()) ?? new InputReadOptions();
        if (ProfileOf(recording.Columns ?? recording.Facts.Columns, recording.Name) is { } profile) read = read with { Log = read.Log with { Profiles = [profile] } };
        return WriteAsync(recording, recording.Facts.Kind == "log" ? ReadLog(recording, read, cancellation) : null, read, progress, cancellation);
    }

    /// <summary>Writes the table of a recording.</summary>
    /// <param name="recording">The recording.</param>
    /// <param name="log">Its log; null for samples and readings.</param>
    /// <param name="read">How its files are read.</param>
    /// <param name="progress">Is told the share done.</param>
    /// <param name="cancellation">Stops it.</param>
    internal async Task WriteAsync(SurveyRecording recording, LogFile? log, InputReadOptions read, IProgress<double>? progress, CancellationToken cancellation)
    {
        var options = new TableWriteOptions
        {
            Table = RecordingImport.TableOf(survey.State, recording),
            Metadata = new Dictionary<string, string>(StringComparer.Ordinal) { ["recording"] = recording.Name, ["source_sha256"] = recording.Files[0].Sha256 },
            Progress = progress,
        };
        if (log is { Log.Count: > 0 })
        {
            await SurveyTables.WriteLogAsync(survey.Path, survey.State.Id, log.Log, options with { Standings = log.Standings }, cancellation).ConfigureAwait(false);
        }
        else if (recording.Facts.Kind == "samples")
        {
            await SurveyTables.WriteSamplesAsync(survey.Path, survey.State.Id, () => OpenSamples(recording, read, cancellation), options, cancellation).ConfigureAwait(false);
        }
    }

    private SampleSource OpenSamples(SurveyRecording recording, InputReadOptions read, CancellationToken cancellation) => SampleFiles.Open(
        [.. recording.Files.Select(file => new SampleFile(file.Name, () => survey.OpenFile(file)))], RecordingImport.WithPanel(read, survey.State.Panel), cancellation)
        ?? throw new FormatReadException(recording.Name, "a recording of samples", "none");

    private LogFile? ReadLog(SurveyRecording recording, InputReadOptions read, CancellationToken cancellation)
    {
        var files = new List<InputFile>();
        foreach (var file in recording.Files)
        {
            cancellation.ThrowIfCancellationRequested();
            using var stream = survey.OpenFile(file);
            var bytes = new byte[stream.Length];
            stream.ReadExactly(bytes);
            files.Add(new InputFile(file.Name, bytes));
        }

        return InputReader.Read(files, RecordingImport.WithPanel(read, survey.State.Panel)).OfType<LogInput>().FirstOrDefault()?.File;
    }

    private static ColumnProfile? ProfileOf(JsonElement? columns, string name)
    {
        if (columns is not { ValueKind: JsonValueKind.Object } document) return null;
        try
        {
            return ColumnProfileReader.Read(new InputFile($"columns of '{name}'", Encoding.UTF8.GetBytes(document.GetRawText())));
        }
        catch (FormatReadException)
        {
            // Of a later version: the columns are matched anew.
            return null;
        }
    }

    private sealed class ShareOf(IProgress<double> progress, int done, int all) : IProgress<double>
    {
        public void Report(double value) => progress.Report((done + value) / all);
    }
}
