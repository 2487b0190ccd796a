using System.Buffers.Binary;
using System.Collections.Immutable;
using System.Globalization;
using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using Leadwright.Core.Signals;
using Leadwright.Core.Signals.Lanes;
using Leadwright.Formats.Comtrade;
using Leadwright.Formats.Text;

namespace Leadwright.Formats.Sampling;

/// <summary>A COMTRADE record with binary data, read block by block.</summary>
/// <remarks>
/// For records of one stated rate with data as 16-bit, 32-bit or single precision numbers; others go through <see cref="ComtradeReader"/>
/// and <see cref="RecordingSource"/>. The time stamps show gaps as they do there: when nine in ten of the first steps agree
/// with the stated rate, a step of more than one and a half periods, or back, ends a segment.
/// </remarks>
public sealed class ComtradeSource : SampleSource
{
    private const int BufferRecords = 8192;
    private const int HeadLength = 8;

    private readonly ComtradeConfiguration _configuration;
    private readonly Stream _data;
    private readonly int _recordLength;
    private readonly byte[] _buffer;
    private readonly ComtradeGain[] _gains;
    private readonly long _records;
    private double _tick;
    private long _ticksPerRecord;
    private readonly float[] _multipliers = new float[Lane.Count];
    private readonly float[] _offsets = new float[Lane.Count];
    private readonly int[] _places = new int[Lane.Count];
    private int _base = -1;
    private Vector256<int> _shuffle;
    private int _count, _next;
    private long _taken, _lastStamp, _firstStamp, _stampTurns;
    private bool _hasStamps;
    private bool _isGap;
    private int _gapCount;

    private ComtradeSource(string name, ComtradeConfiguration configuration, Stream data, long length, ComtradeReadOptions options, List<ReadWarning> warnings)
        : base(name)
    {
        (_configuration, _data, _recordLength) = (configuration, data, configuration.RecordLength);
        _gains = [.. configuration.Analogs.Select(channel => ComtradeGain.Of(channel, options.Scaling, warnings))];
        _buffer = new byte[(BufferRecords * _recordLength) + Vector256<byte>.Count];
        _records = length / _recordLength;
        _tick = configuration.TimeMultiplier * (configuration.Start is { IsNanosecond: true } ? 1e-9 : 1e-6);
        Channels = [.. configuration.Analogs.Select(channel =>
            new SampledChannel(channel.Id, channel.Phase, channel.Unit, default) { SkewSeconds = channel.SkewSeconds })];
        CheckCount(length, warnings);
        foreach (var warning in warnings) Warn(warning);
    }

    /// <summary>Opens a record when it can be read block by block.</summary>
    /// <param name="cfg">The configuration.</param>
    /// <param name="dataName">Display name of the data.</param>
    /// <param name="data">The data, at its start; belongs to the stream from here on when one is returned.</param>
    /// <param name="length">Length of the data in bytes.</param>
    /// <param name="options">How to read; null for the defaults.</param>
    /// <returns>Null when it can't: text data, several rates or none stated.</returns>
    /// <exception cref="FormatReadException">The configuration can't be used, or the data belongs to another.</exception>
    public static ComtradeSource? TryOpen(InputFile cfg, string dataName, Stream data, long length, ComtradeReadOptions? options = null)
    {
        ArgumentNullException.ThrowIfNull(cfg);
        ArgumentNullException.ThrowIfNull(data);
        var warnings = new List<ReadWarning>();
        var configuration = ComtradeConfigurationReader.Read(SourceText.Lines(cfg.Bytes.Span, cfg.Name, stated: options?.Encoding, warnings: warnings), cfg.Name, warnings);
        return TryOpen(configuration, dataName, data, length, options, warnings);
    }

    internal static ComtradeSource? TryOpen(
        ComtradeConfiguration configuration, string dataName, Stream data, long length, ComtradeReadOptions? options, List<ReadWarning> warnings)
    {
        var isOneRate = configuration.Rates.Length == 1 && configuration.Rates[0].RateHertz > 0;
        if (configuration.DataType == ComtradeDataType.Ascii || !isOneRate || configuration.Analogs.IsEmpty) return null;
        if (length < configuration.RecordLength)
        {
            throw new FormatReadException(
                dataName, string.Create(CultureInfo.InvariantCulture, $"samples of {configuration.RecordLength} bytes"),
                string.Create(CultureInfo.InvariantCulture, $"{length} bytes"), "The data is cut short: copy both files again from the recorder.");
        }

        return new ComtradeSource(dataName, configuration, data, length, options ?? new(), warnings);
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
    public override long? FrameCount => _records;

    /// <inheritdoc/>
    public override double Share => _records > 0 ? (double)(_taken - _count + _next) / _records : 1;

    /// <inheritdoc/>
    public override void Choose(LaneChoice lanes)
    {
        ArgumentNullException.ThrowIfNull(lanes);
        var used = lanes.Sources.Where(source => source >= 0).ToList();
        var width = _configuration.DataType == ComtradeDataType.Binary ? 2 : 4;
        Span<int> shuffle = stackalloc int[Lane.Count];
        // All channels in use within eight in a row: one load and one shuffle make a frame.
        _base = used.Count > 0 && used.Max() - used.Min() < Lane.Count ? used.Min() : -1;
        for (var lane = 0; lane < Lane.Count; lane++)
        {
            var source = lanes.Sources[lane];
            _places[lane] = source < 0 ? -1 : HeadLength + (width * source);
            shuffle[lane] = source < 0 || _base < 0 ? 0 : source - _base;
            if (source < 0) continue;
            var gain = _gains[source];
            _multipliers[lane] = (float)(lanes.Signs[lane] * gain.Multiplier * gain.Factor);
            _offsets[lane] = (float)(lanes.Signs[lane] * gain.Offset * gain.Factor);
        }

        _shuffle = Vector256.Create<int>(shuffle);
    }

    /// <inheritdoc/>
    public override int Read(Span<float> frames)
    {
        NextSegmentSeconds = null;
        if (_next == _count && !Fill()) return 0;
        if (_isGap)
        {
            _isGap = false;
            NextSegmentSeconds = (Stamp(_next) + _stampTurns - _firstStamp) * _tick;
            return 0;
        }

        var wanted = Math.Min(frames.Length / Lane.Count, _count - _next);
        var count = _hasStamps ? CountToGap(wanted) : wanted;
        Decode(_buffer.AsSpan(_next * _recordLength), count, frames);
        _next += count;
        return count;
    }

    /// <inheritdoc/>
    public override void Carry(StateCarrier carrier)
    {
        ArgumentNullException.ThrowIfNull(carrier);
        CarryWarnings(carrier);
        var place = _taken - _count + _next;
        carrier.Carry(ref place);
        carrier.Carry(ref _tick);
        carrier.Carry(ref _ticksPerRecord);
        carrier.Carry(ref _firstStamp);
        carrier.Carry(ref _lastStamp);
        carrier.Carry(ref _stampTurns);
        carrier.Carry(ref _hasStamps);
        carrier.Carry(ref _isGap);
        carrier.Carry(ref _gapCount);
        if (!carrier.IsReading) return;
        _data.Position = place * _recordLength;
        (_taken, _count, _next) = (place, 0, 0);
    }

    /// <inheritdoc/>
    protected override void Dispose(bool disposing)
    {
        if (disposing) _data.Dispose();
        base.Dispose(disposing);
    }

    private bool Fill()
    {
        var wanted = (int)Math.Min(BufferRecords, _records - _taken) * _recordLength;
        if (wanted == 0) return false;
        var length = _data.ReadAtLeast(_buffer.AsSpan(0, wanted), wanted, throwOnEndOfStream: false);
        (_count, _next) = (length / _recordLength, 0);
        if (_taken == 0 && _count > 0) LookAtStamps();
        _taken += _count;
        return _count > 0;
    }

    // Some recorders count microseconds under dates in nanoseconds.
    private void LookAtStamps()
    {
        foreach (var tick in (ReadOnlySpan<double>)[_tick, _configuration.TimeMultiplier * 1e-6])
        {
            (_tick, _ticksPerRecord) = (tick, (long)Math.Round(1 / (RateHertz * tick)));
            _hasStamps = _count > 1 && _ticksPerRecord > 0 && AgreeingSteps() >= 0.9 * (_count - 1);
            if (_hasStamps) break;
        }

        (_firstStamp, _lastStamp) = (Stamp(0), Stamp(0) - _ticksPerRecord);
        if (!_hasStamps)
            Warn(new ReadWarning("The time stamps in the data do not agree with the stated sampling rate; times are worked out from the rate."));
    }

    private int AgreeingSteps()
    {
        var agreeing = 0;
        for (var index = 1; index < _count; index++)
        {
            if (Math.Abs(Stamp(index) - Stamp(index - 1) - _ticksPerRecord) <= (_ticksPerRecord / 10) + 1) agreeing++;
        }

        return agreeing;
    }

    private long Stamp(int record) =>
        BinaryPrimitives.ReadUInt32LittleEndian(_buffer.AsSpan((record * _recordLength) + 4));

    // The stamps are 32 bits wide: at one microsecond they start over after 71 minutes.
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private int CountToGap(int wanted)
    {
        var most = _ticksPerRecord + (_ticksPerRecord / 2);
        ref var first = ref _buffer[(_next * _recordLength) + 4];
        var length = (nuint)_recordLength;
        var last = _lastStamp;
        for (var index = 0; index < wanted; index++)
        {
            // Little-endian, as all that .NET runs on.
            long stamp = Unsafe.ReadUnaligned<uint>(ref Unsafe.Add(ref first, (nuint)index * length));
            var step = stamp - last;
            if ((ulong)step <= (ulong)most && stamp != uint.MaxValue)
            {
                last = stamp;
                continue;
            }

            if (stamp == uint.MaxValue)
            {
                last += _ticksPerRecord;
                continue;
            }

            if (step < -(1L << 31))
            {
                step += 1L << 32;
                _stampTurns += 1L << 32;
            }

            last = _lastStamp = stamp;
            if (step <= most && step >= 0) continue;
            _isGap = true;
            if (++_gapCount <= 20)
            {
                Warn(new ReadWarning(string.Create(CultureInfo.InvariantCulture,
                    $"The time stamps jump by {step * _tick:0.######} s at {(stamp + _stampTurns - _firstStamp) * _tick:0.###} s; the recording is cut there.")));
            }

            return index;
        }

        _lastStamp = last;
        return wanted;
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private void Decode(ReadOnlySpan<byte> records, int count, Span<float> frames)
    {
        if (_base < 0)
        {
            for (var index = 0; index < count; index++) DecodeScattered(records[(index * _recordLength)..], frames[(index * Lane.Count)..]);
            return;
        }

        ref var source = ref MemoryMarshal.GetReference(records);
        ref var target = ref MemoryMarshal.GetReference(frames);
        var multiplier = Vector256.Create<float>(_multipliers);
        var offset = Vector256.Create<float>(_offsets);
        Span<float> missing = stackalloc float[Lane.Count];
        for (var lane = 0; lane < Lane.Count; lane++) missing[lane] = _places[lane] < 0 ? 0 : float.NaN;
        var gone = Vector256.Create<float>(missing);
        // What a lane without a channel would pick up may be anything, NaN included.
        var used = Vector256.Equals(gone, gone).AsInt32() ^ Vector256<int>.AllBitsSet;
        var width = _configuration.DataType == ComtradeDataType.Binary ? 2 : 4;
        var isFloat = _configuration.DataType == ComtradeDataType.Float32;
        var length = (nuint)_recordLength;
        var at = (nuint)(HeadLength + (width * _base));
        var shuffle = _shuffle;
        for (var index = 0; index < count; index++)
        {
            ref var record = ref Unsafe.Add(ref source, at);
            at += length;
            Vector256<float> raw, isMissing;
            if (isFloat)
            {
                raw = Vector256.LoadUnsafe(ref Unsafe.As<byte, float>(ref record));
                isMissing = default;
            }
            else
            {
                var whole = width == 2
                    ? Widened(Vector128.LoadUnsafe(ref Unsafe.As<byte, short>(ref record)))
                    : Vector256.LoadUnsafe(ref Unsafe.As<byte, int>(ref record));
                isMissing = Vector256.Equals(whole, Vector256.Create(width == 2 ? short.MinValue : int.MinValue)).AsSingle();
                raw = Vector256.ConvertToSingle(whole);
            }

            var value = Vector256.MultiplyAddEstimate(Vector256.Shuffle(raw, shuffle), multiplier, offset);
            if (isMissing != default) value = Vector256.ConditionalSelect(Vector256.Shuffle(isMissing.AsInt32(), shuffle).AsSingle(), gone, value);
            (value.AsInt32() & used).AsSingle().StoreUnsafe(ref target, (nuint)(index * Lane.Count));
        }
    }

    private static Vector256<int> Widened(Vector128<short> values)
    {
        var (low, high) = Vector128.Widen(values);
        return Vector256.Create(low, high);
    }

    private void DecodeScattered(ReadOnlySpan<byte> record, Span<float> frame)
    {
        for (var lane = 0; lane < Lane.Count; lane++)
        {
            var place = _places[lane];
            if (place < 0)
            {
                frame[lane] = 0;
                continue;
            }

            var raw = _configuration.DataType switch
            {
                ComtradeDataType.Binary => BinaryPrimitives.ReadInt16LittleEndian(record[place..]) is var value and not short.MinValue ? value : float.NaN,
                ComtradeDataType.Binary32 => BinaryPrimitives.ReadInt32LittleEndian(record[place..]) is var value and not int.MinValue ? value : float.NaN,
                _ => BinaryPrimitives.ReadSingleLittleEndian(record[place..]),
            };
            frame[lane] = (raw * _multipliers[lane]) + _offsets[lane];
        }
    }

    private void CheckCount(long length, List<ReadWarning> warnings)
    {
        var stated = _configuration.StatedSampleCount;
        var culture = CultureInfo.InvariantCulture;
        var isBinary16 = _configuration.DataType == ComtradeDataType.Binary;
        var other = _configuration.RecordLengthAs(isBinary16 ? ComtradeDataType.Binary32 : ComtradeDataType.Binary);
        if (stated > 0 && length != (long)stated * _recordLength && length == (long)stated * other)
        {
            throw new FormatReadException(
                Name, string.Create(culture, $"{stated} samples of {_recordLength} bytes"), string.Create(culture, $"{length} bytes, which is {stated} samples of {other} bytes"),
                $"The file type in the .cfg should read {(isBinary16 ? "BINARY32 or FLOAT32" : "BINARY")}: correct that line in a copy of the .cfg.");
        }

        if (stated > 0 && _records != stated)
        {
            warnings.Add(new ReadWarning(string.Create(culture,
                $"'{Name}' holds {_records} whole samples where the configuration states {stated}; all of them are read.")));
        }
    }
}
