namespace Leadwright.Formats.Text;

/// <summary>Cells of a table of text, by RFC 4180.</summary>
public static class CsvCell
{
    /// <summary>A cell in quotes where it holds what would part cells or rows; else as it is.</summary>
    /// <param name="text">What it holds.</param>
    public static string Quoted(string text) =>
        text.AsSpan().IndexOfAny(",\"\r\n") < 0 ? text : $"\"{text.Replace("\"", "\"\"", StringComparison.Ordinal)}\"";
}
