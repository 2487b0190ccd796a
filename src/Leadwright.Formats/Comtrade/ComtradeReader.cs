using System.Collections.Immutable;
using System.Globalization;
using System.Runtime.InteropServices;
using Leadwright.Core.Signals;
using Leadwright.Formats.Text;

namespace Leadwright.Formats.Comtrade;

/// <summary>Reads COMTRADE records: IEEE C37.111-1991, -1999 and -2013 (IEC 60255-24).</summary>
/// <example><code>
/// var record = ComtradeReader.Read(cfg, dat);
/// foreach (var channel in record.Recording.Channels) Show(channel.Name, channel.Unit);
/// </code></example>
public static class ComtradeReader
{
    /// <summary>Reads a record of two files.</summary>
    /// <param name="cfg">The configuration.</param>
    /// <param name="dat">The data.</param>
    /// <param name="options">How to read; null for the defaults.</param>
    /// <exception cref="FormatReadException">A file can't be used.</exception>
    public static ComtradeRecording Read(InputFile cfg, InputFile dat, ComtradeReadOptions? options = null)
    {
        ArgumentNullException.ThrowIfNull(cfg);
        ArgumentNullException.ThrowIfNull(dat);
        var warnings = new List<ReadWarning>();
        var configuration = ComtradeConfigurationReader.Read(SourceText.Lines(cfg.Bytes.Span, cfg.Name, stated: options?.Encoding, warnings: warnings), cfg.Name, warnings);
        return ReadData(configuration, dat.Bytes.Span, dat.Name, 1, 0, options ?? new(), warnings);
    }

    /// <summary>Reads a record of one .cff file (2013 revision).</summary>
    /// <param name="cff">The file.</param>
    /// <param name="options">How to read; null for the defaults.</param>
    /// <exception cref="FormatReadException">The file can't be used.</exception>
    public static ComtradeRecording ReadCombined(InputFile cff, ComtradeReadOptions? options = null)
    {
        ArgumentNullException.ThrowIfNull(cff);
        var warnings = new List<ReadWarning>();
        using var stream = MemoryMarshal.TryGetArray(cff.Bytes, out var array)
            ? new MemoryStream(array.Array!, array.Offset, array.Count, writable: false)
            : new MemoryStream(cff.Bytes.ToArray());
        var sections = ComtradeCombinedFile.Split(stream, cff.Name, warnings);
        var bytes = cff.Bytes.Span;
        var configuration = ComtradeConfigurationReader.Read(
            SourceText.Lines(sections.Cfg.Of(bytes), cff.Name, sections.Cfg.FirstLine, sections.Cfg.Start, options?.Encoding, warnings), cff.Name, warnings);
        RefuseOtherDataType(configuration, sections, cff.Name);
        var record = ReadData(
            configuration, sections.Dat.Of(bytes), cff.Name, sections.Dat.FirstLine, sections.Dat.Start, options ?? new(), warnings);
        return record with
        {
            HeaderText = sections.Hdr is { } header ? TextOf(header.Of(bytes)) : "",
            InformationText = sections.Inf is { } information ? TextOf(information.Of(bytes)) : "",
        };
    }

    /// <summary>The text of a .hdr or .inf file, blanks around it left out.</summary>
    public static string TextOf(ReadOnlySpan<byte> bytes)
    {
        var text = bytes[SourceText.MarkLength(bytes)..SourceText.LengthWithoutPadding(bytes)];
        return SourceText.EncodingOf(text).GetString(text).Trim();
    }

    private static ComtradeRecording ReadData(
        ComtradeConfiguration configuration, ReadOnlySpan<byte> data, string name, int firstLine, long firstOffset,
        ComtradeReadOptions options, List<ReadWarning> warnings)
    {
        ComtradeGain[] gains = [.. configuration.Analogs.Select(channel => ComtradeGain.Of(channel, options.Scaling, warnings))];
        var samples = configuration.DataType == ComtradeDataType.Ascii
            ? ComtradeTextData.Read(data, name, firstLine, firstOffset, configuration, gains, options, warnings)
            : ComtradeBinaryData.Read(data, name, firstOffset, configuration, gains, options, warnings);
        var channels = ImmutableArray.CreateBuilder<SampledChannel>(configuration.Analogs.Length);
        for (var index = 0; index < configuration.Analogs.Length; index++)
        {
            var channel = configuration.Analogs[index];
            var values = samples.Values[index].AsMemory(0, samples.Count);
            WarnOfMissing(channel, values.Span, warnings);
            channels.Add(new SampledChannel(channel.Id, channel.Phase, channel.Unit, values) { SkewSeconds = channel.SkewSeconds });
        }

        var stamps = samples.Stamps.AsMemory(0, samples.Count);
        var segments = ComtradeTimeline.Segments(configuration, stamps.Span, name, warnings);
        return new ComtradeRecording
        {
            Configuration = configuration,
            Recording = new SampledRecording(
                channels.MoveToImmutable(), segments, configuration.LineFrequencyHertz, configuration.Start?.Value),
            Statuses = new ComtradeStatusSamples(
                configuration.Statuses.Length, [.. samples.StatusWords.Select(words => words[..samples.Count])]),
            Stamps = stamps,
            Warnings = [.. warnings],
        };
    }

    private static void WarnOfMissing(ComtradeAnalogChannel channel, ReadOnlySpan<double> values, List<ReadWarning> warnings)
    {
        var missing = 0;
        foreach (var value in values)
        {
            if (double.IsNaN(value)) missing++;
        }

        if (missing > 0) warnings.Add(Missing(channel, missing, values.Length));
    }

    internal static ReadWarning Missing(ComtradeAnalogChannel channel, long missing, long count) => new(string.Create(
        CultureInfo.InvariantCulture, $"Channel '{channel.Id}': {missing} of {count} samples are marked as missing."));

    internal static void RefuseOtherDataType(ComtradeConfiguration configuration, ComtradeCombinedFile sections, string name)
    {
        var isText = configuration.DataType == ComtradeDataType.Ascii;
        if (sections.DataType is not { } stated || (stated == ComtradeDataType.Ascii) == isText) return;
        throw new FormatReadException(
            name, $"a DAT section of {configuration.DataType.ToString().ToUpperInvariant()} data, as the CFG section states",
            $"one of {stated.ToString().ToUpperInvariant()} data", "Correct the file type in a copy of the file.",
            sections.Dat.FirstLine - 1, byteOffset: sections.Dat.Start);
    }
}
