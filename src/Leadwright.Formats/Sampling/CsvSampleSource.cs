using System.Collections.Immutable;
using Leadwright.Core.Signals;
using Leadwright.Core.Signals.Lanes;
using Leadwright.Formats.Csv;
using Leadwright.Formats.Text;

namespace Leadwright.Formats.Sampling;

/// <summary>A table of samples, read row by row. The samples are those of <see cref="CsvSampleReader"/> to the last bit.</summary>
public sealed class CsvSampleSource : SampleSource
{
    private readonly CsvHead _head;
    private readonly ImmutableArray<WaveSegment> _segments;
    private readonly DateTime? _start;
    private readonly Stream _table;
    private readonly long _length;
    private readonly LineReader _lines;
    private readonly CsvRows _rows;
    private readonly int[] _columns;
    private readonly double[] _factors;
    private readonly long[] _missing;
    private LaneChoice _lanes = LaneChoice.Empty;
    private int _segment;
    private bool _isAtGap, _isAtEnd;

    /// <summary>Opens a table.</summary>
    /// <param name="layout">What was found out about it.</param>
    /// <param name="table">The table, with seeking; belongs to the source from here on.</param>
    /// <exception cref="FormatReadException">It has stretches of different rates that are waveforms, or none.</exception>
    public CsvSampleSource(CsvLayout layout, Stream table)
        : base(layout?.Name ?? "")
    {
        ArgumentNullException.ThrowIfNull(layout);
        ArgumentNullException.ThrowIfNull(table);
        (_head, _table, _length, _start) = (layout.Head, table, table.Length, layout.Timeline.Start);
        foreach (var warning in layout.Warnings) Warn(warning);
        (_segments, RateHertz) = WaveSegment.Waveforms(Name, layout.Timeline.Stretches, Warn);
        var reader = new CsvRowReader(Name, _head) { FirstDate = layout.FirstDate };
        _columns = [.. Enumerable.Range(0, _head.Headings.Length).Where(column => column != reader.TimeColumn)];
        _factors = [.. _columns.Select(column => UnitText.Parse(_head.Headings[column].Unit).Factor)];
        _missing = new long[_columns.Length];
        foreach (var column in _columns)
        {
            if (CsvSampleTable.WithoutUnit(_head.Headings[column]) is { } warning) Warn(warning);
        }

        Channels = [.. _columns.Select(column => new SampledChannel(_head.Headings[column].Name, "", _head.Headings[column].Unit, default))];
        _lines = new LineReader(table, Name);
        _lines.Seek(_head.FirstOffset, _head.FirstLine);
        _rows = new CsvRows(_lines, _head, reader);
    }

    /// <inheritdoc/>
    public override ImmutableArray<SampledChannel> Channels { get; }

    /// <inheritdoc/>
    public override double RateHertz { get; }

    /// <inheritdoc/>
    public override double? LineFrequencyHertz => _head.Preamble.LineFrequencyHertz;

    /// <inheritdoc/>
    public override DateTime? Start => _start;

    /// <inheritdoc/>
    public override long? FrameCount => null;

    /// <inheritdoc/>
    public override double Share => _length > 0 ? (double)_lines.NextOffset / _length : 1;

    /// <inheritdoc/>
    public override void Choose(LaneChoice lanes) => _lanes = lanes;

    /// <inheritdoc/>
    public override int Read(Span<float> frames)
    {
        NextSegmentSeconds = null;
        if (_isAtEnd) return 0;
        if (_isAtGap)
        {
            _isAtGap = false;
            NextSegmentSeconds = _segments[_segment].StartSeconds;
            return 0;
        }

        var count = 0;
        var most = frames.Length / Lane.Count;
        while (count < most && !_isAtEnd)
        {
            if (!_rows.Next(out var row))
            {
                Finish();
                break;
            }

            var values = _rows.Read(row);
            var number = _rows.Count - 1;
            for (var index = 0; index < _columns.Length; index++)
            {
                if (double.IsNaN(values[_columns[index]])) _missing[index]++;
            }

            // What is no waveform lies between the stretches that are.
            if (_segment == _segments.Length || number < _segments[_segment].FirstRow) continue;
            Hand(values, frames[(count++ * Lane.Count)..]);
            if (number + 1 < _segments[_segment].FirstRow + _segments[_segment].Length) continue;
            var before = _segments[_segment++];
            _isAtGap = _segment < _segments.Length && !before.JoinsOn(_segments[_segment]);
            if (_isAtGap) break;
        }

        return count;
    }

    /// <inheritdoc/>
    public override void Carry(StateCarrier carrier)
    {
        ArgumentNullException.ThrowIfNull(carrier);
        CarryWarnings(carrier);
        var (offset, line, rows) = (_lines.NextOffset, _lines.NextLine, _rows.Count);
        carrier.Carry(ref offset);
        carrier.Carry(ref line);
        carrier.Carry(ref rows);
        carrier.Carry(_missing.AsSpan());
        carrier.Carry(ref _segment);
        carrier.Carry(ref _isAtGap);
        carrier.Carry(ref _isAtEnd);
        if (!carrier.IsReading) return;
        _lines.Seek(offset, line);
        _rows.Count = rows;
    }

    /// <inheritdoc/>
    protected override void Dispose(bool disposing)
    {
        if (disposing) _table.Dispose();
        base.Dispose(disposing);
    }

    private void Hand(ReadOnlySpan<double> values, Span<float> frame)
    {
        for (var lane = 0; lane < Lane.Count; lane++)
        {
            var source = _lanes.Sources[lane];
            if (source < 0)
            {
                frame[lane] = 0;
                continue;
            }

            var value = values[_columns[source]];
            if (_factors[source] != 1) value *= _factors[source];
            frame[lane] = _lanes.Signs[lane] * (float)value;
        }
    }

    private void Finish()
    {
        _isAtEnd = true;
        if (_rows.CutShort is { } cut) Warn(CsvSampleReader.CutShort(cut));
        for (var index = 0; index < _columns.Length; index++)
        {
            if (_missing[index] > 0) Warn(CsvSampleTable.Missing(_head.Headings[_columns[index]], _missing[index], _rows.Count));
        }
    }
}
