using System.Globalization;
using System.Text;
using Leadwright.App.Verbs.Mending;
using Leadwright.Core.Integrity;
using Leadwright.Core.Mending;
using Leadwright.Surveys;
using Leadwright.Surveys.Importing;
using Leadwright.Surveys.Tables;

namespace Leadwright.App.Hosting.Surveys;

/// <summary>What the screens worked out, as the tables that <c>guard --keep</c> and <c>mend --keep</c> write: queries over surveys see the same, wherever it was worked out.</summary>
/// <remarks>Tables are computed and no part of what was saved: where one can't be written everything else goes on, and it is tried again with the next program, recording or layer.</remarks>
/// <param name="folder">The survey's folder.</param>
/// <param name="state">The survey.</param>
/// <param name="recording">The recording's name.</param>
/// <param name="key">What everything worked out of the recording follows from.</param>
internal sealed class KeptTables(string folder, SurveyState state, string recording, string key)
{
    private const string SpansMark = "spans-table.txt";
    private const string MendedMark = "mended-table.txt";

    private int Part => RecordingImport.TableOf(state, state.Recording(recording)!).Part;

    /// <summary>True when the spans were written.</summary>
    public bool HasSpans => IsMarked(SpansMark, "");

    /// <summary>True when the mended table was written with these layers, and with no others since.</summary>
    /// <param name="layers">The layers, as a short name.</param>
    public bool HasMended(string layers) => IsMarked(MendedMark, layers);

    /// <summary>Writes the spans.</summary>
    public Task KeepSpansAsync(GuardReport report, CancellationToken cancellation) =>
        KeepAsync(SpansMark, "", () => SurveyTables.WriteSpansAsync(folder, state.Id, report.Spans, Part, cancellation));

    /// <summary>Writes the mended table.</summary>
    public Task KeepMendedAsync(MendReport report, string layers, CancellationToken cancellation) =>
        KeepAsync(MendedMark, layers, () => MendedTable.WriteAsync(folder, state.Id, Part, recording, report, cancellation));

    private bool IsMarked(string name, string layers) => ResultFiles.Read(folder, key, name) is { } mark && Encoding.UTF8.GetString(mark) == MarkOf(layers);

    // A copy of the survey has a name of its own, and none of these tables.
    private string MarkOf(string layers) => string.Create(CultureInfo.InvariantCulture, $"{state.Id} {Part} {layers}");

    private async Task KeepAsync(string name, string layers, Func<Task> write)
    {
        try
        {
            await write();
        }
        catch (Exception failure) when (failure is SurveyException or IOException or UnauthorizedAccessException)
        {
            // As above.
        }

        ResultFiles.Keep(folder, key, name, Encoding.UTF8.GetBytes(MarkOf(layers)));
    }
}
