using System.Globalization;
using Leadwright.Formats.Text;

namespace Leadwright.Formats.Comtrade;

/// <summary>Reads ASCII data as a whole, one line a sample.</summary>
internal static class ComtradeTextData
{
    public static ComtradeSamples Read(
        ReadOnlySpan<byte> data, string name, int firstLine, long firstOffset, ComtradeConfiguration configuration,
        ComtradeGain[] gains, ComtradeReadOptions options, List<ReadWarning> warnings)
    {
        SourceText.RefuseUtf16(data, name);
        var end = SourceText.LengthWithoutPadding(data);
        var text = data[..end];
        var perRecord = 2 + configuration.Analogs.Length + configuration.Statuses.Length;
        // Neither lines nor commas alone bound the number of samples that a hostile file makes us reserve.
        var capacity = Math.Min(
            Math.Max(text.Count((byte)'\n'), text.Count((byte)'\r')) + 1, (text.Length / (perRecord - 1)) + 1);
        var samples = ComtradeSamples.Allocate(configuration, capacity);
        var reader = new ComtradeTextRecord(name, configuration, gains);
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
                var isOpen = isLastLineOpen && position + length >= contentEnd;
                if (isOpen && reader.IsCutShort(record, stated > 0 && count + 1 < stated))
                {
                    warnings.Add(CutShort(name, line, firstOffset + position));
                    break;
                }

                reader.Read(record, line, firstOffset + position);
                samples.Stamps[count] = reader.Stamp;
                for (var channel = 0; channel < reader.Values.Length; channel++) samples.Values[channel][count] = reader.Values[channel];
                for (var word = 0; word < reader.StatusWords.Length; word++) samples.StatusWords[word][count] = reader.StatusWords[word];
                count++;
            }

            position += length + ending;
            line++;
        }

        if (CheckCount(count, name, configuration, options) is { } warning) warnings.Add(warning);
        return samples with { Count = count };
    }

    public static ReadWarning CutShort(string name, int line, long offset) =>
        new($"The last line of '{name}' is cut short; the sample is left out.", line, offset);

    /// <summary>What to say where the number of samples is not the stated one; null when there is nothing to say.</summary>
    /// <exception cref="FormatReadException">There are none, or too few and that is not put up with.</exception>
    public static ReadWarning? CheckCount(long count, string name, ComtradeConfiguration configuration, ComtradeReadOptions options)
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

        if (stated == 0 || count == stated) return null;
        return new ReadWarning(count < stated
            ? string.Create(culture, $"'{name}' holds {count} whole samples of the {stated} that the configuration states; these are read.")
            : string.Create(culture, $"'{name}' holds {count} samples, more than the {stated} that the configuration states; all are read."));
    }
}
