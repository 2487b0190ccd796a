using System.Buffers.Binary;
using System.Globalization;
using System.IO.Compression;
using System.Text;

namespace Leadwright.Formats.Tests.Pqdif;

/// <summary>Lays PQDIF files out byte by byte, by the record layout of IEEE 1159.3 alone; knows nothing of the product's writer.</summary>
/// <remarks>Identifiers are those of the working group's public header files, format version 1.5.</remarks>
internal static class RawPqdif
{
    public const string Signature = "4a111440-e49f-11cf-9900-505144494600";
    public const string Container = "89738606-f1c3-11cf-9d89-0080c72e70a3";
    public const string DataSource = "89738619-f1c3-11cf-9d89-0080c72e70a3";
    public const string MonitorSettings = "b48d858c-f5f5-11cf-9d89-0080c72e70a3";
    public const string Observation = "8973861a-f1c3-11cf-9d89-0080c72e70a3";
    public const string CompressionStyle = "8973861b-f1c3-11cf-9d89-0080c72e70a3";
    public const string CompressionAlgorithm = "8973861c-f1c3-11cf-9d89-0080c72e70a3";
    public const string FileName = "89738608-f1c3-11cf-9d89-0080c72e70a3";
    public const string NameDs = "b48d8587-f5f5-11cf-9d89-0080c72e70a3";
    public const string ChannelDefns = "b48d858d-f5f5-11cf-9d89-0080c72e70a3";
    public const string OneChannelDefn = "b48d858e-f5f5-11cf-9d89-0080c72e70a3";
    public const string ChannelDefnIdx = "b48d858f-f5f5-11cf-9d89-0080c72e70a3";
    public const string ChannelName = "b48d8590-f5f5-11cf-9d89-0080c72e70a3";
    public const string PhaseId = "b48d8591-f5f5-11cf-9d89-0080c72e70a3";
    public const string QuantityTypeId = "b48d8592-f5f5-11cf-9d89-0080c72e70a3";
    public const string QuantityMeasuredId = "c690e872-f755-11cf-9d89-0080c72e70a3";
    public const string SeriesDefns = "b48d8598-f5f5-11cf-9d89-0080c72e70a3";
    public const string OneSeriesDefn = "b48d859a-f5f5-11cf-9d89-0080c72e70a3";
    public const string QuantityUnitsId = "b48d859b-f5f5-11cf-9d89-0080c72e70a3";
    public const string ValueTypeId = "b48d859c-f5f5-11cf-9d89-0080c72e70a3";
    public const string QuantityCharacteristicId = "3d786f9e-f76e-11cf-9d89-0080c72e70a3";
    public const string StorageMethodId = "b48d85a1-f5f5-11cf-9d89-0080c72e70a3";
    public const string ObservationName = "3d786f8a-f76e-11cf-9d89-0080c72e70a3";
    public const string TimeStart = "3d786f8c-f76e-11cf-9d89-0080c72e70a3";
    public const string ChannelInstances = "3d786f91-f76e-11cf-9d89-0080c72e70a3";
    public const string OneChannelInst = "3d786f92-f76e-11cf-9d89-0080c72e70a3";
    public const string SeriesInstances = "3d786f93-f76e-11cf-9d89-0080c72e70a3";
    public const string OneSeriesInstance = "3d786f94-f76e-11cf-9d89-0080c72e70a3";
    public const string SeriesScale = "3d786f96-f76e-11cf-9d89-0080c72e70a3";
    public const string SeriesOffset = "3d786f97-f76e-11cf-9d89-0080c72e70a3";
    public const string SeriesValues = "3d786f99-f76e-11cf-9d89-0080c72e70a3";
    public const string ShareChannelIdx = "8973861f-f1c3-11cf-9d89-0080c72e70a3";
    public const string ShareSeriesIdx = "89738620-f1c3-11cf-9d89-0080c72e70a3";
    public const string ChannelGroupId = "f90de218-e67b-4cf1-a295-b021a2d46767";
    public const string UseCalibration = "62f28180-f9c4-11cf-9d89-0080c72e70a3";
    public const string UseTransducer = "62f28181-f9c4-11cf-9d89-0080c72e70a3";
    public const string ChannelSettingsArray = "62f28182-f9c4-11cf-9d89-0080c72e70a3";
    public const string OneChannelSetting = "3d786f9a-f76e-11cf-9d89-0080c72e70a3";
    public const string XdSystemSideRatio = "62f2818a-f9c4-11cf-9d89-0080c72e70a3";
    public const string XdMonitorSideRatio = "62f2818b-f9c4-11cf-9d89-0080c72e70a3";
    public const string NominalFrequency = "0fa118c3-cb4a-11d2-b30b-fe25cb9a1760";

    public const string Waveform = "67f6af80-f753-11cf-9d89-0080c72e70a3";
    public const string Phasor = "67f6af81-f753-11cf-9d89-0080c72e70a3";
    public const string ValueLog = "67f6af82-f753-11cf-9d89-0080c72e70a3";
    public const string Histogram = "67f6af87-f753-11cf-9d89-0080c72e70a3";
    public const string Time = "c690e862-f755-11cf-9d89-0080c72e70a3";
    public const string Val = "67f6af97-f753-11cf-9d89-0080c72e70a3";
    public const string Min = "67f6af98-f753-11cf-9d89-0080c72e70a3";
    public const string Max = "67f6af99-f753-11cf-9d89-0080c72e70a3";
    public const string Avg = "67f6af9a-f753-11cf-9d89-0080c72e70a3";
    public const string PhaseAngle = "3d786f9d-f76e-11cf-9d89-0080c72e70a3";
    public const string QcNone = "a6b31adf-b451-11d1-ae17-0060083a2628";
    public const string QcInstantaneous = "a6b31add-b451-11d1-ae17-0060083a2628";
    public const string QcRms = "a6b31ae5-b451-11d1-ae17-0060083a2628";
    public const string QcP = "a6b31ae1-b451-11d1-ae17-0060083a2628";
    public const string QcPowerFactor = "a6b31ae3-b451-11d1-ae17-0060083a2628";
    public const string QcEnergyPositive = "07ef68a7-9ff5-11d2-b30b-006008b37183";
    public const string QcHarmonicGroup = "53be6ba8-0789-455b-9a95-da128683dda7";

    /// <summary>An element: its kind, its type, and its bytes or its children.</summary>
    public sealed record Element(string Tag, byte Kind, byte Type, byte[] Bytes, Element[] Children, bool IsEmbedded);

    public static Element Collection(string tag, params Element[] children) => new(tag, 1, 0, [], children, false);

    public static Element UInt4(string tag, uint value) => new(tag, 2, 32, Bytes(4, span => BinaryPrimitives.WriteUInt32LittleEndian(span, value)), [], true);

    public static Element Bool4(string tag, bool value) => UInt4(tag, value ? 1u : 0u) with { Type = 3 };

    public static Element Int2(string tag, short value) => new(tag, 2, 21, Bytes(2, span => BinaryPrimitives.WriteInt16LittleEndian(span, value)), [], true);

    public static Element Real8(string tag, double value, bool isEmbedded = true) =>
        new(tag, 2, 41, Bytes(8, span => BinaryPrimitives.WriteDoubleLittleEndian(span, value)), [], isEmbedded);

    public static Element Id(string tag, string value) => new(tag, 2, 60, IdBytes(value), [], false);

    public static Element Stamp(string tag, uint day, double seconds) => new(tag, 2, 50, StampBytes(day, seconds), [], false);

    public static Element Ascii(string tag, string text) => Vector(tag, 10, text.Length + 1, System.Text.Encoding.ASCII.GetBytes(text + "\0"));

    public static Element WideText(string tag, string text) => Vector(tag, 11, text.Length + 1, Encoding.Unicode.GetBytes(text + "\0"));

    public static Element Int2s(string tag, params short[] values) =>
        Vector(tag, 21, values.Length, [.. values.SelectMany(value => Bytes(2, span => BinaryPrimitives.WriteInt16LittleEndian(span, value)))]);

    public static Element Real4s(string tag, params float[] values) =>
        Vector(tag, 40, values.Length, [.. values.SelectMany(value => Bytes(4, span => BinaryPrimitives.WriteSingleLittleEndian(span, value)))]);

    public static Element Real8s(string tag, params double[] values) =>
        Vector(tag, 41, values.Length, [.. values.SelectMany(value => Bytes(8, span => BinaryPrimitives.WriteDoubleLittleEndian(span, value)))]);

    public static Element Stamps(string tag, params (uint Day, double Seconds)[] values) =>
        Vector(tag, 50, values.Length, [.. values.SelectMany(value => StampBytes(value.Day, value.Seconds))]);

    /// <summary>A vector that states a count, whatever its bytes are.</summary>
    public static Element Vector(string tag, byte type, int count, byte[] values) =>
        new(tag, 3, type, [.. Bytes(4, span => BinaryPrimitives.WriteInt32LittleEndian(span, count)), .. values], [], false);

    /// <summary>The body of a record: level by level, all collections first, then all values.</summary>
    public static byte[] Body(params Element[] root)
    {
        var body = new List<byte>();
        var values = new List<(int EntryAt, byte[] Bytes)>();
        var open = new Queue<(int? EntryAt, Element[] Elements)>([(null, root)]);
        while (open.TryDequeue(out var next))
        {
            var at = body.Count;
            body.AddRange(Word(next.Elements.Length));
            if (next.EntryAt is { } link) SetLink(link, at, 4 + (28 * next.Elements.Length));
            foreach (var element in next.Elements)
            {
                body.AddRange(IdBytes(element.Tag));
                body.AddRange([element.Kind, element.Type, (byte)(element.IsEmbedded ? 1 : 0), 0]);
                var entryAt = body.Count;
                var embedded = new byte[8];
                if (element.IsEmbedded) element.Bytes.CopyTo(embedded, 0);
                body.AddRange(embedded);
                if (element.Kind == 1) open.Enqueue((entryAt, element.Children));
                else if (!element.IsEmbedded) values.Add((entryAt, element.Bytes));
            }
        }

        foreach (var (entryAt, bytes) in values)
        {
            SetLink(entryAt, body.Count, (bytes.Length + 3) / 4 * 4);
            body.AddRange(bytes);
            while (body.Count % 4 != 0) body.Add(0);
        }

        return [.. body];

        void SetLink(int entryAt, int offset, int size)
        {
            for (var index = 0; index < 4; index++)
            {
                body[entryAt + index] = Word(offset)[index];
                body[entryAt + 4 + index] = Word(size)[index];
            }
        }
    }

    /// <summary>A record: header of 64 bytes, body, padding.</summary>
    public static byte[] Record(string type, byte[] body, uint next, uint checksum = 0) =>
    [
        .. IdBytes(Signature), .. IdBytes(type), .. Word(64), .. Word(body.Length), .. Word((int)next), .. Word((int)checksum), .. new byte[16],
        .. body, .. new byte[-body.Length & 3],
    ];

    /// <summary>A file of records, each linked to the next.</summary>
    public static byte[] File(params (string Type, byte[] Body)[] records)
    {
        var file = new List<byte>();
        for (var index = 0; index < records.Length; index++)
        {
            var end = file.Count + 64 + ((records[index].Body.Length + 3) / 4 * 4);
            file.AddRange(Record(records[index].Type, records[index].Body, index + 1 < records.Length ? (uint)end : 0));
        }

        return [.. file];
    }

    public static byte[] Zlib(byte[] bytes)
    {
        using var packed = new MemoryStream();
        using (var stream = new ZLibStream(packed, CompressionLevel.SmallestSize, leaveOpen: true)) stream.Write(bytes);
        return packed.ToArray();
    }

    /// <summary>The bytes of an identifier: four, two and two of them turned round, the other eight as written.</summary>
    public static byte[] IdBytes(string id)
    {
        var hex = id.Replace("-", "", StringComparison.Ordinal);
        byte[] written = [.. Enumerable.Range(0, 16).Select(index => byte.Parse(hex.AsSpan(2 * index, 2), NumberStyles.HexNumber, CultureInfo.InvariantCulture))];
        return [written[3], written[2], written[1], written[0], written[5], written[4], written[7], written[6], .. written[8..]];
    }

    public static byte[] Word(int value) => Bytes(4, span => BinaryPrimitives.WriteInt32LittleEndian(span, value));

    private delegate void Fill(Span<byte> bytes);

    private static byte[] Bytes(int count, Fill fill)
    {
        var bytes = new byte[count];
        fill(bytes);
        return bytes;
    }

    private static byte[] StampBytes(uint day, double seconds) =>
        [.. Word((int)day), .. Bytes(8, span => BinaryPrimitives.WriteDoubleLittleEndian(span, seconds))];
}
