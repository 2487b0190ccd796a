using System.Globalization;
using System.Text;
using Leadwright.Formats.Text;

namespace Leadwright.Formats.Comtrade;

/// <summary>Reads ASCII data: number, time stamp, analog values, status values, one line a sample.</summary>
/// <remarks>
/// Missing: an empty field, or 99999 where the channel's stated maximum does not go beyond it (the 1991 code; a 2013 file of the
/// tests uses it too).
/// </remarks>
internal static class ComtradeTextData
{
    private const double MissingCode = 99999;

    public static ComtradeSamples Read(
        ReadOnlySpan<byte> data, string name, int firstLine, long firstOffset, ComtradeConfiguration configuration,
        ReadOnlySpan<ComtradeGain> gains, ComtradeReadOptions options, List<ReadWarning> warnings)
    {
        SourceText.RefuseUtf16(data, name);
        var end = SourceText.LengthWithoutPadding(data);
        var text = data[..end];
        var perRecord = 2 + configuration.Analogs.Length + configuration.Statuses.Length;
        // Neither lines nor commas alone bound the number of samples that a hostile file makes us reserve.
        var capacity = Math.Min(
            Math.Max(text.Count((byte)'\n'), text.Count((byte)'\r')) + 1, (text.Length / (perRecord - 1)) + 1);
        var samples = ComtradeSamples.Allocate(configuration, capacity);
        var count = 0;
        var line = firstLine;
        var position = SourceText.MarkLength(text);
        var contentEnd = text.TrimEnd(" \t\r\n"u8).Length;
        var isLastLineOpen = text[contentEnd..].IndexOfAny((byte)'\n', (byte)'\r') < 0;
        var stated = configuration.StatedSampleCount;
        while (position < end)
        {
            var length = SourceText.LengthOfLine(text[position..], out var ending);
            var record = text.Slice(position, length);
            if (!record.Trim(" \t"u8).IsEmpty)
            {
                var place = new Place(name, line, firstOffset + position);
                var isOpen = isLastLineOpen && position + length >= contentEnd;
                if (isOpen && IsCutShort(record, configuration, stated > 0 && count + 1 < stated))
                {
                    warnings.Add(new ReadWarning(
                        $"The last line of '{name}' is cut short; the sample is left out.", line, place.Offset));
                    break;
                }

                ReadRecord(record, place, configuration, gains, samples, count);
                count++;
            }

            position += length + ending;
            line++;
        }

        CheckCount(count, name, configuration, options, warnings);
        return samples with { Count = count };
    }

    // A status value is one digit and is whole when it is there; the digits of an analog value may go on.
    private static bool IsCutShort(ReadOnlySpan<byte> record, ComtradeConfiguration configuration, bool isShortOfSamples)
    {
        var needed = 2 + configuration.Analogs.Length + configuration.Statuses.Length;
        var fields = record.Count((byte)',') + 1;
        if (fields != needed) return fields < needed;
        var last = record[(record.LastIndexOf((byte)',') + 1)..];
        return configuration.Statuses.Length > 0
            ? last.Trim(" \t"u8).IsEmpty
            : isShortOfSamples || !Number.TryParse(last, out _);
    }

    private static void ReadRecord(
        ReadOnlySpan<byte> record, Place place, ComtradeConfiguration configuration, ReadOnlySpan<ComtradeGain> gains,
        ComtradeSamples samples, int sample)
    {
        var analogs = configuration.Analogs;
        var needed = 2 + analogs.Length + configuration.Statuses.Length;
        var fields = record.Count((byte)',') + 1;
        if (fields < needed) throw place.WrongFieldCount(fields, configuration);
        var rest = record;
        for (var column = 0; column < needed; column++)
        {
            var comma = rest.IndexOf((byte)',');
            var field = (comma < 0 ? rest : rest[..comma]).Trim(" \t"u8);
            rest = comma < 0 ? [] : rest[(comma + 1)..];
            if (column == 0)
            {
                if (!Number.TryParse(field, out _)) throw place.BadField(record, column, "n", "a sample number", field);
            }
            else if (column == 1)
            {
                if (field.IsEmpty) samples.Stamps[sample] = double.NaN;
                else if (!Number.TryParse(field, out samples.Stamps[sample]))
                    throw place.BadField(record, column, "timestamp", "a number", field);
            }
            else if (column < 2 + analogs.Length)
            {
                var channel = column - 2;
                if (!TryAnalog(field, analogs[channel], out var raw))
                    throw place.BadField(record, column, analogs[channel].Id, "a number", field);
                samples.Values[channel][sample] = double.IsNaN(raw) ? raw : gains[channel].Apply(raw);
            }
            else
            {
                var channel = column - 2 - analogs.Length;
                if (!Number.TryParse(field, out var state) || state is not (0 or 1))
                    throw place.BadField(record, column, configuration.Statuses[channel].Id, "0 or 1", field);
                if (state == 1) samples.StatusWords[channel / 16][sample] |= (ushort)(1 << (channel % 16));
            }
        }

        // Some recorders close each line with a comma.
        if (!rest.Trim(" \t,"u8).IsEmpty) throw place.WrongFieldCount(fields, configuration);
    }

    // NaN for a missing value; records of single-precision data turned into text may spell it out.
    private static bool TryAnalog(ReadOnlySpan<byte> field, ComtradeAnalogChannel channel, out double raw)
    {
        if (Number.TryParse(field, out raw))
        {
            if (raw == MissingCode && !(channel.Maximum > MissingCode)) raw = double.NaN;
            return true;
        }

        raw = double.NaN;
        return field.IsEmpty || Ascii.EqualsIgnoreCase(field, "nan"u8);
    }

    private static void CheckCount(
        int count, string name, ComtradeConfiguration configuration, ComtradeReadOptions options, List<ReadWarning> warnings)
    {
        var stated = configuration.StatedSampleCount;
        var culture = CultureInfo.InvariantCulture;
        if (count == 0 || (options.RefuseIncomplete && count < stated))
        {
            throw new FormatReadException(
                name,
                stated > 0 ? string.Create(culture, $"{stated} samples") : "samples",
                string.Create(culture, $"{count} whole samples"),
                "The data is cut short, or does not belong to this .cfg: copy both files again from the recorder.");
        }

        if (stated > 0 && count != stated)
        {
            warnings.Add(new ReadWarning(count < stated
                ? string.Create(culture, $"'{name}' holds {count} whole samples of the {stated} that the configuration states; these are read.")
                : string.Create(culture, $"'{name}' holds {count} samples, more than the {stated} that the configuration states; all are read.")));
        }
    }

    /// <summary>Where a record stands, for errors.</summary>
    private readonly record struct Place(string Source, int Line, long Offset)
    {
        public FormatReadException BadField(
            ReadOnlySpan<byte> record, int column, string field, string expected, ReadOnlySpan<byte> found)
        {
            var offset = Offset;
            for (var index = 0; index < column; index++)
            {
                var comma = record.IndexOf((byte)',') + 1;
                offset += comma;
                record = record[comma..];
            }

            var hint = found.IndexOfAnyInRange((byte)0, (byte)8) >= 0
                ? "The data is binary, but the .cfg states ASCII: correct the file type in a copy of the .cfg."
                : "The line is damaged, or the .dat does not belong to this .cfg.";
            return new FormatReadException(
                Source, expected, Quoted.Of(Encoding.Latin1.GetString(found)), hint, Line, column + 1, field, offset);
        }

        public FormatReadException WrongFieldCount(int found, ComtradeConfiguration configuration)
        {
            var (analogs, statuses) = (configuration.Analogs.Length, configuration.Statuses.Length);
            return new FormatReadException(
                Source,
                string.Create(CultureInfo.InvariantCulture,
                    $"{2 + analogs + statuses} fields (number, time stamp, {analogs} analog, {statuses} status)"),
                string.Create(CultureInfo.InvariantCulture, $"{found}"),
                "The line is damaged, or the .dat does not belong to this .cfg.", Line, byteOffset: Offset);
        }
    }
}
