using System.Buffers.Binary;
using System.Globalization;
using System.Text;
using Leadwright.Formats;

namespace Leadwright.Benchmarks;

/// <summary>A minute of computed waveform as COMTRADE of the 1999 revision.</summary>
internal static class ComtradeMinute
{
    private const int RateHertz = 10_000;
    private const int SampleCount = 60 * RateHertz;
    private const int AnalogCount = 8;
    private const int RecordLength = 8 + (2 * AnalogCount) + 2;

    public static InputFile Configuration(string dataType)
    {
        var text = new StringBuilder("BENCH,1,1999\r\n24,8A,16D\r\n");
        for (var channel = 1; channel <= AnalogCount; channel++)
            text.Append(CultureInfo.InvariantCulture, $"{channel},CH{channel},,,V,0.01,0,0,-32767,32767,1,1,P\r\n");
        for (var channel = 1; channel <= 16; channel++) text.Append(CultureInfo.InvariantCulture, $"{channel},S{channel},,,0\r\n");
        text.Append(CultureInfo.InvariantCulture,
            $"50\r\n1\r\n{RateHertz},{SampleCount}\r\n01/01/2026,00:00:00.000000\r\n01/01/2026,00:00:00.000000\r\n{dataType}\r\n1\r\n");
        return new InputFile("minute.cfg", Encoding.ASCII.GetBytes(text.ToString()));
    }

    public static byte[] Binary()
    {
        var bytes = new byte[SampleCount * RecordLength];
        for (var index = 0; index < SampleCount; index++)
        {
            var record = bytes.AsSpan(index * RecordLength, RecordLength);
            BinaryPrimitives.WriteInt32LittleEndian(record, index + 1);
            BinaryPrimitives.WriteInt32LittleEndian(record[4..], index * (1_000_000 / RateHertz));
            for (var channel = 0; channel < AnalogCount; channel++)
                BinaryPrimitives.WriteInt16LittleEndian(record[(8 + (2 * channel))..], Count(index, channel));
        }

        return bytes;
    }

    public static byte[] Text()
    {
        var text = new StringBuilder();
        for (var index = 0; index < SampleCount; index++)
        {
            text.Append(CultureInfo.InvariantCulture, $"{index + 1},{index * (1_000_000 / RateHertz)}");
            for (var channel = 0; channel < AnalogCount; channel++) text.Append(CultureInfo.InvariantCulture, $",{Count(index, channel)}");
            text.Append(",0,0,0,0,0,0,0,0,0,0,0,0,0,0,0,0\r\n");
        }

        return Encoding.ASCII.GetBytes(text.ToString());
    }

    private static short Count(int index, int channel) =>
        (short)(30_000 * Math.Sin((2 * Math.PI * 50 * index / RateHertz) - channel));
}
