using System.Buffers.Binary;
using System.Globalization;
using System.Text;
using Leadwright.Formats.Comtrade;

namespace Leadwright.Formats.Tests.Comtrade;

/// <summary>Writes small records field by field after C37.111 clause 7.4, for the odd cases that no published file shows.</summary>
internal sealed record SmallRecord
{
    public string Year { get; init; } = "1999";
    public string Totals { get; init; } = "3,2A,1D";
    public string[] Channels { get; init; } =
    [
        "1,UA,A,,V,0.5,0,0,-32767,32767,100,1,S",
        "2,IA,A,,A,0.01,1,25,-32767,32767,200,5,S",
        "1,TRIP,,,0",
    ];

    public string Frequency { get; init; } = "50";
    public string[] Rates { get; init; } = ["1", "1000,3"];
    public string Start { get; init; } = "31/01/2026,10:20:30.123456";
    public string Trigger { get; init; } = "31/01/2026,10:20:30.123500";
    public string Type { get; init; } = "ASCII";
    public string[] Tail { get; init; } = ["1"];
    public string Dat { get; init; } = "1,0,100,10,0\r\n2,1000,-100,20,1\r\n3,2000,50,-30,0\r\n";
    public string LineEnd { get; init; } = "\r\n";
    public byte[]? Binary { get; init; }

    public string Cfg => string.Join(LineEnd, Lines()) + LineEnd;

    public InputFile CfgFile => TestData.Text("small.cfg", Cfg);

    public InputFile DatFile => new("small.dat", Binary ?? Encoding.Latin1.GetBytes(Dat));

    public ComtradeRecording Read(ComtradeReadOptions? options = null) => ComtradeReader.Read(CfgFile, DatFile, options);

    public FormatReadException Fail(ComtradeReadOptions? options = null) =>
        Assert.Throws<FormatReadException>(() => Read(options));

    /// <summary>Binary records of two analog channels and one status word.</summary>
    public static byte[] Records(params (uint Stamp, double First, double Second, ushort Status)[] samples) =>
        Pack(2, (bytes, value) => BinaryPrimitives.WriteInt16LittleEndian(bytes, (short)value), samples);

    public static byte[] Records32(params (uint Stamp, double First, double Second, ushort Status)[] samples) =>
        Pack(4, (bytes, value) => BinaryPrimitives.WriteInt32LittleEndian(bytes, (int)value), samples);

    public static byte[] RecordsSingle(params (uint Stamp, double First, double Second, ushort Status)[] samples) =>
        Pack(4, (bytes, value) => BinaryPrimitives.WriteSingleLittleEndian(bytes, (float)value), samples);

    private delegate void Writer(Span<byte> target, double value);

    private static byte[] Pack(int width, Writer write, (uint Stamp, double First, double Second, ushort Status)[] samples)
    {
        var length = 8 + (2 * width) + 2;
        var bytes = new byte[samples.Length * length];
        for (var index = 0; index < samples.Length; index++)
        {
            var record = bytes.AsSpan(index * length, length);
            BinaryPrimitives.WriteUInt32LittleEndian(record, (uint)index + 1);
            BinaryPrimitives.WriteUInt32LittleEndian(record[4..], samples[index].Stamp);
            write(record[8..], samples[index].First);
            write(record[(8 + width)..], samples[index].Second);
            BinaryPrimitives.WriteUInt16LittleEndian(record[(8 + (2 * width))..], samples[index].Status);
        }

        return bytes;
    }

    private IEnumerable<string> Lines()
    {
        yield return Year.Length > 0 ? $"STATION,RECORDER,{Year}" : "STATION,RECORDER";
        yield return Totals;
        foreach (var channel in Channels) yield return channel;
        yield return Frequency;
        foreach (var rate in Rates) yield return rate;
        yield return Start;
        yield return Trigger;
        yield return Type;
        foreach (var line in Tail) yield return line;
    }

    public override string ToString() => string.Create(CultureInfo.InvariantCulture, $"{Type} {Year}");
}
