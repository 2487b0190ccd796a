using System.Collections.Immutable;
using Leadwright.App.Verbs;
using Leadwright.Core.Logs;
using Leadwright.Surveys;
using Leadwright.Surveys.Journal;

namespace Leadwright.App.Hosting.Surveys;

/// <summary>Brings the files of one recording into a survey: read first, taken in only when they can be used.</summary>
internal static class SurveyImport
{
    /// <summary>Imports them.</summary>
    /// <param name="survey">The survey, open to write.</param>
    /// <param name="files">The files on disk; the one to open first.</param>
    /// <param name="work">Told how far it is.</param>
    /// <param name="cancellation">Stops it; nothing is taken in then.</param>
    /// <returns>The recording's name.</returns>
    /// <exception cref="InputRefusedException">They can't be used.</exception>
    public static string Import(SurveyFolder survey, ImmutableArray<string> files, SurveyWork work, CancellationToken cancellation)
    {
        work.Report("Reading the recording", 0.1);
        var panel = survey.State.Panel;
        var request = new RecordingRequest { Service = panel.KnownService(), Nominal = panel.KnownNominal() is null ? null : panel.Nominal, FrequencyHertz = panel.FrequencyHertz };
        var name = Path.GetFileName(files[0]);
        RecordingFile read;
        try
        {
            read = RecordingFile.Read(files[0], request, prefersSamples: false);
        }
        catch (InputRefusedException refusal)
        {
            // The person knows the file by its name, not by the folder it was laid in meanwhile.
            throw new InputRefusedException(refusal.ExitCode, refusal.Message.Replace(files[0], name, StringComparison.Ordinal), refusal);
        }

        cancellation.ThrowIfCancellationRequested();
        work.Report("Copying the files into the survey", 0.6);
        using var staged = survey.Stage(
            [.. files.Select(IncomingSource.OfFile)], new CopyProgress(work), cancellation);
        return survey.Import(staged, FactsOf(Path.GetFileNameWithoutExtension(name), read)).Name;
    }

    private static RecordingImported FactsOf(string name, RecordingFile read)
    {
        ImmutableArray<ImportRemark> remarks = [.. read.Warnings.Select(warning => new ImportRemark(warning.EndsWith('?') ? "question" : "warning", warning))];
        if (read.Log is { } log)
        {
            return new RecordingImported(name, "log", "log-table", [])
            {
                Remarks = remarks,
                Clock = [.. log.Clock.Select(finding => new ClockRemark(WordOf(finding.Kind), new DateTime(finding.Before), new DateTime(finding.At), finding.RowCount, finding.Seconds))],
                Count = log.Log.Count,
                From = log.Log.Count > 0 ? log.Log.From : null,
                To = log.Log.Count > 0 ? log.Log.To : null,
                IntervalSeconds = log.Log.IntervalSeconds,
            };
        }

        var samples = read.Samples!;
        return new RecordingImported(name, "samples", "samples", [])
        {
            Remarks = remarks,
            Count = samples.Channels.IsEmpty ? 0 : samples.Channels[0].Samples.Length,
        };
    }

    private static string WordOf(ClockFindingKind kind)
    {
        var text = new System.Text.StringBuilder(16);
        foreach (var letter in kind.ToString())
        {
            if (char.IsAsciiLetterUpper(letter) && text.Length > 0) text.Append('-');
            text.Append(char.ToLowerInvariant(letter));
        }

        return text.ToString();
    }

    private sealed class CopyProgress(SurveyWork work) : IProgress<double>
    {
        public void Report(double value) => work.Report("Copying the files into the survey", 0.6 + (0.3 * value));
    }
}
