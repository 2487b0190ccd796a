using System.Buffers;
using System.Collections.Immutable;
using System.Text.Json;
using Leadwright.Core.Hookups.Priors;

namespace Leadwright.Formats.Priors;

/// <summary>Writes what the check believes before it reads anything: <c>leadwright.priors/1</c>.</summary>
public static class PriorsWriter
{
    /// <summary>The name of the format.</summary>
    public const string Schema = "leadwright.priors/1";

    /// <summary>Writes priors as UTF-8 JSON, indented, lines ended by LF; what is written reads back the same.</summary>
    /// <param name="priors">The priors.</param>
    public static byte[] Write(CheckPriors priors)
    {
        ArgumentNullException.ThrowIfNull(priors);
        var buffer = new ArrayBufferWriter<byte>();
        using (var writer = new Utf8JsonWriter(buffer, new JsonWriterOptions { Indented = true, NewLine = "\n" })) WriteRoot(writer, priors);
        buffer.Write("\n"u8);
        return buffer.WrittenSpan.ToArray();
    }

    private static void WriteRoot(Utf8JsonWriter writer, CheckPriors priors)
    {
        writer.WriteStartObject();
        writer.WriteString("schema", Schema);
        writer.WriteStartObject("slips");
        foreach (var field in SlipRateField.All) writer.WriteNumber(field.Word, field.Get(priors.Slips));
        writer.WriteEndObject();
        writer.WriteStartObject("loads");
        foreach (var (kind, load) in priors.Loads)
        {
            writer.WriteStartObject(kind.ToString().ToLowerInvariant());
            WriteMixture(writer, load.Components, load.Anything, load.Independent);
            writer.WriteEndObject();
        }

        writer.WriteEndObject();
        writer.WriteStartObject("generation");
        writer.WriteNumber("share", priors.Generation.Share);
        WriteMixture(writer, priors.Generation.Components, priors.Generation.Anything, priors.Generation.Independent);
        writer.WriteEndObject();
        writer.WriteEndObject();
    }

    private static void WriteMixture(
        Utf8JsonWriter writer, ImmutableArray<DisplacementComponent> components, double anything, double independent)
    {
        writer.WriteStartArray("components");
        foreach (var part in components)
        {
            writer.WriteStartObject();
            writer.WriteNumber("weight", part.Weight);
            writer.WriteNumber("mean_degrees", part.MeanDegrees);
            writer.WriteNumber("deviation_degrees", part.DeviationDegrees);
            writer.WriteNumber("alike", part.Alike);
            writer.WriteNumber("uneven", part.Uneven);
            writer.WriteEndObject();
        }

        writer.WriteEndArray();
        writer.WriteNumber("anything", anything);
        writer.WriteNumber("independent", independent);
    }
}
