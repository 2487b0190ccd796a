using System.Buffers;
using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Unicode;

namespace Leadwright.Surveys.Journal;

/// <summary>One line of the journal, as bytes: an entry, the SHA-256 of the line before, and the SHA-256 of this one.</summary>
/// <remarks>A line that is torn fails its own sum; a line that was changed, taken out or put in fails the next one's.</remarks>
/// <param name="Entry">The entry.</param>
/// <param name="Before">What it states of the line before: 64 digits, empty on the first.</param>
/// <param name="IsWhole">True when it agrees with its own sum.</param>
internal sealed record JournalLine(JournalEntry Entry, string Before, bool IsWhole)
{
    private const int SumLength = 64;
    private static readonly byte[] s_sumStart = Encoding.ASCII.GetBytes(",\"sum\":\"");

    /// <summary>The bytes of an entry, with the line's end.</summary>
    /// <param name="entry">The entry.</param>
    /// <param name="before">SHA-256 of the line before; empty for the first.</param>
    public static byte[] Write(JournalEntry entry, string before)
    {
        var buffer = new ArrayBufferWriter<byte>(512);
        using (var writer = new Utf8JsonWriter(buffer, new JsonWriterOptions { Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping }))
        {
            writer.WriteStartObject();
            writer.WriteNumber("no", entry.Number);
            writer.WriteString("at", entry.At.UtcDateTime.ToString("O", CultureInfo.InvariantCulture));
            writer.WriteString("who", entry.Who);
            writer.WriteString("what", entry.What);
            if (entry.Why.Length > 0) writer.WriteString("why", entry.Why);
            writer.WritePropertyName("data");
            JournalKinds.Write(writer, entry.Payload);
            writer.WriteString("before", before);
            writer.WriteEndObject();
        }

        // All but the closing brace is summed.
        var summed = buffer.WrittenSpan[..^1];
        var sum = Hex(summed);
        return [.. summed, .. s_sumStart, .. Encoding.ASCII.GetBytes(sum), (byte)'"', (byte)'}', (byte)'\n'];
    }

    /// <summary>SHA-256 of a line without its end, for the line after it.</summary>
    public static string Hex(ReadOnlySpan<byte> line) => Convert.ToHexStringLower(SHA256.HashData(line));

    /// <summary>Reads a line.</summary>
    /// <param name="line">Its bytes, without the end.</param>
    /// <returns>The line; null when it is none.</returns>
    public static JournalLine? Read(ReadOnlyMemory<byte> line)
    {
        if (!Utf8.IsValid(line.Span)) return null;
        try
        {
            using var document = JsonDocument.Parse(line);
            var root = document.RootElement;
            if (root.ValueKind != JsonValueKind.Object || !root.TryGetProperty("data", out var data)) return null;
            var what = TextOf(root, "what");
            if (what is null || !root.TryGetProperty("no", out var no) || !no.TryGetInt64(out var number)) return null;
            if (!DateTimeOffset.TryParse(TextOf(root, "at"), CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal | DateTimeStyles.AdjustToUniversal, out var at)) return null;
            var entry = new JournalEntry(number, at, TextOf(root, "who") ?? "", JournalKinds.Read(what, data.Clone()), TextOf(root, "why") ?? "");
            return new JournalLine(entry, TextOf(root, "before") ?? "", AgreesWithItsSum(line.Span));
        }
        catch (Exception failure) when (failure is JsonException or InvalidOperationException)
        {
            return null;
        }
    }

    private static bool AgreesWithItsSum(ReadOnlySpan<byte> line)
    {
        var start = line.Length - s_sumStart.Length - SumLength - 2;
        if (start < 0 || !line[start..].StartsWith(s_sumStart)) return false;
        Span<byte> sum = stackalloc byte[SumLength];
        Encoding.ASCII.GetBytes(Hex(line[..start]), sum);
        return line.Slice(start + s_sumStart.Length, SumLength).SequenceEqual(sum);
    }

    private static string? TextOf(JsonElement root, string name) =>
        root.TryGetProperty(name, out var value) && value.ValueKind == JsonValueKind.String ? value.GetString() : null;
}
