using System.Globalization;
using System.Text;

namespace Leadwright.Formats;

/// <summary>Input that can't be used: what is wrong, where in which source, what was expected and found, what to do.</summary>
/// <remarks>The one exception of all readers for bad data. Its message is put together from its properties.</remarks>
public sealed class FormatReadException : Exception
{
    /// <summary>Describes bad input.</summary>
    /// <param name="source">Display name of the source, such as a file name.</param>
    /// <param name="expected">What should have stood there, as in <c>a number</c>.</param>
    /// <param name="found">What stood there; shown as given.</param>
    /// <param name="hint">What to do about it: one or more whole sentences; null when there is nothing to add.</param>
    /// <param name="line">Line number from 1; null where lines have no meaning.</param>
    /// <param name="column">Number of the field in its line from 1; null where there is none.</param>
    /// <param name="field">Name of the field, or its JSON path; null where there is none.</param>
    /// <param name="byteOffset">Offset in bytes from the start of the source; null when not known.</param>
    /// <param name="innerException">What the reader stumbled over, when it was an exception.</param>
    public FormatReadException(
        string source,
        string expected,
        string found,
        string? hint = null,
        int? line = null,
        int? column = null,
        string? field = null,
        long? byteOffset = null,
        Exception? innerException = null)
        : base(Compose(source, expected, found, hint, line, column, field, byteOffset), innerException)
    {
        Source = source;
        Expected = expected;
        Found = found;
        Hint = hint;
        Line = line;
        Column = column;
        Field = field;
        ByteOffset = byteOffset;
    }

    /// <summary>What should have stood there.</summary>
    public string Expected { get; }

    /// <summary>What stood there.</summary>
    public string Found { get; }

    /// <summary>What to do about it; null when there is nothing to add.</summary>
    public string? Hint { get; }

    /// <summary>Line number from 1; null where lines have no meaning.</summary>
    public int? Line { get; }

    /// <summary>Number of the field in its line from 1; null where there is none.</summary>
    public int? Column { get; }

    /// <summary>Name of the field, or its JSON path; null where there is none.</summary>
    public string? Field { get; }

    /// <summary>Offset in bytes from the start of the source; null when not known.</summary>
    public long? ByteOffset { get; }

    private static string Compose(
        string source, string expected, string found, string? hint, int? line, int? column, string? field, long? byteOffset)
    {
        var culture = CultureInfo.InvariantCulture;
        var text = new StringBuilder().Append(culture, $"Cannot read '{source}': ");
        var place = new List<string>();
        if (line is { } lineNumber) place.Add(string.Create(culture, $"line {lineNumber}"));
        if (column is { } columnNumber && field is not null) place.Add(string.Create(culture, $"column {columnNumber} '{field}'"));
        else if (column is { } bareColumn) place.Add(string.Create(culture, $"column {bareColumn}"));
        else if (field is not null) place.Add($"'{field}'");
        text.AppendJoin(", ", place);
        if (byteOffset is { } offset)
            text.Append(culture, $"{(place.Count > 0 ? " (" : "")}byte {offset}{(place.Count > 0 ? ")" : "")}");
        if (place.Count > 0 || byteOffset is not null) text.Append(": ");
        text.Append(culture, $"expected {expected}, found {found}.");
        if (!string.IsNullOrEmpty(hint)) text.Append(culture, $"\n{hint}");
        return text.ToString();
    }
}
