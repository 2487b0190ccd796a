using System.Collections.Immutable;
using System.Globalization;
using Leadwright.Core.Signals;
using Leadwright.Core.Signals.Lanes;
using Leadwright.Formats.Comtrade;
using Leadwright.Formats.Text;

namespace Leadwright.Formats.Sampling;

/// <summary>A COMTRADE record with text data, read line by line.</summary>
/// <remarks>
/// For records of one stated rate; others go through <see cref="ComtradeReader"/> and <see cref="RecordingSource"/>. The samples are theirs to the
/// last bit. Gaps as in <see cref="ComtradeSource"/>: when nine in ten of the first 8,192 steps agree with the stated rate, a step of more than one and
/// a half periods, or back, ends a segment; stamps that start over (at 2³² or, with ten digits, at 10¹⁰) do not.
/// </remarks>
public sealed class ComtradeTextSource : SampleSource
{
    private const int LookedAt = 8192;
    private static readonly double[] s_turns = [4294967296.0, 1e10];

    private readonly ComtradeConfiguration _configuration;
    private readonly ComtradeReadOptions _options;
    private readonly Stream _data;
    private readonly long _length, _firstOffset;
    private readonly int _firstLine;
    private readonly LineReader _lines;
    private readonly ComtradeTextRecord _record;
    private readonly long[] _missing;
    private readonly double _tick;
    private readonly bool _hasStamps;
    private readonly double _firstStamp;
    private LaneChoice _lanes = LaneChoice.Empty;
    private Held _held;
    private bool _isAtEnd;
    private long _count;
    private double _lastStamp = double.NaN, _turned;
    private double _segmentSeconds;
    private int _gapCount;

    private ComtradeTextSource(
        string name, ComtradeConfiguration configuration, Stream data, long length, int firstLine, long firstOffset,
        ComtradeReadOptions options, List<ReadWarning> warnings)
        : base(name)
    {
        (_configuration, _options, _data, _length, _firstLine, _firstOffset) = (configuration, options, data, length, firstLine, firstOffset);
        _record = new ComtradeTextRecord(
            name, configuration, [.. configuration.Analogs.Select(channel => ComtradeGain.Of(channel, options.Scaling, warnings))]);
        _missing = new long[configuration.Analogs.Length];
        _lines = new LineReader(data, name, firstLine, firstOffset);
        Channels = [.. configuration.Analogs.Select(channel =>
            new SampledChannel(channel.Id, channel.Phase, channel.Unit, default) { SkewSeconds = channel.SkewSeconds })];
        WaveSegment.Waveforms(name, [new WaveSegment(0, long.MaxValue, RateHertz, 0)], Warn);
        (_tick, _hasStamps, _firstStamp) = LookAtStamps();
        _lines.Seek(firstOffset, firstLine);
        foreach (var warning in warnings) Warn(warning);
    }

    /// <inheritdoc/>
    public override ImmutableArray<SampledChannel> Channels { get; }

    /// <inheritdoc/>
    public override double RateHertz => _configuration.Rates[0].RateHertz;

    /// <inheritdoc/>
    public override double? LineFrequencyHertz => _configuration.LineFrequencyHertz;

    /// <inheritdoc/>
    public override DateTime? Start => _configuration.Start?.Value;

    /// <inheritdoc/>
    public override long? FrameCount => null;

    /// <inheritdoc/>
    public override double Share => _length > 0 ? (double)(_lines.NextOffset - _firstOffset) / _length : 1;

    internal static ComtradeTextSource? TryOpen(
        ComtradeConfiguration configuration, string name, Stream data, long length, int firstLine, long firstOffset,
        ComtradeReadOptions? options, List<ReadWarning> warnings)
    {
        var isOneRate = configuration.Rates.Length == 1 && configuration.Rates[0].RateHertz > 0;
        if (configuration.DataType != ComtradeDataType.Ascii || !isOneRate || configuration.Analogs.IsEmpty) return null;
        return new ComtradeTextSource(name, configuration, data, length, firstLine, firstOffset, options ?? new(), warnings);
    }

    /// <inheritdoc/>
    public override void Choose(LaneChoice lanes) => _lanes = lanes;

    /// <inheritdoc/>
    public override int Read(Span<float> frames)
    {
        NextSegmentSeconds = null;
        var count = 0;
        var most = frames.Length / Lane.Count;
        while (count < most)
        {
            if (_held == Held.Nothing)
            {
                if (!NextRecord()) break;
                _held = IsGap() ? Held.BehindGap : Held.Next;
            }

            if (_held == Held.BehindGap)
            {
                if (count > 0) break;
                (_held, NextSegmentSeconds) = (Held.Next, _segmentSeconds);
                break;
            }

            _held = Held.Nothing;
            _lastStamp = _record.Stamp;
            Hand(frames[(count++ * Lane.Count)..]);
        }

        return count;
    }

    /// <inheritdoc/>
    public override void Carry(StateCarrier carrier)
    {
        ArgumentNullException.ThrowIfNull(carrier);
        CarryWarnings(carrier);
        // A line that waits behind a gap is read once more.
        var (offset, line) = _held != Held.Nothing ? (_lines.Offset, _lines.Line) : (_lines.NextOffset, _lines.NextLine);
        carrier.Carry(ref offset);
        carrier.Carry(ref line);
        carrier.Carry(_missing.AsSpan());
        carrier.Carry(ref _held);
        carrier.Carry(ref _isAtEnd);
        carrier.Carry(ref _count);
        carrier.Carry(ref _lastStamp);
        carrier.Carry(ref _turned);
        carrier.Carry(ref _segmentSeconds);
        carrier.Carry(ref _gapCount);
        if (!carrier.IsReading) return;
        _lines.Seek(offset, line);
        if (_held != Held.Nothing && _lines.Next(out var record)) _record.Read(record, _lines.Line, _lines.Offset);
    }

    /// <inheritdoc/>
    protected override void Dispose(bool disposing)
    {
        if (disposing) _data.Dispose();
        base.Dispose(disposing);
    }

    private bool NextRecord()
    {
        if (_isAtEnd) return false;
        if (TakeRecord(_count)) return true;
        _isAtEnd = true;
        if (ComtradeTextData.CheckCount(_count, Name, _configuration, _options) is { } warning) Warn(warning);
        for (var channel = 0; channel < _missing.Length; channel++)
        {
            if (_missing[channel] > 0) Warn(ComtradeReader.Missing(_configuration.Analogs[channel], _missing[channel], _count));
        }

        return false;
    }

    private bool TakeRecord(long before)
    {
        var stated = _configuration.StatedSampleCount;
        while (_lines.Next(out var record))
        {
            if (record.Trim(" \t"u8).IsEmpty) continue;
            if (_lines.IsOpen && _record.IsCutShort(record, stated > 0 && before + 1 < stated))
            {
                if (!_isAtEnd) Warn(ComtradeTextData.CutShort(Name, _lines.Line, _lines.Offset));
                return false;
            }

            _record.Read(record, _lines.Line, _lines.Offset);
            return true;
        }

        return false;
    }

    private void Hand(Span<float> frame)
    {
        var values = _record.Values;
        for (var lane = 0; lane < Lane.Count; lane++)
        {
            var source = _lanes.Sources[lane];
            frame[lane] = source < 0 ? 0 : _lanes.Signs[lane] * (float)values[source];
        }

        for (var channel = 0; channel < values.Length; channel++)
        {
            if (double.IsNaN(values[channel])) _missing[channel]++;
        }

        _count++;
    }

    private bool IsGap()
    {
        if (!_hasStamps || _count == 0) return false;
        var step = (_record.Stamp - _lastStamp) * _tick;
        var period = 1 / RateHertz;
        if (step < 0)
        {
            foreach (var turn in s_turns)
            {
                if (!(Math.Abs(step + (turn * _tick) - period) < 0.5 * period)) continue;
                _turned += turn;
                return false;
            }
        }

        if (!(step > 1.5 * period || step < 0)) return false;
        _segmentSeconds = (_record.Stamp + _turned - _firstStamp) * _tick;
        if (++_gapCount <= 20)
        {
            Warn(new ReadWarning(string.Create(CultureInfo.InvariantCulture,
                $"The time stamps jump by {step:0.######} s at {_segmentSeconds:0.###} s; the recording is cut there.")));
        }

        return true;
    }

    // Some recorders count microseconds under dates in nanoseconds.
    private (double Tick, bool HasStamps, double FirstStamp) LookAtStamps()
    {
        var stamps = new List<double>(LookedAt);
        _isAtEnd = true;
        while (stamps.Count < LookedAt && TakeRecord(stamps.Count)) stamps.Add(_record.Stamp);
        _isAtEnd = false;
        var tick = _configuration.TimeMultiplier * (_configuration.Start is { IsNanosecond: true } ? 1e-9 : 1e-6);
        foreach (var unit in (ReadOnlySpan<double>)[tick, _configuration.TimeMultiplier * 1e-6])
        {
            if (Agree(stamps, unit)) return (unit, true, stamps[0]);
        }

        if (stamps.Count > 1)
            Warn(new ReadWarning("The time stamps in the data do not agree with the stated sampling rate; times are worked out from the rate."));
        return (tick, false, 0);
    }

    private bool Agree(List<double> stamps, double tick)
    {
        var period = 1 / RateHertz;
        var agreeing = 0;
        for (var index = 1; index < stamps.Count; index++)
        {
            if (Math.Abs(((stamps[index] - stamps[index - 1]) * tick) - period) <= Math.Min((0.1 * period) + tick, 0.5 * period)) agreeing++;
        }

        return stamps.Count > 1 && agreeing >= 0.9 * (stamps.Count - 1);
    }

    // What became of the line that was read ahead.
    private enum Held
    {
        Nothing,
        BehindGap,
        Next,
    }
}
