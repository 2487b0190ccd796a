using System.Buffers.Binary;
using System.Collections.Immutable;
using System.Runtime.InteropServices;
using System.Text;
using System.Text.Json;

namespace Leadwright.Client.Model.Charts;

/// <summary>Columns over a span of time, in as many rows as a chart can show: what the host sends and the chart draws.</summary>
/// <remarks>
/// As bytes: four with the length of a JSON head (little-endian), the head, then the times (binary64) and for each column mean, least and most of each row (binary32) and the weakest
/// standing (one byte); every block is filled up to eight bytes. Times are milliseconds of the recorder's own clock, counted as if it were UTC.
/// </remarks>
public sealed record ColumnFrame
{
    private const int Bound = 8;

    /// <summary>Start of the span that was asked for.</summary>
    public required double From { get; init; }

    /// <summary>Its end.</summary>
    public required double To { get; init; }

    /// <summary>Start of the whole recording.</summary>
    public required double WholeFrom { get; init; }

    /// <summary>Its end.</summary>
    public required double WholeTo { get; init; }

    /// <summary>How far rows stand apart where none is missing, milliseconds.</summary>
    public required double Step { get; init; }

    /// <summary>Middle of each row.</summary>
    public required double[] Times { get; init; }

    /// <summary>The columns.</summary>
    public required ImmutableArray<FrameColumn> Columns { get; init; }

    /// <summary>A time of the recorder's clock as the frame counts it.</summary>
    public static double MillisecondsOf(DateTime time) => (time.Ticks - DateTime.UnixEpoch.Ticks) / (double)TimeSpan.TicksPerMillisecond;

    /// <summary>A time as the frame counts it, by the recorder's clock.</summary>
    public static DateTime TimeOf(double milliseconds) => new(DateTime.UnixEpoch.Ticks + (long)Math.Round(milliseconds * TimeSpan.TicksPerMillisecond));

    /// <summary>The frame as bytes.</summary>
    public byte[] ToBytes()
    {
        using var head = new MemoryStream();
        using (var writer = new Utf8JsonWriter(head)) WriteHead(writer);
        var headLength = Filled(head.Length + 4) - 4;
        var bytes = new byte[4 + headLength + Filled(8L * Times.Length) + (Columns.Length * ((3 * Filled(4L * Times.Length)) + Filled(Times.Length)))];
        BinaryPrimitives.WriteInt32LittleEndian(bytes, headLength);
        bytes.AsSpan(4, headLength).Fill((byte)' ');
        head.ToArray().CopyTo(bytes, 4);
        var at = 4 + headLength;
        Put(bytes, ref at, MemoryMarshal.AsBytes(Times.AsSpan()));
        foreach (var column in Columns)
        {
            Put(bytes, ref at, MemoryMarshal.AsBytes(column.Mean.AsSpan()));
            Put(bytes, ref at, MemoryMarshal.AsBytes(column.Low.AsSpan()));
            Put(bytes, ref at, MemoryMarshal.AsBytes(column.High.AsSpan()));
            Put(bytes, ref at, column.Standing);
        }

        return bytes;
    }

    /// <summary>Reads a frame.</summary>
    /// <param name="bytes">As <see cref="ToBytes"/> wrote them.</param>
    /// <exception cref="FormatException">They are no frame, or end early.</exception>
    public static ColumnFrame Read(ReadOnlySpan<byte> bytes)
    {
        try
        {
            var headLength = BinaryPrimitives.ReadInt32LittleEndian(bytes);
            using var head = JsonDocument.Parse(Encoding.UTF8.GetString(bytes.Slice(4, headLength)));
            var count = head.RootElement.GetProperty("count").GetInt32();
            var at = 4 + headLength;
            var times = Take<double>(bytes, ref at, count);
            var columns = ImmutableArray.CreateBuilder<FrameColumn>();
            foreach (var column in head.RootElement.GetProperty("columns").EnumerateArray())
            {
                columns.Add(new FrameColumn(column.GetProperty("name").GetString()!, column.GetProperty("unit").GetString()!)
                {
                    Mean = Take<float>(bytes, ref at, count),
                    Low = Take<float>(bytes, ref at, count),
                    High = Take<float>(bytes, ref at, count),
                    Standing = Take<byte>(bytes, ref at, count),
                });
            }

            double Number(string name) => head.RootElement.GetProperty(name).GetDouble();
            return new ColumnFrame
            {
                From = Number("from"), To = Number("to"), WholeFrom = Number("whole_from"), WholeTo = Number("whole_to"), Step = Number("step"),
                Times = times, Columns = columns.ToImmutable(),
            };
        }
        catch (Exception failure) when (failure is JsonException or KeyNotFoundException or ArgumentException or InvalidOperationException)
        {
            throw new FormatException("The host's answer is no frame of columns, or ends early.", failure);
        }
    }

    private static int Filled(long length) => checked((int)((length + Bound - 1) / Bound * Bound));

    private static void Put(byte[] bytes, ref int at, ReadOnlySpan<byte> block)
    {
        block.CopyTo(bytes.AsSpan(at));
        at += Filled(block.Length);
    }

    private static T[] Take<T>(ReadOnlySpan<byte> bytes, ref int at, int count)
        where T : unmanaged
    {
        var values = new T[count];
        var block = MemoryMarshal.AsBytes(values.AsSpan());
        bytes.Slice(at, block.Length).CopyTo(block);
        at += Filled(block.Length);
        return values;
    }

    private void WriteHead(Utf8JsonWriter writer)
    {
        writer.WriteStartObject();
        writer.WriteNumber("from", From);
        writer.WriteNumber("to", To);
        writer.WriteNumber("whole_from", WholeFrom);
        writer.WriteNumber("whole_to", WholeTo);
        writer.WriteNumber("step", Step);
        writer.WriteNumber("count", Times.Length);
        writer.WriteStartArray("columns");
        foreach (var column in Columns)
        {
            writer.WriteStartObject();
            writer.WriteString("name", column.Name);
            writer.WriteString("unit", column.Unit);
            writer.WriteEndObject();
        }

        writer.WriteEndArray();
        writer.WriteEndObject();
    }
}
