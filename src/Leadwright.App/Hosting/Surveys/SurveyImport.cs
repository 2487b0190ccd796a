using System.Collections.Immutable;
using System.Security.Cryptography;
using Leadwright.App.Verbs;
using Leadwright.Client.Surveys;
using Leadwright.Surveys;
using Leadwright.Surveys.Importing;

namespace Leadwright.App.Hosting.Surveys;

/// <summary>Brings the files of one recording into a survey, and tells how far it is.</summary>
internal static class SurveyImport
{
    /// <summary>Imports them.</summary>
    /// <param name="survey">The survey, open to write.</param>
    /// <param name="files">The files on disk; the one to open first.</param>
    /// <param name="said">What is said of how they are to be read.</param>
    /// <param name="work">Told how far it is.</param>
    /// <param name="cancellation">Stops it; nothing is taken in then.</param>
    /// <returns>The recording's name.</returns>
    /// <exception cref="Formats.FormatReadException">They can't be used; nothing changed.</exception>
    public static async Task<string> ImportAsync(SurveyFolder survey, ImmutableArray<string> files, SaidReading said, SurveyWork work, CancellationToken cancellation) =>
        (await new RecordingImport(survey).ImportAsync([.. files.Select(IncomingSource.OfFile)], new ImportOptions { Read = SaidReadings.ApplyTo(said, new RecordingRequest()).ToReadOptions() }, new StepProgress(work), cancellation)).Name;

    /// <summary>Makes a survey for a recording, named for its file until the site is told. A file that can't be read makes none.</summary>
    /// <param name="surveys">The surveys.</param>
    /// <param name="files">The files on disk; the one to open first.</param>
    /// <param name="said">What is said of how they are to be read.</param>
    /// <param name="work">Told how far it is.</param>
    /// <param name="cancellation">Stops it.</param>
    /// <returns>The survey's name in addresses.</returns>
    /// <exception cref="InputRefusedException">The files can't be used.</exception>
    /// <exception cref="SurveyException">A survey holds them already.</exception>
    public static async Task<string> BeginAsync(ServedSurveys surveys, ImmutableArray<string> files, SaidReading said, SurveyWork work, CancellationToken cancellation)
    {
        work.Report("Reading the recording", 0.02);
        // Two surveys of one recording part without anybody wanting it: what is decided in one is missing in the other.
        if (surveys.TitleOfHolder(await DigestsAsync(files, cancellation), cancellation) is { } holder)
        {
            throw new SurveyException(
                SurveyProblem.AlreadyThere,
                $"The survey '{holder}' holds this recording already, byte for byte: open it from the list below. To work on it a second time and apart, duplicate that survey, or make a new one and drop the file there.");
        }

        work.Report("Reading the recording", 0.05);
        try
        {
            _ = RecordingFile.Read(files[0], SaidReadings.ApplyTo(said, new RecordingRequest()), prefersSamples: false, cancellation);
        }
        catch (InputRefusedException refusal)
        {
            // The person knows the file by its name, not by the folder it was laid in meanwhile.
            throw new InputRefusedException(refusal.ExitCode, refusal.Message.Replace(files[0], Path.GetFileName(files[0]), StringComparison.Ordinal), refusal);
        }

        cancellation.ThrowIfCancellationRequested();
        var title = Path.GetFileNameWithoutExtension(files[0]);
        var id = surveys.Make(new Leadwright.Surveys.NewSurvey(title) { Site = new SurveySite { Name = title } });
        await surveys.WriteAsync(id, survey => ImportAsync(survey, files, said, work, cancellation), cancellation);
        return id;
    }

    private static async Task<List<string>> DigestsAsync(ImmutableArray<string> files, CancellationToken cancellation)
    {
        var digests = new List<string>(files.Length);
        foreach (var file in files)
        {
            await using var stream = File.OpenRead(file);
            digests.Add(Convert.ToHexStringLower(await SHA256.HashDataAsync(stream, cancellation)));
        }

        return digests;
    }

    private sealed class StepProgress(SurveyWork work) : IProgress<ImportProgress>
    {
        public void Report(ImportProgress value)
        {
            var (doing, from, length) = value.Step switch
            {
                ImportStep.Copying => ("Copying the files, with a check number of each", 0.0, 0.2),
                ImportStep.Reading => ("Reading the recording", 0.2, 0.2),
                ImportStep.Scanning => ("Looking through it for leads and clamps that did not tell the truth", 0.4, 0.3),
                ImportStep.Saving => ("Taking it into the survey", 0.7, 0.1),
                _ => ("Making its table for the charts", 0.8, 0.2),
            };
            work.Report(doing, from + (length * value.Share));
        }
    }
}
