using Leadwright.Core.Logs;
using Leadwright.Core.Signals;

namespace Leadwright.Formats.Pqdif;

/// <summary>Writes PQDIF files (IEEE 1159.3, format version 1.5): recordings as waveforms, logs of intervals as value logs.</summary>
/// <remarks>One record is held at a time. What is written reads back the same, and written again gives the same bytes. See docs/formats/pqdif.md.</remarks>
public sealed class PqdifWriter
{
    // Values of one observation: some 16 MB.
    private const int MostValues = 2_000_000;

    private readonly PqdifWriteOptions _options;
    private readonly PqdifRecordWriter _records;
    private bool _isOpen;

    /// <summary>Starts a file.</summary>
    /// <param name="stream">Receives the bytes; stays open. It need not be able to seek.</param>
    /// <param name="options">What the file says of itself; null for the defaults.</param>
    public PqdifWriter(Stream stream, PqdifWriteOptions? options = null)
    {
        ArgumentNullException.ThrowIfNull(stream);
        _options = options ?? new();
        _records = new PqdifRecordWriter(stream, _options.IsPacked);
    }

    /// <summary>Writes a recording and closes the file.</summary>
    /// <param name="stream">Receives the bytes; stays open.</param>
    /// <param name="recording">The recording.</param>
    /// <param name="options">What the file says of itself; null for the defaults.</param>
    public static void Write(Stream stream, SampledRecording recording, PqdifWriteOptions? options = null)
    {
        var writer = new PqdifWriter(stream, options);
        writer.Add(recording);
        writer.Complete();
    }

    /// <summary>Writes a log and closes the file.</summary>
    /// <param name="stream">Receives the bytes; stays open.</param>
    /// <param name="log">The log.</param>
    /// <param name="options">What the file says of itself; null for the defaults.</param>
    public static void Write(Stream stream, IntervalLog log, PqdifWriteOptions? options = null)
    {
        var writer = new PqdifWriter(stream, options);
        writer.Add(log);
        writer.Complete();
    }

    /// <summary>Adds a recording: a data source of its own, and an observation for each segment, or several where it is long.</summary>
    /// <param name="recording">The recording.</param>
    /// <remarks>Times are written to 100 ns. A unit that the standard doesn't have goes into the channel's name.</remarks>
    public void Add(SampledRecording recording)
    {
        ArgumentNullException.ThrowIfNull(recording);
        Open(PqdifWaveformRecords.FirstTimeOf(recording));
        PqdifWaveformRecords.Add(_records, recording, _options, MostValues);
    }

    /// <summary>Adds a log of intervals: a data source of its own, and an observation for every stretch of rows.</summary>
    /// <param name="log">The log.</param>
    public void Add(IntervalLog log)
    {
        ArgumentNullException.ThrowIfNull(log);
        var exports = log.Columns.Where(PqdifLogMapping.IsExportedEnergy).Select(column => (column.Quantity, column.Place)).ToHashSet();
        var layout = new PqdifLogLayout([.. log.Columns.Select(column => PqdifLogMapping.SeriesOf(column, exports.Contains((column.Quantity, column.Place))))]);
        Open(log.Count > 0 ? log.From : null);
        if (log.Columns.IsEmpty) return;
        AddSource(layout, hasInterval: true);
        var rows = RowsFor(log.Columns.Length);
        for (var first = 0; first < log.Count; first += rows)
        {
            var count = Math.Min(rows, log.Count - first);
            var starts = log.Starts.Span.Slice(first, count);
            // The first year stands for a start that is not known.
            DateTime? start = starts[0] < PqdifTime.FirstTicks ? null : new DateTime(starts[0], DateTimeKind.Unspecified);
            var seconds = new double[count];
            for (var row = 0; row < count; row++) seconds[row] = (starts[row] - (start?.Ticks ?? 0)) / (double)TimeSpan.TicksPerSecond;
            var at = first;
            AddObservation(layout, start, seconds, log.IntervalSeconds, column => log.Values(column).Slice(at, count).ToArray());
        }
    }

    /// <summary>Writes what closes the file; the stream stays open.</summary>
    public void Complete()
    {
        Open(null);
        _records.Complete();
    }

    /// <summary>Rows of one observation for so many columns.</summary>
    internal int RowsFor(int columns) => Math.Clamp(MostValues / Math.Max(columns, 1), 1, Math.Max(_options.RowsPerObservation, 1));

    /// <summary>Adds the data source of a log.</summary>
    internal void AddSource(PqdifLogLayout layout, bool hasInterval)
    {
        var source = SourceRecord(_options);
        layout.AddDefinitions(source, hasInterval);
        _records.Add(PqdifTag.RecDataSource, source);
    }

    /// <summary>Adds an observation of a log.</summary>
    internal void AddObservation(
        PqdifLogLayout layout, DateTime? start, ReadOnlySpan<double> seconds, double intervalSeconds, Func<int, ReadOnlyMemory<double>> valuesOf)
    {
        var observation = ObservationRecord("Log", start, 4, _options);
        layout.AddChannels(observation, seconds, intervalSeconds, valuesOf);
        _records.Add(PqdifTag.RecObservation, observation);
    }

    /// <summary>Writes the container when nothing is written yet.</summary>
    internal void Open(DateTime? start)
    {
        if (_isOpen) return;
        _isOpen = true;
        var container = new PqdifRecordBuilder();
        // Version 1.5; readers of version 1.0 on can make use of it.
        container.Add(PqdifTag.VersionInfo, [1u, 5u, 1u, 0u]);
        container.Add(PqdifTag.FileName, _options.FileName);
        container.Add(PqdifTag.Creation, _options.Created ?? UtcOf(start, _options));
        container.Add(PqdifTag.Application, "Leadwright");
        if (PqdifRecordBuilder.Clean(_options.Title).Length > 0) container.Add(PqdifTag.Title, _options.Title);
        container.Add(PqdifTag.CompressionStyleID, _options.IsPacked ? 2u : 0u);
        container.Add(PqdifTag.CompressionAlgorithmID, _options.IsPacked ? 1u : 0u);
        _records.Add(PqdifTag.Container, container);
    }

    /// <summary>A data source as far as it is the same for all.</summary>
    internal static PqdifRecordBuilder SourceRecord(PqdifWriteOptions options)
    {
        var source = new PqdifRecordBuilder();
        source.Add(PqdifTag.DataSourceTypeID, PqdifTag.DataSourceMeasured);
        source.Add(PqdifTag.NameDS, options.SourceName);
        return source;
    }

    /// <summary>An observation as far as it is the same for all.</summary>
    internal static PqdifRecordBuilder ObservationRecord(string name, DateTime? start, uint trigger, PqdifWriteOptions options)
    {
        var observation = new PqdifRecordBuilder();
        observation.Add(PqdifTag.ObservationName, name);
        observation.Add(PqdifTag.TimeCreate, UtcOf(start, options));
        observation.Add(PqdifTag.TimeStart, UtcOf(start, options));
        observation.Add(PqdifTag.TriggerMethodID, trigger);
        return observation;
    }

    private static DateTime? UtcOf(DateTime? time, PqdifWriteOptions options) => time is { } known && known.Ticks >= PqdifTime.FirstTicks ? known - options.UtcOffset : time;
}
