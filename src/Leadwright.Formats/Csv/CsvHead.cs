using System.Collections.Immutable;
using System.Globalization;
using Leadwright.Formats.Text;

namespace Leadwright.Formats.Csv;

/// <summary>What stands above the rows of a table of samples, and what is found out from the first of them.</summary>
internal sealed class CsvHead
{
    private const int RowsLookedAt = 50;

    /// <summary>The remark lines.</summary>
    public CsvPreamble Preamble { get; } = new();

    /// <summary>The headings.</summary>
    public ImmutableArray<CsvHeading> Headings { get; private set; }

    /// <summary>The separator.</summary>
    public char Separator { get; private set; }

    /// <summary>The decimal mark.</summary>
    public char DecimalMark { get; private set; }

    /// <summary>Number of the first line that may be a row.</summary>
    public int FirstLine { get; private set; }

    /// <summary>Byte offset of that line.</summary>
    public long FirstOffset { get; private set; }

    /// <summary>Reads it.</summary>
    /// <param name="lines">The file's lines; a few more than the head are taken.</param>
    /// <param name="name">Display name.</param>
    /// <param name="options">How to read.</param>
    /// <param name="warnings">Receives what was put up with.</param>
    /// <exception cref="FormatReadException">It is no head of a table of samples, or no row follows.</exception>
    public static CsvHead Of(IEnumerable<SourceLine> lines, string name, CsvSampleOptions options, List<ReadWarning> warnings)
    {
        var head = new CsvHead();
        SourceLine? heading = null;
        SourceLine last = default;
        var isOpen = true;
        var (rows, mark) = (0, options.DecimalMark ?? ' ');
        foreach (var line in lines)
        {
            last = line;
            if (heading is null && (line.IsBlank || line.Text.TrimStart().StartsWith('#')))
            {
                if (!line.IsBlank) head.Preamble.Read(line, name, warnings);
                continue;
            }

            if (heading is null)
            {
                heading = line;
                if (head.TakeHeadings(line, name, options)) continue;
            }

            if (isOpen) (head.FirstLine, head.FirstOffset, isOpen) = (line.Number, line.ByteOffset, false);
            if (line.IsBlank) continue;
            if (mark == ' ') mark = head.MarkIn(line.Text);
            if (++rows >= RowsLookedAt) break;
        }

        if (heading is null)
            throw new FormatReadException(name, "a heading row and rows of samples", "no row", "The file is empty: export it again.");
        if (rows == 0)
        {
            throw new FormatReadException(
                name, "rows of samples below the headings", "no row", "The file is cut short: export it again.",
                last.Number, byteOffset: last.ByteOffset);
        }

        head.DecimalMark = mark == ' ' ? '.' : mark;
        return head;
    }

    // True when the line was the heading row; else it is a row already.
    private bool TakeHeadings(SourceLine line, string name, CsvSampleOptions options)
    {
        var columns = options.Columns.IsDefaultOrEmpty ? Preamble.Columns : options.Columns;
        Separator = options.Separator ?? CsvRow.SeparatorOf(line.Text);
        Headings = HeadingsOf(columns.IsEmpty ? [.. CsvRow.Split(line.Text, Separator)] : columns, line, name, Separator);
        return columns.IsEmpty;
    }

    // The comma is the decimal mark when it is no separator and the first row that has either mark has commas only.
    private char MarkIn(string row)
    {
        if (Separator == ',' || row.Contains('.', StringComparison.Ordinal)) return '.';
        return row.Contains(',', StringComparison.Ordinal) ? ',' : ' ';
    }

    private static ImmutableArray<CsvHeading> HeadingsOf(
        ImmutableArray<string> texts, SourceLine line, string source, char separator)
    {
        // A last separator at the end of the line opens no column.
        if (texts.Length > 1 && texts[^1].Length == 0) texts = texts[..^1];
        if (texts.Any(text => text.Length == 0 || Number.TryParse(text.Replace(',', '.'), out _)))
        {
            throw new FormatReadException(
                source, "a heading row with a name and unit for each column, such as 'time (s),V1 (V),I1 (A)'",
                Quoted.Of(line.Text),
                "Add a heading row, or a first line such as '# columns: V1 (V), I1 (A)', and '# rate_hz: 10240' where there is no time column.",
                line.Number, byteOffset: line.ByteOffset);
        }

        var headings = texts.Select(CsvHeading.Parse).ToImmutableArray();
        if (headings.All(heading => heading.IsTime))
        {
            throw new FormatReadException(
                source, "at least one column of samples", Quoted.Of(line.Text),
                $"The columns are taken to be separated by {NameOf(separator)}; the file may use another separator.",
                line.Number, byteOffset: line.ByteOffset);
        }

        var twice = headings.Where(heading => heading.Name.Length > 0)
            .GroupBy(heading => heading.Name, StringComparer.OrdinalIgnoreCase)
            .FirstOrDefault(group => group.Count() > 1);
        if (twice is not null)
        {
            throw new FormatReadException(
                source, "a different name for each column", $"{Quoted.Of(twice.Key)} {twice.Count()} times",
                "Give each column a name of its own: which of them is meant can't be known.",
                line.Number, byteOffset: line.ByteOffset);
        }

        return headings;
    }

    internal static string NameOf(char separator) => separator switch
    {
        '\t' => "tabs",
        ';' => "semicolons",
        ',' => "commas",
        _ => string.Create(CultureInfo.InvariantCulture, $"'{separator}'"),
    };
}
