using System.Text;
using Leadwright.Core.Integrity;
using Leadwright.Formats.Tables;
using Leadwright.Surveys.Storage;

namespace Leadwright.Surveys.Tables;

/// <summary>Writes what guarding found as a table: <c>start</c>, <c>end</c>, <c>kind</c>, <c>channels</c>, <c>confidence</c>.</summary>
internal static class SpanTable
{
    public const string Schema = "leadwright.survey-spans/1";

    public static async Task WriteAsync(ISurveyStorage storage, string survey, TableName name, IEnumerable<GuardSpan> spans, CancellationToken cancellation)
    {
        using var bytes = new MemoryStream();
        TableColumn[] columns =
        [
            new("start", TableColumnKind.Time), new("end", TableColumnKind.Time), new("kind", TableColumnKind.Text), new("channels", TableColumnKind.Text),
            new("confidence", TableColumnKind.Number),
        ];
        var writer = new ParquetTableWriter(bytes, [.. columns], new Dictionary<string, string> { ["schema"] = Schema, ["kind"] = name.Kind, ["survey"] = survey });
        await using (writer.ConfigureAwait(false))
        {
            foreach (var span in spans)
            {
                writer.Set(0, span.From);
                writer.Set(1, span.To);
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
