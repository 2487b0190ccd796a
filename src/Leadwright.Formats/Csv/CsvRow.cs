using System.Text;

namespace Leadwright.Formats.Csv;

/// <summary>Splits a line of a table into its cells; a cell may stand in double quotes, doubled inside.</summary>
internal static class CsvRow
{
    /// <summary>The cells without blanks around them.</summary>
    public static string[] Split(string line, char separator)
    {
        if (!line.Contains('"', StringComparison.Ordinal))
            return line.Split(separator, separator == '\t' ? StringSplitOptions.None : StringSplitOptions.TrimEntries);
        var cells = new List<string>();
        var cell = new StringBuilder();
        var isQuoted = false;
        for (var index = 0; index < line.Length; index++)
        {
            var character = line[index];
            if (character == '"' && isQuoted && index + 1 < line.Length && line[index + 1] == '"')
            {
                cell.Append('"');
                index++;
            }
            else if (character == '"') isQuoted = !isQuoted;
            else if (character == separator && !isQuoted)
            {
                cells.Add(cell.ToString().Trim());
                cell.Clear();
            }
            else cell.Append(character);
        }

        cells.Add(cell.ToString().Trim());
        return [.. cells];
    }

    /// <summary>The separator of a heading or data line: tab, else semicolon, else comma.</summary>
    public static char SeparatorOf(string line) =>
        line.Contains('\t', StringComparison.Ordinal) ? '\t' : line.Contains(';', StringComparison.Ordinal) ? ';' : ',';
}
