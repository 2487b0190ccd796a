using System.Collections.Immutable;
using Leadwright.Core.Signals;
using Leadwright.Core.Signals.Lanes;
using Leadwright.Formats.Sampling;

namespace Leadwright.Formats.Pqdif;

/// <summary>The longest recording of samples in a PQDIF file, read observation by observation: one of them is in memory at a time.</summary>
/// <remarks>The file is gone through once to learn what it holds; the samples are those of <see cref="PqdifReader"/>, in single precision.</remarks>
public sealed class PqdifSource : SampleSource
{
    private readonly Stream _stream;
    private readonly PqdifReadOptions _options;
    private readonly PqdifRecordReader _records;
    private readonly List<PqdifWaveforms.Piece> _pieces;
    private readonly long[] _firstRows;
    private readonly SegmentWalk _walk;
    private readonly long _frames;
    private LaneChoice _lanes = LaneChoice.Empty;
    private ImmutableArray<SampledChannel> _loaded = [];
    private int _loadedPiece = -1;

    private PqdifSource(
        string name, Stream stream, PqdifReadOptions options, PqdifRecordReader records, List<PqdifWaveforms.Piece> pieces, IEnumerable<ReadWarning> warnings)
        : base(name)
    {
        (_stream, _options, _records, _pieces) = (stream, options, records, pieces);
        foreach (var warning in warnings) Warn(warning);
        _firstRows = new long[pieces.Count];
        var segments = new List<WaveSegment>();
        for (var piece = 0; piece < pieces.Count; piece++)
        {
            _firstRows[piece] = _frames;
            var offset = (pieces[piece].StartTicks - pieces[0].StartTicks) / (double)TimeSpan.TicksPerSecond;
            segments.AddRange(pieces[piece].Segments.Select(segment => new WaveSegment(_frames + segment.FirstIndex, segment.Length, segment.RateHertz, offset + segment.StartSeconds)));
            _frames += pieces[piece].Count;
        }

        (var waveforms, RateHertz) = WaveSegment.Waveforms(name, [.. segments], Warn);
        _walk = new SegmentWalk(waveforms);
        Channels = [.. pieces[0].Channels.Select(channel => channel with { Samples = default })];
    }

    /// <inheritdoc/>
    public override ImmutableArray<SampledChannel> Channels { get; }

    /// <inheritdoc/>
    public override double RateHertz { get; }

    /// <inheritdoc/>
    public override double? LineFrequencyHertz => _pieces[0].NominalHertz;

    /// <inheritdoc/>
    public override DateTime? Start => _pieces[0].Start is null ? null : PqdifClock.Moved(new DateTime(_pieces[0].StartTicks, DateTimeKind.Unspecified), _options.UtcOffset);

    /// <inheritdoc/>
    public override long? FrameCount => _frames;

    /// <inheritdoc/>
    public override double Share => _walk.ShareOf(_frames);

    /// <summary>Opens a file.</summary>
    /// <param name="name">Display name.</param>
    /// <param name="stream">The file, at its start, with seeking; belongs to the source when one is returned.</param>
    /// <param name="options">How to read; null for the defaults. The bound of values holds for one observation.</param>
    /// <param name="cancellation">Ends it early.</param>
    /// <returns>The longest recording; null when the file holds no waveform.</returns>
    /// <exception cref="FormatReadException">The file can't be used.</exception>
    public static SampleSource? TryOpen(string name, Stream stream, PqdifReadOptions? options = null, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(stream);
        options ??= new();
        var warnings = new List<ReadWarning>();
        var seen = new HashSet<string>(StringComparer.Ordinal);
        var waveforms = new PqdifWaveforms(keepsSamples: false);
        var records = new PqdifRecordReader(stream, name, options, warnings, tag => Tell($"An element {tag} is none of version 1.5."));
        PqdifDataSource? source = null;
        var settings = PqdifSettings.Default;
        var sources = 0;
        while (records.Next() is { } record)
        {
            cancellation.ThrowIfCancellationRequested();
            if (!records.CanReadAgain) return Whole(name, stream, options, records, cancellation);
            if (record.Type == PqdifTag.RecDataSource)
            {
                (source, settings) = (PqdifDataSource.Read(record.Root, sources++), PqdifSettings.Default);
                if (source.TimeZone is { } zone) Tell($"The data source states its time zone as '{zone}'. Times are read as they stand, in UTC.");
            }
            else if (record.Type == PqdifTag.RecMonitorSettings)
            {
                settings = PqdifSettings.Read(record.Root, Tell);
            }
            else if (record.Type == PqdifTag.RecObservation)
            {
                if (source is null) throw record.Root.Body.Bad("a data source record before the first observation", "none");
                var observation = new PqdifObservation(record.Root, source, settings, new PqdifBudget(options.MostValues), Tell);
                waveforms.Take(observation, Tell, Tell, new PqdifPlace(record.Offset, source, settings));
            }
        }

        var recordings = waveforms.Ordered().ToList();
        if (recordings.Count == 0) return null;
        Tell(PqdifClock.Says(options.UtcOffset));
        if (recordings.Count > 1) Tell(OtherRecordings(recordings.Count));
        return new PqdifSource(name, stream, options, records, recordings[0], warnings);

        void Tell(string says)
        {
            if (warnings.Count < 1000 && seen.Add(says)) warnings.Add(new ReadWarning(says));
        }
    }

    /// <inheritdoc/>
    public override void Choose(LaneChoice lanes) => _lanes = lanes;

    /// <inheritdoc/>
    public override int Read(Span<float> frames)
    {
        NextSegmentSeconds = null;
        if (_walk.IsAtEnd) return 0;
        if (_walk.StepOver() is { } seconds)
        {
            NextSegmentSeconds = seconds;
            return 0;
        }

        var row = _walk.Row;
        var piece = Array.BinarySearch(_firstRows, row) is >= 0 and var exact ? exact : ~Array.BinarySearch(_firstRows, row) - 1;
        var channels = Load(piece);
        var at = (int)(row - _firstRows[piece]);
        var count = (int)Math.Min(frames.Length / Lane.Count, Math.Min(_walk.Left, _pieces[piece].Count - at));
        for (var lane = 0; lane < Lane.Count; lane++)
        {
            var from = _lanes.Sources[lane];
            var samples = from < 0 ? default : channels[from].Samples.Span.Slice(at, count);
            for (var index = 0; index < count; index++) frames[(index * Lane.Count) + lane] = from < 0 ? 0 : _lanes.Signs[lane] * (float)samples[index];
        }

        _walk.Take(count);
        return count;
    }

    /// <inheritdoc/>
    public override void Carry(StateCarrier carrier)
    {
        ArgumentNullException.ThrowIfNull(carrier);
        CarryWarnings(carrier);
        _walk.Carry(carrier);
    }

    /// <inheritdoc/>
    protected override void Dispose(bool disposing)
    {
        if (disposing)
        {
            _records.Dispose();
            _stream.Dispose();
        }

        base.Dispose(disposing);
    }

    private static string OtherRecordings(int count) =>
        FormattableString.Invariant($"The file holds {count} recordings of different channels, rates or times: the longest is used.");

    // What is packed as a whole can't be gone to and fro in.
    private static RecordingSource? Whole(string name, Stream stream, PqdifReadOptions options, PqdifRecordReader records, CancellationToken cancellation)
    {
        records.Dispose();
        stream.Position = 0;
        var content = PqdifReader.Read(stream, name, options, cancellation);
        if (content.Recordings.IsEmpty) return null;
        var warnings = content.Warnings;
        if (content.Recordings.Length > 1) warnings = warnings.Add(new ReadWarning(OtherRecordings(content.Recordings.Length)));
        stream.Dispose();
        return new RecordingSource(name, content.Recordings[0].Recording, warnings);
    }

    private ImmutableArray<SampledChannel> Load(int piece)
    {
        if (_loadedPiece == piece) return _loaded;
        (_loaded, _loadedPiece) = ([], -1);
        var place = _pieces[piece].Place!;
        var record = _records.ReadAgain(place.Offset);
        var waveforms = new PqdifWaveforms();
        waveforms.Take(new PqdifObservation(record.Root, place.Source, place.Settings, new PqdifBudget(_options.MostValues), _ => { }), _ => { }, _ => { });
        if (_pieces[piece].Part >= waveforms.Pieces.Count || waveforms.Pieces[_pieces[piece].Part].Count != _pieces[piece].Count)
            throw record.Root.Body.Bad("the observation that was read before", "another: the file was changed meanwhile");
        (_loaded, _loadedPiece) = (waveforms.Pieces[_pieces[piece].Part].Channels, piece);
        return _loaded;
    }
}
