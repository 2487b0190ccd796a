using System.Collections.Immutable;
using Leadwright.App.Verbs;
using Leadwright.Client.Model.Charts;
using Leadwright.Client.Surveys;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Logs;
using Leadwright.Core.Signals;
using Leadwright.Formats.Matching;

namespace Leadwright.App.Hosting.Surveys;

/// <summary>The samples of a recording as a person looks at them: charts from the whole of it down to a cycle, and one moment with its waves, vectors and spectra.</summary>
/// <param name="recording">The samples, with the channels that the file holds the other way round turned.</param>
/// <param name="map">Which of its channels is which.</param>
/// <param name="service">The service.</param>
/// <param name="statedHertz">The frequency as stated; null when it was not.</param>
internal sealed class RecordingWaves(SampledRecording recording, ImmutableSortedDictionary<Channel, int> map, ServiceKind service, double? statedHertz)
{
    private const string NamePrefix = "wave-";

    // Cycles that a moment is measured from; those of 50 Hz are said where nothing is stated.
    private const int MeasuredCycles = 10;
    private const int ShownCycles = 4;
    private const double UsualHertz = 50;

    private readonly DateTime _start = recording.Start ?? DateTime.MinValue;

    /// <summary>The samples of a file.</summary>
    /// <param name="file">The file; it holds samples.</param>
    /// <param name="request">How it is read.</param>
    public static RecordingWaves Of(RecordingFile file, RecordingRequest request)
    {
        var samples = file.Samples!;
        var service = request.Service?.Kind ?? ChannelMatcher.ServiceFor(samples, request.Channels);
        var matching = ChannelMatcher.Match(samples, service, request.Channels, file.Path);
        return new RecordingWaves(MatchedRecording.Turned(samples, matching), matching.Matches.ToImmutableSortedDictionary(match => match.Channel, match => match.SourceIndex), service, request.FrequencyHertz);
    }

    /// <summary>The columns that charts can show.</summary>
    public ImmutableArray<ColumnCard> Columns =>
    [
        .. map.Keys.Select(CardOf),
    ];

    /// <summary>The name of a channel's column.</summary>
    public static string NameOf(Channel channel) => NamePrefix + channel;

    /// <summary>A channel as a column.</summary>
    public static ColumnCard CardOf(Channel channel) =>
        new(NameOf(channel), $"Wave of {channel}", IsVoltage(channel) ? "V" : "A", IsVoltage(channel) ? "VoltageWave" : "CurrentWave", PlaceOf(channel));

    /// <summary>Columns over a span; least and most of each row where a row sums samples up.</summary>
    /// <param name="names">The columns.</param>
    /// <param name="from">Start, milliseconds as in a frame; null for the recording's.</param>
    /// <param name="to">End.</param>
    /// <param name="width">The most rows.</param>
    /// <exception cref="ArgumentException">There is no column of a name.</exception>
    public ColumnFrame Frame(ImmutableArray<string> names, double? from, double? to, int width)
    {
        int[] sources = [.. names.Select(name => Enum.TryParse<Channel>(name.AsSpan(Math.Min(name.Length, NamePrefix.Length)), out var channel) && map.TryGetValue(channel, out var source)
            ? source : throw new ArgumentException($"The recording has no column '{name}'.", nameof(names)))];
        var (wholeFrom, wholeTo) = (TimeOf(0), TimeOf(Count - 1) + (1000 / recording.Segments[^1].RateHertz));
        var (start, end) = (Math.Max(from ?? wholeFrom, wholeFrom), Math.Min(to ?? wholeTo, wholeTo));
        if (!(end > start)) (start, end) = (wholeFrom, wholeTo);
        var (first, last) = (Math.Max(0, IndexAt(start) - 1), Math.Min(Count - 1, IndexAt(end) + 1));
        var perRow = Math.Max(1, (last - first + width) / width);
        var rows = (last - first + perRow) / perRow;
        return new ColumnFrame
        {
            From = start,
            To = end,
            WholeFrom = wholeFrom,
            WholeTo = wholeTo,
            // Where stretches of several rates are in sight, the slowest: its rows are not taken for missing ones.
            Step = 1000 * perRow / recording.Segments.Where(segment => segment.FirstIndex <= last && segment.FirstIndex + segment.Length > first).Min(segment => segment.RateHertz),
            Times = [.. Enumerable.Range(0, rows).Select(row => (TimeOf(first + (row * perRow)) + TimeOf(Math.Min(last, first + (row * perRow) + perRow - 1))) / 2)],
            Columns = [.. sources.Select((source, index) => Column(names[index], recording.Channels[source].Samples.Span, first, last, perRow, rows))],
        };
    }

    /// <summary>One moment: a few cycles as they were, and what ten cycles about it measure.</summary>
    /// <param name="at">Milliseconds as in a frame.</param>
    /// <param name="cancellation">Stops the work.</param>
    public MomentSheet Moment(double at, CancellationToken cancellation)
    {
        var index = Math.Clamp(IndexAt(at), 0, Count - 1);
        var segment = SegmentAt(index);
        var hertz = statedHertz ?? recording.LineFrequencyHertz ?? UsualHertz;
        var (first, length) = Around(segment, index, MeasuredCycles, hertz);
        var slice = new SampledRecording(
            [.. recording.Channels.Select(channel => channel with { Samples = channel.Samples.Slice(first, length) })], [new RateSegment(0, length, segment.RateHertz, 0)], recording.LineFrequencyHertz, null);
        var measured = PanelSnapshot.Measure(slice, map, new SnapshotOptions { StatedFrequencyHertz = hertz }, out var refusal, cancellation);
        var time = ColumnFrame.TimeOf(TimeOf(index));
        var (shownFirst, shownLength) = Around(segment, index, ShownCycles, hertz);
        var sheet = new MomentSheet(time)
        {
            WaveSvg = MomentDrawing.Waves(
                [.. map.Select(pair => (pair.Key, recording.Channels[pair.Value].Samples.Slice(shownFirst, shownLength)))], segment.RateHertz, (index - shownFirst) / segment.RateHertz),
            Note = measured is null ? $"Vectors and spectra can't be had here: {Leadwright.Reports.Hookups.SnapshotWording.Of(refusal)}" : "",
        };
        if (measured is null) return sheet;
        ImmutableArray<SpectrumRow> spectra = [.. measured.Channels.Where(pair => !pair.Value.IsMissing && !pair.Value.IsDead).Select(pair => RowOf(pair.Key, pair.Value))];
        var vectors = measured.Channels.Where(pair => !pair.Value.IsMissing && !pair.Value.IsDead).ToImmutableSortedDictionary(pair => pair.Key, pair => pair.Value.Phasor);
        return sheet with
        {
            FrequencyHertz = measured.Snapshot.FrequencyHertz,
            Spectra = spectra,
            SpectrumSvg = MomentDrawing.Spectra(spectra),
            Vectors = vectors.Keys.Any(IsVoltage)
                ? new VectorSheet(time, Leadwright.Reports.Hookups.VectorDiagram.Svg(vectors, service, "cursor"), Leadwright.Reports.Hookups.VectorDiagram.Description(vectors, service), "") : null,
        };
    }

    /// <summary>True for a lead.</summary>
    public static bool IsVoltage(Channel channel) => channel < Channel.I1;

    /// <summary>The phase or pair of a channel, as columns name it.</summary>
    public static string PlaceOf(Channel channel) => channel.ToString()[1..] switch
    {
        "1" => "Phase1",
        "2" => "Phase2",
        "3" => "Phase3",
        "12" => "Pair12",
        "23" => "Pair23",
        "31" => "Pair31",
        _ => "Neutral",
    };

    private int Count => recording.Channels.IsEmpty ? 0 : recording.Channels[0].Samples.Length;

    private static SpectrumRow RowOf(Channel channel, ChannelSnapshot measured) => new(channel.ToString(), IsVoltage(channel) ? "V" : "A", PlaceOf(channel))
    {
        Rms = measured.TrueRms,
        DistortionPercent = double.IsFinite(measured.HarmonicDistortion) ? 100 * measured.HarmonicDistortion : null,
        Percent = [.. measured.Harmonics.Select(harmonic => measured.Phasor.Magnitude > 0 ? 100 * harmonic.Magnitude / measured.Phasor.Magnitude : 0)],
    };

    private static FrameColumn Column(string name, ReadOnlySpan<double> samples, int first, int last, int perRow, int rows)
    {
        var (mean, low, high, standing) = (new float[rows], new float[rows], new float[rows], new byte[rows]);
        for (var row = 0; row < rows; row++)
        {
            var (sum, count, least, most) = (0.0, 0, double.PositiveInfinity, double.NegativeInfinity);
            var end = Math.Min(last, first + (row * perRow) + perRow - 1);
            for (var index = first + (row * perRow); index <= end; index++)
            {
                if (!double.IsFinite(samples[index])) continue;
                sum += samples[index];
                count++;
                least = Math.Min(least, samples[index]);
                most = Math.Max(most, samples[index]);
            }

            standing[row] = (byte)(count == 0 ? Standing.Lost : Standing.Measured);
            (mean[row], low[row], high[row]) = count == 0 ? (float.NaN, float.NaN, float.NaN) : ((float)(sum / count), (float)least, (float)most);
        }

        return new FrameColumn(name, name.StartsWith(NamePrefix + "V", StringComparison.Ordinal) ? "V" : "A") { Mean = mean, Low = low, High = high, Standing = standing };
    }

    // As many cycles as there are about a sample, without leaving its stretch of one rate.
    private static (int First, int Length) Around(RateSegment segment, int index, int cycles, double hertz)
    {
        var length = Math.Min(segment.Length, (int)Math.Ceiling(cycles * segment.RateHertz / hertz) + 1);
        var first = Math.Clamp(index - (length / 2), segment.FirstIndex, segment.FirstIndex + segment.Length - length);
        return (first, length);
    }

    private RateSegment SegmentAt(int index) => recording.Segments.Last(segment => segment.FirstIndex <= index);

    private double TimeOf(int index)
    {
        var segment = SegmentAt(index);
        return ColumnFrame.MillisecondsOf(_start) + (1000 * (segment.StartSeconds + ((index - segment.FirstIndex) / segment.RateHertz)));
    }

    private int IndexAt(double milliseconds)
    {
        var seconds = (milliseconds - ColumnFrame.MillisecondsOf(_start)) / 1000;
        var segment = recording.Segments.LastOrDefault(one => one.StartSeconds <= seconds, recording.Segments[0]);
        return segment.FirstIndex + (int)Math.Clamp(Math.Round((seconds - segment.StartSeconds) * segment.RateHertz), 0, segment.Length - 1);
    }
}
