using System.Buffers;
using System.Buffers.Binary;
using System.Globalization;

namespace Leadwright.Formats.Comtrade;

/// <summary>Reads binary data: 16-bit, 32-bit or single precision.</summary>
/// <remarks>
/// A record: number and time stamp as unsigned 32-bit, one value per analog channel, one 16-bit word per sixteen status
/// channels with the first in the lowest bit; little-endian. Missing: 0x8000, 0x80000000, NaN; stamp 0xFFFFFFFF.
/// </remarks>
internal static class ComtradeBinaryData
{
    // Records per block: what is read stays in the cache while each channel takes its column from it.
    private const int BlockLength = 256;

    private static readonly SearchValues<byte> s_textData = SearchValues.Create("0123456789,.+- \r\n\teE"u8);

    public static ComtradeSamples Read(
        ReadOnlySpan<byte> data, string name, long firstOffset, ComtradeConfiguration configuration,
        ReadOnlySpan<ComtradeGain> gains, ComtradeReadOptions options, List<ReadWarning> warnings)
    {
        var length = configuration.RecordLength;
        RefuseOtherType(data, name, configuration);
        var count = CountOf(data, name, firstOffset, configuration, options, warnings);
        var samples = ComtradeSamples.Allocate(configuration, count) with { Count = count };
        var breaks = 0;
        for (var first = 0; first < count; first += BlockLength)
        {
            var inBlock = Math.Min(BlockLength, count - first);
            var block = data.Slice(first * length, inBlock * length);
            breaks += ReadHeads(block, length, first == 0 ? null : data.Slice((first - 1) * length, 4), samples.Stamps.AsSpan(first, inBlock));
            for (var channel = 0; channel < gains.Length; channel++)
            {
                var target = samples.Values[channel].AsSpan(first, inBlock);
                switch (configuration.DataType)
                {
                    case ComtradeDataType.Binary: ReadInt16(block[(8 + (2 * channel))..], length, gains[channel], target); break;
                    case ComtradeDataType.Binary32: ReadInt32(block[(8 + (4 * channel))..], length, gains[channel], target); break;
                    default: ReadSingle(block[(8 + (4 * channel))..], length, gains[channel], target); break;
                }
            }

            var words = length - (2 * samples.StatusWords.Length);
            for (var word = 0; word < samples.StatusWords.Length; word++)
            {
                var target = samples.StatusWords[word].AsSpan(first, inBlock);
                for (var index = 0; index < target.Length; index++)
                    target[index] = BinaryPrimitives.ReadUInt16LittleEndian(block[((index * length) + words + (2 * word))..]);
            }
        }

        Unwrap(samples.Stamps);
        if (breaks > 0)
        {
            warnings.Add(new ReadWarning(string.Create(CultureInfo.InvariantCulture,
                $"The sample numbers in '{name}' do not run on at {breaks} of {count} samples. If the values look wrong, the .dat does not belong to this .cfg.")));
        }

        return samples;
    }

    private static int CountOf(
        ReadOnlySpan<byte> data, string name, long firstOffset, ComtradeConfiguration configuration,
        ComtradeReadOptions options, List<ReadWarning> warnings)
    {
        var length = configuration.RecordLength;
        var whole = data.Length / length;
        var stray = data.Length % length;
        var stated = configuration.StatedSampleCount;
        var culture = CultureInfo.InvariantCulture;
        if (whole == 0 || (options.RefuseIncomplete && whole < stated))
        {
            throw new FormatReadException(
                name,
                string.Create(culture, $"{(stated > 0 ? $"{stated} samples" : "samples")} of {length} bytes"),
                string.Create(culture, $"{data.Length} bytes: {whole} whole samples"),
                "The data is cut short, or does not belong to this .cfg: copy both files again from the recorder.",
                byteOffset: firstOffset);
        }

        if (whole < stated)
        {
            warnings.Add(new ReadWarning(string.Create(culture,
                $"'{name}' holds {whole} whole samples of the {stated} that the configuration states; these are read.")));
        }

        if (stated > 0 && whole > stated)
        {
            // Further samples are real when their numbers run on; anything else is padding.
            var runsOn = Word(data, stated * length) == Word(data, (stated - 1) * length) + 1;
            warnings.Add(new ReadWarning(runsOn
                ? string.Create(culture, $"'{name}' holds {whole} samples, more than the {stated} that the configuration states; all are read.")
                : string.Create(culture, $"{data.Length - (stated * length)} bytes after the last of {stated} samples in '{name}' are left out."),
                ByteOffset: firstOffset + ((long)stated * length)));
            if (!runsOn) return stated;
        }

        if (stray > 0)
        {
            warnings.Add(new ReadWarning(
                string.Create(culture, $"{stray} bytes after the last whole sample in '{name}' are left out."),
                ByteOffset: firstOffset + ((long)whole * length)));
        }

        return whole;
    }

    // A file type that the .cfg misstates gives nonsense values; the number of bytes, or text, gives it away.
    private static void RefuseOtherType(ReadOnlySpan<byte> data, string name, ComtradeConfiguration configuration)
    {
        var stated = configuration.StatedSampleCount;
        var length = configuration.RecordLength;
        var isBinary16 = configuration.DataType == ComtradeDataType.Binary;
        var otherLength = configuration.RecordLengthAs(isBinary16 ? ComtradeDataType.Binary32 : ComtradeDataType.Binary);
        var culture = CultureInfo.InvariantCulture;
        if (stated > 0 && configuration.Analogs.Length > 0
            && data.Length != (long)stated * length && data.Length == (long)stated * otherLength)
        {
            throw new FormatReadException(
                name,
                string.Create(culture, $"{stated} samples of {length} bytes ({TypeName(configuration.DataType)})"),
                string.Create(culture, $"{data.Length} bytes, which is {stated} samples of {otherLength} bytes"),
                $"The file type in the .cfg should read {(isBinary16 ? "BINARY32 or FLOAT32" : "BINARY")}: correct that line in a copy of the .cfg.");
        }

        var head = data[..Math.Min(data.Length, 64)];
        if (head.Length >= 4 && head.IndexOfAnyExcept(s_textData) < 0 && head.Contains((byte)','))
        {
            throw new FormatReadException(
                name, $"binary data ({TypeName(configuration.DataType)})", "text",
                "The file type in the .cfg should read ASCII: correct that line in a copy of the .cfg.", byteOffset: 0);
        }
    }

    private static string TypeName(ComtradeDataType type) => type.ToString().ToUpperInvariant();

    private static int ReadHeads(ReadOnlySpan<byte> block, int length, ReadOnlySpan<byte> previous, Span<double> stamps)
    {
        var breaks = 0;
        long last = previous.IsEmpty ? (long)Word(block, 0) - 1 : Word(previous, 0);
        for (var index = 0; index < stamps.Length; index++)
        {
            long number = Word(block, index * length);
            if (number != last + 1) breaks++;
            last = number;
            var stamp = Word(block, (index * length) + 4);
            stamps[index] = stamp == uint.MaxValue ? double.NaN : stamp;
        }

        return breaks;
    }

    private static uint Word(ReadOnlySpan<byte> data, int offset) => BinaryPrimitives.ReadUInt32LittleEndian(data[offset..]);

    private static void ReadInt16(ReadOnlySpan<byte> column, int length, ComtradeGain gain, Span<double> target)
    {
        for (var index = 0; index < target.Length; index++)
        {
            var raw = BinaryPrimitives.ReadInt16LittleEndian(column[(index * length)..]);
            target[index] = raw == short.MinValue ? double.NaN : gain.Apply(raw);
        }
    }

    private static void ReadInt32(ReadOnlySpan<byte> column, int length, ComtradeGain gain, Span<double> target)
    {
        for (var index = 0; index < target.Length; index++)
        {
            var raw = BinaryPrimitives.ReadInt32LittleEndian(column[(index * length)..]);
            target[index] = raw == int.MinValue ? double.NaN : gain.Apply(raw);
        }
    }

    private static void ReadSingle(ReadOnlySpan<byte> column, int length, ComtradeGain gain, Span<double> target)
    {
        for (var index = 0; index < target.Length; index++)
        {
            var raw = BinaryPrimitives.ReadSingleLittleEndian(column[(index * length)..]);
            target[index] = float.IsFinite(raw) ? gain.Apply(raw) : double.NaN;
        }
    }

    // The stamps are 32 bits wide: at one microsecond they start over after 71 minutes.
    private static void Unwrap(Span<double> stamps)
    {
        const double turn = 4294967296;
        var added = 0.0;
        var last = double.NaN;
        foreach (ref var stamp in stamps)
        {
            if (double.IsNaN(stamp)) continue;
            stamp += added;
            if (stamp - last < -turn / 2)
            {
                stamp += turn;
                added += turn;
            }

            last = stamp;
        }
    }
}
