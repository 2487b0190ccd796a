using System.Buffers;
using System.Text.Encodings.Web;
using System.Text.Json;
using Leadwright.Core.Logs;

namespace Leadwright.Formats.Matching;

/// <summary>Writes a profile of columns: <c>leadwright.columns/1</c>.</summary>
public static class ColumnProfileWriter
{
    /// <summary>Writes a profile as UTF-8 JSON, indented, lines ended by LF; what is written reads back the same.</summary>
    /// <param name="profile">The profile.</param>
    public static byte[] Write(ColumnProfile profile)
    {
        ArgumentNullException.ThrowIfNull(profile);
        var buffer = new ArrayBufferWriter<byte>();
        // The file is read by people and never put into a page as it is: headings keep their letters.
        var options = new JsonWriterOptions { Indented = true, NewLine = "\n", Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };
        using (var writer = new Utf8JsonWriter(buffer, options)) WriteRoot(writer, profile);
        buffer.Write("\n"u8);
        return buffer.WrittenSpan.ToArray();
    }

    private static void WriteRoot(Utf8JsonWriter writer, ColumnProfile profile)
    {
        writer.WriteStartObject();
        writer.WriteString("schema", ColumnProfileWords.Schema);
        if (profile.DateOrder is { } order) writer.WriteString("date_order", ColumnProfileWords.WordOf(ColumnProfileWords.Orders, order));
        if (profile.Stamps is { } stamps) writer.WriteString("stamps", ColumnProfileWords.WordOf(ColumnProfileWords.Stamps, stamps));
        if (profile.DecimalMark is { } mark) writer.WriteString("decimal_mark", ColumnProfileWords.WordOf(ColumnProfileWords.Marks, mark));
        writer.WriteStartArray("headings");
        foreach (var heading in profile.Headings) writer.WriteStringValue(heading);
        writer.WriteEndArray();
        writer.WriteStartArray("columns");
        foreach (var column in profile.Columns) WriteColumn(writer, column);
        writer.WriteEndArray();
        writer.WriteEndObject();
    }

    private static void WriteColumn(Utf8JsonWriter writer, ColumnStatement column)
    {
        writer.WriteStartObject();
        writer.WriteString("column", column.Column);
        if (column.IsLeftOut)
        {
            writer.WriteBoolean("left_out", true);
        }
        else
        {
            writer.WriteString("quantity", ColumnProfileWords.WordOf(ColumnProfileWords.Quantities, column.Quantity));
            if (column.Place != LogPlace.Whole) writer.WriteString("place", ColumnProfileWords.WordOf(ColumnProfileWords.Places, column.Place));
            writer.WriteString("statistic", ColumnProfileWords.WordOf(ColumnProfileWords.Statistics, column.Statistic));
            if (column.Unit.Length > 0) writer.WriteString("unit", column.Unit);
            if (column.IsExport) writer.WriteBoolean("export", true);
            if (column.Order > 0) writer.WriteNumber("order", column.Order);
        }

        writer.WriteEndObject();
    }
}
