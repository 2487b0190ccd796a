using System.Collections.Immutable;
using Leadwright.Surveys;
using Leadwright.Surveys.Importing;

namespace Leadwright.App.Hosting.Surveys;

/// <summary>Brings the files of one recording into a survey, and tells how far it is.</summary>
internal static class SurveyImport
{
    /// <summary>Imports them.</summary>
    /// <param name="survey">The survey, open to write.</param>
    /// <param name="files">The files on disk; the one to open first.</param>
    /// <param name="work">Told how far it is.</param>
    /// <param name="cancellation">Stops it; nothing is taken in then.</param>
    /// <returns>The recording's name.</returns>
    /// <exception cref="Formats.FormatReadException">They can't be used; nothing changed.</exception>
    public static async Task<string> ImportAsync(SurveyFolder survey, ImmutableArray<string> files, SurveyWork work, CancellationToken cancellation) =>
        (await new RecordingImport(survey).ImportAsync([.. files.Select(IncomingSource.OfFile)], null, new StepProgress(work), cancellation)).Name;

    private sealed class StepProgress(SurveyWork work) : IProgress<ImportProgress>
    {
        public void Report(ImportProgress value)
        {
            var (doing, from, length) = value.Step switch
            {
                ImportStep.Copying => ("Copying the files, with their digests", 0.0, 0.2),
                ImportStep.Reading => ("Reading the recording", 0.2, 0.2),
                ImportStep.Scanning => ("Looking through it for leads and clamps that did not tell the truth", 0.4, 0.3),
                ImportStep.Saving => ("Taking it into the survey", 0.7, 0.1),
                _ => ("Making its table for the charts", 0.8, 0.2),
            };
            work.Report(doing, from + (length * value.Share));
        }
    }
}
