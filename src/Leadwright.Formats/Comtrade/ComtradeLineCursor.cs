using System.Globalization;
using Leadwright.Formats.Text;

namespace Leadwright.Formats.Comtrade;

/// <summary>Walks through the lines of a configuration and reads their fields.</summary>
internal sealed class ComtradeLineCursor(IReadOnlyList<SourceLine> lines, string source, List<ReadWarning> warnings)
{
    private int _next;
    private SourceLine _line;
    private string[] _fields = [];

    /// <summary>Number of fields of the line taken last.</summary>
    public int FieldCount => _fields.Length;

    /// <summary>Number of the line taken last.</summary>
    public int LineNumber => _line.Number;

    /// <summary>Steps to the next line that is not blank.</summary>
    /// <param name="what">What the line must hold, for the error at the end of the file.</param>
    /// <exception cref="FormatReadException">There is no further line.</exception>
    public void Take(string what)
    {
        if (TryTake()) return;
        var last = lines.Count > 0 ? lines[^1] : new SourceLine(1, 0, "");
        throw new FormatReadException(
            source, what, "the end of the configuration", "The .cfg is cut short: copy it again from the recorder.",
            last.Number, byteOffset: last.ByteOffset + last.Text.Length);
    }

    /// <summary>Steps to the next line that is not blank; false at the end.</summary>
    public bool TryTake()
    {
        while (_next < lines.Count && lines[_next].IsBlank) _next++;
        if (_next >= lines.Count) return false;
        _line = lines[_next++];
        _fields = _line.Text.Split(',');
        return true;
    }

    /// <summary>The coming line that is not blank, without stepping; null at the end.</summary>
    /// <param name="ahead">0 for the next, 1 for the one after.</param>
    public string? Peek(int ahead = 0)
    {
        for (var index = _next; index < lines.Count; index++)
        {
            if (lines[index].IsBlank) continue;
            if (ahead-- == 0) return lines[index].Text;
        }

        return null;
    }

    /// <summary>A field of the line without blanks around it; empty when the line is shorter.</summary>
    public string Field(int index) => index < _fields.Length ? _fields[index].Trim() : "";

    /// <summary>A field that must be a number.</summary>
    public double Number(int index, string name)
    {
        if (Text.Number.TryParse(Field(index), out var value)) return value;
        throw Bad(index, name, "a number");
    }

    /// <summary>A field that should be a number; <paramref name="otherwise"/> when it is empty or none, with a warning
    /// when it is none.</summary>
    public double NumberOr(int index, string name, double otherwise)
    {
        var field = Field(index);
        if (Text.Number.TryParse(field, out var value)) return value;
        // Limits of single-precision data are often written a digit too large to be finite; they play no part.
        if (field.Length > 0 && !double.IsNaN(otherwise))
        {
            Warn(string.Create(CultureInfo.InvariantCulture,
                $"'{name}' is {Quoted.Of(field)}, not a number; {otherwise} is taken."));
        }

        return otherwise;
    }

    /// <summary>A field that must be a whole number from 0; some recorders write it as a real.</summary>
    public int Whole(int index, string name, int most)
    {
        if (Text.Number.TryParse(Field(index), out var value) && value >= 0 && value <= most && value == Math.Floor(value))
            return (int)value;
        throw Bad(index, name, string.Create(CultureInfo.InvariantCulture, $"a whole number from 0 to {most}"));
    }

    /// <summary>The error for a field of the line.</summary>
    public FormatReadException Bad(int index, string name, string expected, string? hint = null) => new(
        source, expected, Quoted.Of(Field(index)), hint, _line.Number, index + 1, name, OffsetOf(index));

    /// <summary>The error for the whole line.</summary>
    public FormatReadException BadLine(string expected, string? hint = null) => new(
        source, expected, Quoted.Of(_line.Text), hint, _line.Number, byteOffset: _line.ByteOffset);

    /// <summary>Notes something about the line.</summary>
    public void Warn(string says) => warnings.Add(new ReadWarning(says, _line.Number, _line.ByteOffset));

    // In characters, which is right for all but names in UTF-8 before the field.
    private long OffsetOf(int index) => _line.ByteOffset + _fields.Take(index).Sum(field => field.Length + 1);
}
