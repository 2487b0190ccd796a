using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using Leadwright.Core.Practice;
using Leadwright.Formats;

namespace Leadwright.Reports.Practice;

/// <summary>Reads the table that <see cref="ClassSheetCsv"/> writes, so that the scores of many devices come together on one.</summary>
public static class ClassSheetReader
{
    private const int Fields = 9;

    /// <summary>The scores of a table.</summary>
    /// <param name="file">The file.</param>
    /// <exception cref="FormatReadException">It is no such table; the message names the line.</exception>
    public static ImmutableArray<ClassEntry> Read(InputFile file)
    {
        ArgumentNullException.ThrowIfNull(file);
        var rows = RowsOf(Encoding.UTF8.GetString(file.Bytes.Span).TrimStart('\uFEFF'));
        var head = ClassSheetCsv.Of(new ClassSheet([])).TrimEnd('\n');
        if (rows.Count == 0 || string.Join(',', rows[0].Cells) != head)
            throw new FormatReadException(file.Name, $"a class sheet, whose first line is '{head}'", rows.Count == 0 ? "an empty file" : $"'{string.Join(',', rows[0].Cells)}'", "Save it with 'Save as CSV' beside the scores.", line: 1);
        return [.. rows.Skip(1).Select(row => EntryOf(file, row.Line, row.Cells))];
    }

    private static ClassEntry EntryOf(InputFile file, int line, List<string> cells)
    {
        if (cells.Count != Fields) throw Bad(file, line, $"{Fields} fields", $"{cells.Count}");
        if (!ExerciseSeal.TryOpen(cells[3], out var key)) throw Bad(file, line, "the sealed key of an exercise", $"'{cells[3]}'");
        if (cells[4] is not ("yes" or "no")) throw Bad(file, line, "'yes' or 'no' in the column right", $"'{cells[4]}'");
        var trainee = cells[0].Length > 1 && cells[0][0] == '\'' && cells[0][1] is '=' or '+' or '-' or '@' ? cells[0][1..] : cells[0];
        return new ClassEntry(trainee, key!, cells[4] == "yes", Number(5, 0, 1), Number(6, 0, 1), (int)Number(7, 0, 1000), Number(8, -1000, 1000));

        double Number(int column, double least, double most) =>
            double.TryParse(cells[column], NumberStyles.Float, CultureInfo.InvariantCulture, out var number) && number >= least && number <= most
                ? number : throw Bad(file, line, string.Create(CultureInfo.InvariantCulture, $"a number from {least} to {most} with a decimal point"), $"'{cells[column]}'");
    }

    private static FormatReadException Bad(InputFile file, int line, string expected, string found) => new(file.Name, expected, found, line: line);

    // RFC 4180, lines ended by LF or CRLF.
    private static List<(int Line, List<string> Cells)> RowsOf(string text)
    {
        var rows = new List<(int, List<string>)>();
        var (cells, cell, isQuoted, line, start) = (new List<string>(), new StringBuilder(), false, 1, 1);
        for (var at = 0; at < text.Length; at++)
        {
            var letter = text[at];
            if (letter == '\n') line++;
            if (isQuoted)
            {
                if (letter != '"') cell.Append(letter);
                else if (at + 1 < text.Length && text[at + 1] == '"') cell.Append(text[at++]);
                else isQuoted = false;
            }
            else if (letter == '"' && cell.Length == 0)
            {
                isQuoted = true;
            }
            else if (letter is ',' or '\n')
            {
                cells.Add(cell.ToString());
                cell.Clear();
                if (letter == '\n') EndRow();
            }
            else if (letter != '\r')
            {
                cell.Append(letter);
            }
        }

        if (cell.Length > 0 || cells.Count > 0)
        {
            cells.Add(cell.ToString());
            EndRow();
        }

        return rows;

        void EndRow()
        {
            if (cells.Count > 1 || cells[0].Length > 0) rows.Add((start, cells));
            (cells, start) = ([], line);
        }
    }
}
