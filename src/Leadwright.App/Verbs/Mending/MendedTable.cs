using Leadwright.Core.Mending;
using Leadwright.Reports.Mending;
using Leadwright.Surveys.Tables;

namespace Leadwright.App.Verbs.Mending;

/// <summary>The mended table of a recording in its survey, as the verb and the screens write it.</summary>
internal static class MendedTable
{
    /// <summary>Writes it.</summary>
    /// <param name="folder">The survey's folder.</param>
    /// <param name="survey">Its name among all.</param>
    /// <param name="part">The number of the recording.</param>
    /// <param name="recording">The recording's name.</param>
    /// <param name="report">What was mended.</param>
    /// <param name="cancellation">Ends it; what was there stays.</param>
    /// <exception cref="Leadwright.Surveys.SurveyException">It can't be written.</exception>
    public static Task WriteAsync(string folder, string survey, int part, string recording, MendReport report, CancellationToken cancellation) => SurveyTables.WriteLogAsync(
        folder, survey, report.Log,
        new TableWriteOptions
        {
            Table = new TableName(TableName.Mended, part), Standings = report.Standings,
            Metadata = new Dictionary<string, string>(StringComparer.Ordinal) { ["recording"] = recording, ["made_by"] = MendJson.Schema },
        },
        cancellation);
}
