using Leadwright.Core.Logs;
using Leadwright.Formats.Logs;
using Leadwright.Formats.Matching;
using Leadwright.Surveys;
using Leadwright.Surveys.Importing;
using Leadwright.Surveys.Journal;

namespace Leadwright.App.Verbs.Matching;

/// <summary>What a person confirmed of the columns of a log, for the verb and for the screen.</summary>
internal static class ConfirmedColumns
{
    /// <summary>The profile of a log as it was read, with the columns that a person left out.</summary>
    /// <param name="log">The log.</param>
    public static ColumnProfile ProfileOf(LogFile log)
    {
        var profile = ColumnProfile.Of(log);
        var leftOut = log.Columns.Where(column => column is { Role: ColumnRole.LeftOut, IsStated: true });
        return profile with { Columns = [.. profile.Columns, .. leftOut.Select(column => new ColumnStatement(column.Heading, default) { IsLeftOut = true })] };
    }

    /// <summary>Writes into a survey's journal how the columns of a recording are read, and computes its table anew.</summary>
    /// <param name="survey">The survey, open to write.</param>
    /// <param name="recording">The recording's name.</param>
    /// <param name="profile">How.</param>
    /// <param name="log">The log as it was read.</param>
    /// <param name="request">How it was read: the writing of its letters and its start are kept where they are others than the survey has.</param>
    /// <param name="cancellation">Stops the computing of the table.</param>
    /// <exception cref="SurveyException">It can't be saved.</exception>
    public static async Task ConfirmAsync(SurveyFolder survey, string recording, ColumnProfile profile, IntervalLog log, RecordingRequest request, CancellationToken cancellation)
    {
        var before = survey.State.Recording(recording)?.Facts.Reading ?? new();
        var reading = before with { Encoding = request.Encoding, Start = request.LogStart };
        var confirmed = new ColumnsConfirmed(recording, RecordingImport.DocumentOf(profile));
        if (reading != before)
        {
            var isDated = log.Count > 0 && RecordTime.IsDated(log.From);
            confirmed = confirmed with { Reading = reading, From = isDated ? log.From : null, To = isDated ? log.To : null };
        }

        survey.Append(confirmed);
        // What charts and queries show follows from the columns.
        await new RecordingTables(survey).ComputeAsync(survey.State.Recording(recording)!, null, cancellation);
    }
}
