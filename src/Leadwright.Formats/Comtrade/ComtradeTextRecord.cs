using System.Globalization;
using System.Text;
using Leadwright.Formats.Text;

namespace Leadwright.Formats.Comtrade;

/// <summary>Reads one line of ASCII data at a time: number, time stamp, analog values, status values.</summary>
/// <remarks>
/// Missing: an empty field, or 99999 where the channel's stated maximum does not go beyond it (the 1991 code; a 2013 file of the
/// tests uses it too).
/// </remarks>
internal sealed class ComtradeTextRecord(string source, ComtradeConfiguration configuration, ComtradeGain[] gains)
{
    private const double MissingCode = 99999;

    /// <summary>Values of the analog channels in base units; NaN where missing.</summary>
    public double[] Values { get; } = new double[configuration.Analogs.Length];

    /// <summary>The time stamp as written; NaN where missing.</summary>
    public double Stamp { get; private set; }

    /// <summary>Status values by word of sixteen channels.</summary>
    public ushort[] StatusWords { get; } = new ushort[configuration.StatusWordCount];

    /// <summary>True when a line that has no end lacks something.</summary>
    /// <param name="record">The line.</param>
    /// <param name="isShortOfSamples">True when more samples are stated than lines were met.</param>
    /// <remarks>A status value is one digit and is whole when it is there; the digits of an analog value may go on.</remarks>
    public bool IsCutShort(ReadOnlySpan<byte> record, bool isShortOfSamples)
    {
        var needed = 2 + configuration.Analogs.Length + configuration.Statuses.Length;
        var fields = record.Count((byte)',') + 1;
        if (fields != needed) return fields < needed;
        var last = record[(record.LastIndexOf((byte)',') + 1)..];
        return configuration.Statuses.Length > 0
            ? last.Trim(" \t"u8).IsEmpty
            : isShortOfSamples || !Number.TryParse(last, out _);
    }

    /// <summary>Reads a line.</summary>
    /// <param name="record">The line.</param>
    /// <param name="line">Its number.</param>
    /// <param name="offset">Its byte offset.</param>
    /// <exception cref="FormatReadException">A field can't be used.</exception>
    public void Read(ReadOnlySpan<byte> record, int line, long offset)
    {
        var analogs = configuration.Analogs;
        var needed = 2 + analogs.Length + configuration.Statuses.Length;
        var rest = record;
        var isEnd = false;
        StatusWords.AsSpan().Clear();
        for (var column = 0; column < needed; column++)
        {
            if (isEnd) throw WrongFieldCount(record, line, offset);
            var comma = rest.IndexOf((byte)',');
            var field = (comma < 0 ? rest : rest[..comma]).Trim(" \t"u8);
            isEnd = comma < 0;
            rest = isEnd ? [] : rest[(comma + 1)..];
            if (column == 0)
            {
                if (!Number.TryParse(field, out _)) throw Bad(record, column, "n", "a sample number", field, line, offset);
            }
            else if (column == 1)
            {
                var stamp = double.NaN;
                if (!field.IsEmpty && !Number.TryParse(field, out stamp)) throw Bad(record, column, "timestamp", "a number", field, line, offset);
                Stamp = stamp;
            }
            else if (column < 2 + analogs.Length)
            {
                var channel = column - 2;
                if (!TryAnalog(field, analogs[channel], out var raw)) throw Bad(record, column, analogs[channel].Id, "a number", field, line, offset);
                Values[channel] = double.IsNaN(raw) ? raw : gains[channel].Apply(raw);
            }
            else
            {
                var channel = column - 2 - analogs.Length;
                if (!Number.TryParse(field, out var state) || state is not (0 or 1))
                    throw Bad(record, column, configuration.Statuses[channel].Id, "0 or 1", field, line, offset);
                if (state == 1) StatusWords[channel / 16] |= (ushort)(1 << (channel % 16));
            }
        }

        // Some recorders close each line with a comma.
        if (!rest.Trim(" \t,"u8).IsEmpty) throw WrongFieldCount(record, line, offset);
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

    private FormatReadException Bad(
        ReadOnlySpan<byte> record, int column, string field, string expected, ReadOnlySpan<byte> found, int line, long offset)
    {
        var fields = record.Count((byte)',') + 1;
        if (fields < 2 + configuration.Analogs.Length + configuration.Statuses.Length) return WrongFieldCount(record, line, offset);
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
            source, expected, Quoted.Of(Encoding.Latin1.GetString(found)), hint, line, column + 1, field, offset);
    }

    private FormatReadException WrongFieldCount(ReadOnlySpan<byte> record, int line, long offset)
    {
        var (analogs, statuses) = (configuration.Analogs.Length, configuration.Statuses.Length);
        return new FormatReadException(
            source,
            string.Create(CultureInfo.InvariantCulture,
                $"{2 + analogs + statuses} fields (number, time stamp, {analogs} analog, {statuses} status)"),
            string.Create(CultureInfo.InvariantCulture, $"{record.Count((byte)',') + 1}"),
            "The line is damaged, or the .dat does not belong to this .cfg.", line, byteOffset: offset);
    }
}
