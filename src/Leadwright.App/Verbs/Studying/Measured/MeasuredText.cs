using System.Globalization;
using System.Text;
using Leadwright.Formats;

namespace Leadwright.App.Verbs.Studying.Measured;

/// <summary>The columns of a table that <c>measure</c> wrote as text: RFC 4180, decimal points. Its numbers are held in memory.</summary>
internal sealed class MeasuredText : IMeasuredColumns
{
    private readonly string _path;
    private readonly List<double>?[] _numbers;
    private readonly List<string>?[] _words;
    private readonly Dictionary<string, string> _kept = new(StringComparer.Ordinal);

    private MeasuredText(string path, IReadOnlyList<string> names, Func<string, bool> isText)
    {
        (_path, Names) = (path, names);
        _words = [.. names.Select(name => isText(name) ? new List<string>() : null)];
        _numbers = [.. names.Select(name => isText(name) ? null : new List<double>())];
    }

    public IReadOnlyList<string> Names { get; }

    public int Count { get; private set; }

    /// <summary>Reads a table.</summary>
    /// <param name="path">The file.</param>
    /// <param name="isText">Which columns hold words or times.</param>
    /// <param name="cancellation">Ends it early.</param>
    /// <exception cref="FormatReadException">A row does not fit the headings, or a cell is no number.</exception>
    public static MeasuredText Open(string path, Func<string, bool> isText, CancellationToken cancellation)
    {
        using var reader = new StreamReader(path, Encoding.UTF8);
        var table = new MeasuredText(path, [.. Cells(reader.ReadLine() ?? "")], isText);
        for (var line = 2; reader.ReadLine() is { } text; line++)
        {
            if ((line & 0xFFF) == 0) cancellation.ThrowIfCancellationRequested();
            if (text.Length > 0) table.Take(text, line);
        }

        return table;
    }

    /// <summary>The headings of a table of text.</summary>
    public static IReadOnlyList<string> HeadingsOf(string path)
    {
        using var reader = new StreamReader(path, Encoding.UTF8);
        Span<char> head = stackalloc char[4096];
        var count = reader.ReadBlock(head);
        var end = head[..count].IndexOfAny('\r', '\n');
        return [.. Cells(head[..(end < 0 ? count : end)].ToString())];
    }

    public double[] Numbers(string name, CancellationToken cancellation) => [.. _numbers[IndexOf(name)] ?? throw new FormatReadException(_path, $"numbers in column '{name}'", "words")];

    public long[] Times(string name, CancellationToken cancellation)
    {
        var words = _words[IndexOf(name)]!;
        var ticks = new long[words.Count];
        for (var row = 0; row < ticks.Length; row++)
        {
            ticks[row] = words[row].Length == 0 ? long.MinValue
                : DateTime.TryParse(words[row], CultureInfo.InvariantCulture, DateTimeStyles.None, out var time) ? time.Ticks
                : throw new FormatReadException(_path, $"a date and time in column '{name}'", $"'{words[row]}'", line: row + 2);
        }

        return ticks;
    }

    public void Words(string name, Action<int, string?> take, CancellationToken cancellation)
    {
        var words = _words[IndexOf(name)]!;
        for (var row = 0; row < words.Count; row++) take(row, words[row]);
    }

    public void Dispose()
    {
    }

    private int IndexOf(string name)
    {
        for (var index = 0; index < Names.Count; index++)
        {
            if (Names[index] == name) return index;
        }

        throw new FormatReadException(_path, $"a column '{name}'", "none of that name");
    }

    private void Take(string text, int line)
    {
        var cells = Cells(text);
        if (cells.Count != Names.Count)
            throw new FormatReadException(_path, $"{Names.Count} cells as there are headings", $"{cells.Count}", "Copy the file again, or measure the recording again.", line);
        for (var column = 0; column < cells.Count; column++)
        {
            if (_words[column] is { } words) words.Add(Kept(cells[column]));
            else if (cells[column].Length == 0) _numbers[column]!.Add(double.NaN);
            else if (double.TryParse(cells[column], NumberStyles.Float, CultureInfo.InvariantCulture, out var number)) _numbers[column]!.Add(number);
            else throw new FormatReadException(_path, $"a number in column '{Names[column]}'", $"'{cells[column]}'", "Copy the file again, or measure the recording again.", line);
        }

        Count++;
    }

    private string Kept(string word)
    {
        if (_kept.TryGetValue(word, out var known)) return known;
        if (_kept.Count < 1000) _kept[word] = word;
        return word;
    }

    private static List<string> Cells(string line)
    {
        var cells = new List<string>();
        var (cell, isQuoted) = (new StringBuilder(), false);
        for (var at = 0; at < line.Length; at++)
        {
            var sign = line[at];
            if (isQuoted && sign == '"' && at + 1 < line.Length && line[at + 1] == '"') cell.Append(line[at++]);
            else if (sign == '"') isQuoted = !isQuoted;
            else if (sign == ',' && !isQuoted)
            {
                cells.Add(cell.ToString());
                cell.Clear();
            }
            else
            {
                cell.Append(sign);
            }
        }

        cells.Add(cell.ToString());
        return cells;
    }
}
