using System.Collections.Immutable;
using System.Runtime.InteropServices;
using Leadwright.Formats.Logs;

namespace Leadwright.Formats.Pqdif;

/// <summary>Reads PQDIF files (IEEE 1159.3, format version 1.5): waveforms, value logs and phasors.</summary>
/// <remarks>Records are read one at a time; what is kept are the values. See docs/formats/pqdif.md.</remarks>
public static class PqdifReader
{
    private const int MostNotes = 1000;

    /// <summary>True when the bytes begin as a PQDIF file does: with the signature of its container record, in either byte order.</summary>
    /// <param name="head">The first bytes of the file; 16 are enough.</param>
    public static bool IsPqdif(ReadOnlySpan<byte> head) =>
        head.Length >= 16 && (new Guid(head[..16]) == PqdifTag.Signature || new Guid(head[..16], bigEndian: true) == PqdifTag.Signature);

    /// <summary>Reads a file that is in memory.</summary>
    /// <param name="file">The file.</param>
    /// <param name="options">How to read; null for the defaults.</param>
    /// <param name="cancellationToken">Ends the reading early.</param>
    /// <exception cref="FormatReadException">The file can't be used; its offset is that of the record.</exception>
    public static PqdifContent Read(InputFile file, PqdifReadOptions? options = null, CancellationToken cancellationToken = default)
    {
        ArgumentNullException.ThrowIfNull(file);
        using var stream = MemoryMarshal.TryGetArray(file.Bytes, out var segment)
            ? new MemoryStream(segment.Array!, segment.Offset, segment.Count, writable: false)
            : new MemoryStream(file.Bytes.ToArray(), writable: false);
        return Read(stream, file.Name, options, cancellationToken);
    }

    /// <summary>Reads a file as inputs: its recordings, then its logs.</summary>
    /// <param name="file">The file.</param>
    /// <param name="options">How to read; null for the defaults.</param>
    /// <returns>At least one; all warn of what was not understood.</returns>
    /// <exception cref="FormatReadException">The file can't be used, or holds neither waveforms nor logged values.</exception>
    public static ImmutableArray<InputRecord> ReadInputs(InputFile file, PqdifReadOptions? options = null)
    {
        ArgumentNullException.ThrowIfNull(file);
        var content = Read(file, options);
        if (content.Recordings.IsEmpty && content.Logs.IsEmpty)
        {
            throw new FormatReadException(
                file.Name, "waveforms or logged values", content.NotUnderstood.IsEmpty ? "none" : $"none that could be read. {content.NotUnderstood[0]}",
                "Export the recording with its waveforms or its trends.");
        }

        ImmutableArray<ReadWarning> warnings = [.. content.Warnings, .. content.NotUnderstood.Select(says => new ReadWarning(says))];
        return
        [
            .. content.Recordings.Select(recording => new SampledInput(file.Name, warnings, recording.Recording, null)),
            .. content.Logs.Select(log => new LogInput(file.Name, new LogFile(log.Log, [], [], warnings))),
        ];
    }

    /// <summary>Reads a stream, from where it stands: one record at a time.</summary>
    /// <param name="stream">The stream, at the start of the file; stays open.</param>
    /// <param name="name">Display name.</param>
    /// <param name="options">How to read; null for the defaults.</param>
    /// <param name="cancellationToken">Ends the reading early.</param>
    /// <exception cref="FormatReadException">The file can't be used; its offset is that of the record.</exception>
    public static PqdifContent Read(Stream stream, string name, PqdifReadOptions? options = null, CancellationToken cancellationToken = default)
    {
        ArgumentNullException.ThrowIfNull(stream);
        options ??= new();
        var warnings = new List<ReadWarning>();
        var notes = new List<string>();
        var seen = new HashSet<string>(StringComparer.Ordinal);
        var budget = new PqdifBudget(options.MostValues);
        var (waveforms, logs) = (new PqdifWaveforms(), new PqdifLogs());
        PqdifDataSource? source = null;
        var settings = PqdifSettings.Default;
        var sources = 0;
        using var records = new PqdifRecordReader(
            stream, name, options, warnings, tag => Note($"An element {tag} is none of version 1.5."));
        while (records.Next() is { } record)
        {
            cancellationToken.ThrowIfCancellationRequested();
            if (record.Type == PqdifTag.RecDataSource)
            {
                source = PqdifDataSource.Read(record.Root, sources++);
                settings = PqdifSettings.Default;
                if (source.TimeZone is { } zone) Warn($"The data source states its time zone as '{zone}'. Times are read as they stand, in UTC.");
            }
            else if (record.Type == PqdifTag.RecMonitorSettings)
            {
                settings = PqdifSettings.Read(record.Root, Warn);
            }
            else if (record.Type == PqdifTag.RecObservation)
            {
                if (source is null) throw record.Root.Body.Bad("a data source record before the first observation", "none");
                var observation = new PqdifObservation(record.Root, source, settings, budget, Warn);
                Take(observation);
            }
            else if (record.Type != PqdifTag.Container)
            {
                Note($"A record of type {PqdifTag.NameOf(record.Type)} is none of version 1.5.");
            }
        }

        var (recordings, intervalLogs) = (waveforms.Complete(), logs.Complete(options.AreTimesEnds, Warn));
        if (!recordings.IsEmpty || !intervalLogs.IsEmpty) Warn(PqdifClock.Says(options.UtcOffset));
        if (!intervalLogs.IsEmpty)
            Warn($"Whether a logged time is the start or the end of its interval is not said in a PQDIF file: it is taken as the {(options.AreTimesEnds ? "end" : "start")}.");
        return new PqdifContent(
            [.. recordings.Select(recording => PqdifClock.Moved(recording, options.UtcOffset))], [.. intervalLogs.Select(log => PqdifClock.Moved(log, options.UtcOffset))], [.. notes], [.. warnings]);

        void Warn(string says)
        {
            if (warnings.Count < MostNotes && seen.Add(says)) warnings.Add(new ReadWarning(says));
        }

        void Note(string says)
        {
            if (notes.Count < MostNotes && seen.Add(says)) notes.Add(says);
        }

        void Take(PqdifObservation observation)
        {
            foreach (var channel in observation.Channels)
            {
                var type = channel.Definition.QuantityType;
                if (type != PqdifQuantityType.Waveform && type != PqdifQuantityType.Valuelog && type != PqdifQuantityType.Phasor)
                    Note($"Channel '{channel.Definition.Title}' is of the kind {PqdifQuantityType.NameOf(type)}, which is not read.");
            }

            waveforms.Take(observation, Note, Warn);
            logs.Take(observation, Note, Warn);
        }
    }
}
