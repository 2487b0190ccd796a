using System.Collections.Immutable;
using System.Globalization;
using Leadwright.Core.Measuring;
using Leadwright.Core.Signals;
using Leadwright.Core.Signals.Lanes;
using Leadwright.Core.Signals.Spectra;
using Leadwright.Formats.Pqdif;
using Leadwright.Formats.Tables;
using Leadwright.Reports.Measuring;

namespace Leadwright.App.Verbs.Measuring;

/// <summary>The tables that a measurement writes: intervals, events, waveforms. They appear under their names when all is done, never in part.</summary>
public sealed class MeasureTables : IDisposable
{
    private const string Unfinished = ".unfinished";
    private const string PqdifEnding = ".pqd";

    private static readonly ImmutableArray<TableColumn> s_eventColumns =
    [
        new("kind", TableColumnKind.Text), new("channels", TableColumnKind.Text), new("start", TableColumnKind.Time),
        new("start_s", TableColumnKind.Number), new("duration_s", TableColumnKind.Number), new("extreme_percent", TableColumnKind.Number),
        new("steady_change_percent", TableColumnKind.Number), new("standing", TableColumnKind.Text), new("flags", TableColumnKind.Text),
    ];

    private readonly MeasureSubject _subject;
    private readonly MeasureRequest _request;
    private readonly List<(string Path, FileStream Stream, TableWriter Writer)> _open = [];
    private MeasureTable? _layout;
    private TableWriter? _intervals, _events;
    private int _waveformCount;
    private FileMode _mode;

    /// <summary>True for tables that an interrupted run can be gone on with.</summary>
    /// <param name="path">Name of the table.</param>
    public static bool MayResume(string path) => !Path.GetExtension(path).Equals(PqdifEnding, StringComparison.OrdinalIgnoreCase);

    /// <summary>Prepares.</summary>
    /// <param name="subject">The recording.</param>
    /// <param name="request">What is asked.</param>
    public MeasureTables(MeasureSubject subject, MeasureRequest request) => (_subject, _request) = (subject, request);

    /// <summary>True to leave what is unfinished in its place: a checkpoint goes with it.</summary>
    public bool IsKept { get; set; }

    /// <summary>Opens what is to be written.</summary>
    /// <param name="row">Where harmonics stand.</param>
    /// <param name="isResumed">True to go on with unfinished files.</param>
    /// <exception cref="InputRefusedException">A file can't be written.</exception>
    public void Start(SpectrumRow row, bool isResumed)
    {
        _mode = isResumed ? FileMode.Open : FileMode.Create;
        if (!isResumed) DeleteWaveforms();
        if (_request.Output is not { } path) return;
        _layout = new MeasureTable(_subject.Plan, _subject.Names, row, _request.Spectra, _subject.Source.Start, _request.DemandAmperes);
        _intervals = Open(path, _layout.Columns);
        _events = Open(EventsBeside(path), s_eventColumns);
    }

    /// <summary>Carries the state out, with everything so far safe on the disk, or in.</summary>
    /// <param name="carrier">Carries.</param>
    public void Carry(StateCarrier carrier)
    {
        ArgumentNullException.ThrowIfNull(carrier);
        carrier.Carry(ref _waveformCount);
        foreach (var (_, stream, writer) in _open)
        {
            writer.Carry(carrier);
            if (!carrier.IsReading) stream.Flush(flushToDisk: true);
        }
    }

    /// <summary>Writes a row of intervals.</summary>
    public void Write(IntervalValues values)
    {
        if (_intervals is null) return;
        _layout!.Write(values, _intervals);
        Wait(_intervals.EndRowAsync());
    }

    /// <summary>Writes an event.</summary>
    public void Write(EventMeasurement found)
    {
        if (_events is null) return;
        ArgumentNullException.ThrowIfNull(found);
        _events.Set(0, found.Kind);
        _events.Set(1, string.Join(' ', found.Channels));
        if (_subject.Source.Start is { } start) _events.Set(2, start.AddTicks((long)Math.Round(found.StartSeconds * TimeSpan.TicksPerSecond)));
        _events.Set(3, found.StartSeconds);
        _events.Set(4, found.Seconds);
        _events.Set(5, found.ExtremePercent);
        _events.Set(6, found.SteadyPercent);
        _events.Set(7, "measured");
        _events.Set(8, found.IsCutShort ? "cut-short" : "");
        Wait(_events.EndRowAsync());
    }

    /// <summary>Writes the waveform around an event as a table of samples.</summary>
    public void Write(CapturedWaveform waveform)
    {
        if (_request.Waveforms is not { } folder) return;
        Directory.CreateDirectory(folder);
        var culture = CultureInfo.InvariantCulture;
        var lanes = Enumerable.Range(0, Lane.Count).Where(_subject.Plan.Has).ToList();
        var name = string.Create(culture, $"{++_waveformCount:0000}-{EventNames.Of(waveform.Event.Event.Kind)}.csv");
        var path = Path.Combine(folder, name);
        using (var text = new StreamWriter(path + Unfinished))
        {
            text.WriteLine(string.Create(culture, $"# rate_hz: {waveform.RateHertz}"));
            text.WriteLine(string.Create(culture, $"# line_frequency_hz: {_subject.Plan.NominalHertz}"));
            if (_subject.Source.Start is { } start)
                text.WriteLine(string.Create(culture, $"# start: {start.AddTicks((long)Math.Round(waveform.StartSeconds * TimeSpan.TicksPerSecond)):yyyy-MM-ddTHH:mm:ss.ffffff}"));
            text.WriteLine(string.Join(',', lanes.Select(lane => $"{_subject.Names[lane]} ({(lane < Lane.VoltageCount ? "V" : "A")})")));
            var frames = waveform.Frames.Span;
            for (var at = 0; at < frames.Length; at += Lane.Count)
            {
                for (var index = 0; index < lanes.Count; index++)
                {
                    if (index > 0) text.Write(',');
                    text.Write(frames[at + lanes[index]].ToString(culture));
                }

                text.WriteLine();
            }
        }
    }

    /// <summary>Finishes all tables and puts them under their names.</summary>
    /// <returns>The paths.</returns>
    public ImmutableArray<string> Complete()
    {
        foreach (var (path, stream, writer) in _open)
        {
            Wait(writer.CompleteAsync());
            stream.Dispose();
            File.Move(path + Unfinished, path, overwrite: true);
        }

        foreach (var path in UnfinishedWaveforms()) File.Move(path, path[..^Unfinished.Length], overwrite: true);
        var written = _open.Select(table => table.Path).ToImmutableArray();
        _open.Clear();
        return _waveformCount > 0 ? written.Add($"{_request.Waveforms} ({_waveformCount} waveforms)") : written;
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        foreach (var (path, stream, _) in _open)
        {
            stream.Dispose();
            if (!IsKept) File.Delete(path + Unfinished);
        }

        if (!IsKept) DeleteWaveforms();
        _open.Clear();
    }

    private IEnumerable<string> UnfinishedWaveforms() =>
        _request.Waveforms is { } folder && Directory.Exists(folder) ? Directory.EnumerateFiles(folder, "????-*.csv" + Unfinished) : [];

    private void DeleteWaveforms()
    {
        foreach (var path in UnfinishedWaveforms().ToList()) File.Delete(path);
    }

    private TableWriter Open(string path, ImmutableArray<TableColumn> columns)
    {
        FileStream stream;
        try
        {
            stream = new FileStream(path + Unfinished, _mode, FileAccess.ReadWrite);
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
        {
            throw InputRefusedException.CannotWrite($"'{path}'", failure);
        }

        var metadata = new Dictionary<string, string> { ["schema"] = "leadwright.measure-table/1", ["source"] = Path.GetFileName(_subject.Path) };
        TableWriter writer = Path.GetExtension(path).ToLowerInvariant() switch
        {
            ".csv" => new CsvTableWriter(stream, columns),
            PqdifEnding => new PqdifTableWriter(stream, columns, _request.Interval.Seconds, new PqdifWriteOptions
            {
                FileName = Path.GetFileName(path), Title = $"Measured from {Path.GetFileName(_subject.Path)}", SourceName = Path.GetFileName(_subject.Path), UtcOffset = _request.UtcOffset,
            }),
            _ => new ParquetTableWriter(stream, columns, metadata),
        };
        _open.Add((path, stream, writer));
        return writer;
    }

    // A value log holds numbers at even times: events stand in a table of text beside it.
    private static string EventsBeside(string path)
    {
        var ending = Path.GetExtension(path);
        return Path.Combine(
            Path.GetDirectoryName(path) ?? "",
            $"{Path.GetFileNameWithoutExtension(path)}-events{(ending.Equals(PqdifEnding, StringComparison.OrdinalIgnoreCase) ? ".csv" : ending)}");
    }

    // The engine hands over rows one by one and waits until each is taken.
    private static void Wait(ValueTask task)
    {
        if (!task.IsCompletedSuccessfully) task.AsTask().GetAwaiter().GetResult();
    }
}
