using System.Text;
using Leadwright.Formats.Csv;
using Leadwright.Formats.Logs.Times;

namespace Leadwright.Formats.Logs.Rows;

/// <summary>Finds out what separates the cells of a table of text.</summary>
internal static class SeparatorSniffer
{
    private const int HeadLines = 200;
    private const int MostCharacters = 1 << 18;

    // In the order of preference where two do equally well.
    private static readonly char[] s_candidates = ['\t', ';', '|', ',', ' '];

    /// <summary>The top lines of a text, as they stand.</summary>
    public static List<string> LinesOf(string source, Stream stream, Encoding encoding)
    {
        var start = stream.Position;
        try
        {
            using var rows = new TextRows(source, stream, encoding, '\0');
            var lines = new List<string>();
            var length = 0;
            while (lines.Count < HeadLines && length < MostCharacters && rows.Read())
            {
                if (rows.Raw.IsWhiteSpace()) continue;
                lines.Add(rows.Raw.ToString());
                length += rows.Raw.Length;
            }

            return lines;
        }
        finally
        {
            stream.Position = start;
        }
    }

    /// <summary>The separator: the one that cuts most lines into as many cells that can be read.</summary>
    /// <param name="lines">The top lines.</param>
    public static char Of(List<string> lines)
    {
        // Spreadsheets understand a first line that says it.
        if (lines.Count > 0 && lines[0].Trim() is { Length: 5 } hint && hint.StartsWith("sep=", StringComparison.OrdinalIgnoreCase)) return hint[4];
        var body = lines.Skip(lines.Count / 3).ToList();
        var (best, bestScore) = (',', 0.0);
        foreach (var candidate in s_candidates)
        {
            var score = ScoreOf(body, candidate);
            if (score > bestScore + 1e-9) (best, bestScore) = (candidate, score);
        }

        return best;
    }

    private static double ScoreOf(List<string> lines, char separator)
    {
        var counts = new Dictionary<int, int>();
        int clean = 0, all = 0;
        foreach (var line in lines)
        {
            var cells = separator == ' ' ? line.Split([' ', '\t'], StringSplitOptions.RemoveEmptyEntries) : CsvRow.Split(line, separator);
            counts[cells.Length] = counts.GetValueOrDefault(cells.Length) + 1;
            all += cells.Length;
            clean += cells.Count(IsClean);
        }

        var usual = counts.OrderByDescending(pair => pair.Value).ThenByDescending(pair => pair.Key).FirstOrDefault();
        return usual.Key < 2 ? 0 : (double)usual.Value / lines.Count * clean / all;
    }

    private static bool IsClean(string cell)
    {
        var text = cell.AsSpan().Trim();
        return CellNumber.IsMissing(text, out _) || CellNumber.TryRead(text, '\0', out _, out _, out _) || StampText.TryRead(text, out _)
            || (text.Length <= 24 && text.IndexOfAnyInRange('0', '9') < 0 && text.IndexOfAny(",;\t|") < 0);
    }
}
