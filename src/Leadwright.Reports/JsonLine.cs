using System.Buffers;
using System.Globalization;
using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;

namespace Leadwright.Reports;

/// <summary>What all answers in JSON share: one object to a line, numbers with no more digits than they are good for.</summary>
internal static class JsonLine
{
    // Signs such as − and ° stay readable; the text goes to files and pipes, never into a page unescaped.
    private static readonly JsonWriterOptions s_options = new() { Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    /// <summary>What a function writes, as one line.</summary>
    /// <param name="write">Writes one object.</param>
    public static string Of(Action<Utf8JsonWriter> write)
    {
        var buffer = new ArrayBufferWriter<byte>(4096);
        using (var writer = new Utf8JsonWriter(buffer, s_options)) write(writer);
        return Encoding.UTF8.GetString(buffer.WrittenSpan);
    }

    /// <summary>Writes a number; nothing where it is not known.</summary>
    /// <param name="writer">Receives it.</param>
    /// <param name="name">Its name.</param>
    /// <param name="value">The number; NaN when not known.</param>
    /// <param name="digits">Significant digits.</param>
    public static void Number(this Utf8JsonWriter writer, string name, double value, int digits)
    {
        if (!double.IsFinite(value)) return;
        writer.WritePropertyName(name);
        writer.WriteRawValue(Text(value, digits));
    }

    /// <summary>Writes a list of numbers; null for those that are not known.</summary>
    /// <param name="writer">Receives it.</param>
    /// <param name="name">Its name.</param>
    /// <param name="values">The numbers.</param>
    /// <param name="digits">Significant digits.</param>
    public static void Numbers(this Utf8JsonWriter writer, string name, IEnumerable<double> values, int digits)
    {
        writer.WriteStartArray(name);
        foreach (var value in values)
        {
            if (double.IsFinite(value)) writer.WriteRawValue(Text(value, digits));
            else writer.WriteNullValue();
        }

        writer.WriteEndArray();
    }

    /// <summary>Writes a list of texts.</summary>
    /// <param name="writer">Receives it.</param>
    /// <param name="name">Its name.</param>
    /// <param name="texts">The texts.</param>
    public static void Texts(this Utf8JsonWriter writer, string name, IEnumerable<string> texts)
    {
        writer.WriteStartArray(name);
        foreach (var text in texts) writer.WriteStringValue(text);
        writer.WriteEndArray();
    }

    private static string Text(double value, int digits) =>
        double.Parse(value.ToString($"G{digits}", CultureInfo.InvariantCulture), CultureInfo.InvariantCulture).ToString("R", CultureInfo.InvariantCulture);
}
