using System.Text;
using Leadwright.Core.Integrity;
using Leadwright.Core.Logs;
using Leadwright.Formats.Tables;
using Leadwright.Surveys.Storage;

namespace Leadwright.Surveys.Tables;

/// <summary>Writes what guarding found as a table: <c>start</c>, <c>end</c> (<c>start_s</c>, <c>end_s</c> where the recording has no date), <c>kind</c>, <c>channels</c>, <c>confidence</c>.</summary>
internal static class SpanTable
{
    public const string Schema = "leadwright.survey-spans/1";

    public static async Task WriteAsync(ISurveyStorage storage, string survey, TableName name, IReadOnlyCollection<GuardSpan> spans, CancellationToken cancellation)
    {
        var hasDates = spans.All(span => RecordTime.IsDated(span.To));
        using var bytes = new MemoryStream();
        TableColumn[] columns =
        [
            hasDates ? new("start", TableColumnKind.Time) : new("start_s", TableColumnKind.Number), hasDates ? new("end", TableColumnKind.Time) : new("end_s", TableColumnKind.Number),
            new("kind", TableColumnKind.Text), new("channels", TableColumnKind.Text),
            new("confidence", TableColumnKind.Number),
        ];
        var writer = new ParquetTableWriter(bytes, [.. columns], new Dictionary<string, string> { ["schema"] = Schema, ["kind"] = name.Kind, ["survey"] = survey });
        await using (writer.ConfigureAwait(false))
        {
            foreach (var span in spans)
            {
                if (hasDates)
                {
                    writer.Set(0, span.From);
                    writer.Set(1, span.To);
                }
                else
                {
                    writer.Set(0, (double)span.From.Ticks / TimeSpan.TicksPerSecond);
                    writer.Set(1, (double)span.To.Ticks / TimeSpan.TicksPerSecond);
                }

                writer.Set(2, WordOf(span.Kind));
                writer.Set(3, string.Join(',', span.Leads.Select(lead => lead.ToString()).Concat(span.Clamps.Select(clamp => clamp.ToString()))));
                writer.Set(4, span.Confidence);
                await writer.EndRowAsync().ConfigureAwait(false);
            }

            await writer.CompleteAsync().ConfigureAwait(false);
        }

        bytes.Position = 0;
        await TableCopy.AddAsync(storage, survey, name, bytes, cancellation).ConfigureAwait(false);
    }

    // The words of the files of the guard: lower case with hyphens.
    private static string WordOf(SpanKind kind)
    {
        var word = new StringBuilder();
        foreach (var letter in kind.ToString())
        {
            if (char.IsUpper(letter) && word.Length > 0) word.Append('-');
            word.Append(char.ToLowerInvariant(letter));
        }

        return word.ToString();
    }
}
