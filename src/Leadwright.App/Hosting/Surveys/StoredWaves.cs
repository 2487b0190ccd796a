using System.Collections.Immutable;
using Leadwright.App.Verbs;
using Leadwright.Client.Model.Charts;
using Leadwright.Client.Surveys;
using Leadwright.Core.Circuits;
using Leadwright.Core.Signals;
using Leadwright.Formats;
using Leadwright.Formats.Matching;
using Leadwright.Formats.Sampling;
using Leadwright.Surveys.Tables;

namespace Leadwright.App.Hosting.Surveys;

/// <summary>Which channel of a sampled recording is which, and what its file states: all that is needed of the file itself when its samples come from the table of its import.</summary>
/// <param name="Channels">The channels, without samples.</param>
/// <param name="RateHertz">Samples a second.</param>
/// <param name="LineFrequencyHertz">As stated; null when it is not.</param>
/// <param name="Service">The service they are matched by.</param>
/// <param name="Matching">Which is which.</param>
internal sealed record WaveMatch(ImmutableArray<SampledChannel> Channels, double RateHertz, double? LineFrequencyHertz, ServiceKind Service, ChannelMatching Matching)
{
    /// <summary>Opens a recording for what it states.</summary>
    /// <param name="files">Its files, the one to open first.</param>
    /// <param name="request">How it is read.</param>
    /// <param name="cancellation">Ends it early.</param>
    /// <returns>Null when it can't be read in stretches of one rate, or none of its channels is known.</returns>
    public static WaveMatch? Of(IEnumerable<string> files, RecordingRequest request, CancellationToken cancellation)
    {
        try
        {
            using var source = SampleFiles.Open(
                [.. files.Select(path => new SampleFile(path, () => File.OpenRead(path)))], request.ToReadOptions(), cancellation);
            if (source is null) return null;
            var bare = new SampledRecording(source.Channels, [], source.LineFrequencyHertz, source.Start);
            var service = request.Service?.Kind ?? ChannelMatcher.ServiceFor(bare, request.Channels);
            return new WaveMatch(source.Channels, source.RateHertz, source.LineFrequencyHertz, service, ChannelMatcher.Match(bare, service, request.Channels, source.Name));
        }
        catch (FormatReadException)
        {
            return null;
        }
    }
}

/// <summary>The waves of a recording from the table of its import: as much is read as is looked at, however long the recording is.</summary>
/// <param name="table">The table of its samples.</param>
/// <param name="match">Which channel is which.</param>
internal sealed class StoredWaves(SurveyTable table, WaveMatch match)
{
    private const double UsualHertz = 50;

    // Twice what a moment is measured from, so that one at the edge of a stretch has as much.
    private const int CyclesAround = 11;

    private readonly ImmutableArray<ChannelMatch> _matches = [.. match.Matching.Matches.Where(one => one.SourceIndex < table.Columns.Length)];

    /// <summary>The columns that charts can show: leads and clamps by what they are, other channels by their names.</summary>
    public ImmutableArray<ColumnCard> Columns
    {
        get
        {
            var matched = _matches.Select(one => one.SourceIndex).ToHashSet();
            return [.. _matches.Select(one => RecordingWaves.CardOf(one.Channel)), .. table.Columns.Where(column => !matched.Contains(column.Index)).Select(StoredFrames.CardOf)];
        }
    }

    /// <summary>The column of the table that a chart's column is, and whether the file holds it the other way round; null when there is none.</summary>
    public (int Index, bool IsTurned)? Find(string name)
    {
        foreach (var one in _matches)
        {
            if (RecordingWaves.NameOf(one.Channel) == name) return (one.SourceIndex, one.IsTurned);
        }

        return table.IndexOf(name) is >= 0 and var index ? (index, false) : null;
    }

    /// <summary>One moment: a few cycles as they were, and what ten cycles about it measure.</summary>
    /// <param name="at">Milliseconds as in a frame.</param>
    /// <param name="statedHertz">The frequency as stated for the panel; null when it was not.</param>
    /// <param name="cancellation">Stops the work.</param>
    public async Task<MomentSheet?> MomentAsync(double at, double? statedHertz, CancellationToken cancellation)
    {
        var (from, to) = (ColumnFrame.MillisecondsOf(table.From), ColumnFrame.MillisecondsOf(table.To));
        var time = ColumnFrame.TimeOf(Math.Clamp(at, from, to));
        var reach = TimeSpan.FromSeconds(Math.Min(CyclesAround / (statedHertz ?? match.LineFrequencyHertz ?? UsualHertz), 0.45 * SurveyTable.MostBuckets / match.RateHertz));
        var read = await table.ReadAsync(
            [.. _matches.Select(one => one.SourceIndex)], Later(time, -reach), Later(time, reach), SurveyTable.MostBuckets, cancellation);
        if (!read.AreRows || read.Count == 0) return null;
        var (first, count) = StretchAt(read.Starts.Span, time.Ticks);
        var channels = match.Channels;
        for (var index = 0; index < _matches.Length; index++)
        {
            var samples = read.Series[index].Mean.Slice(first, count).ToArray();
            if (_matches[index].IsTurned) Negate(samples);
            channels = channels.SetItem(_matches[index].SourceIndex, channels[_matches[index].SourceIndex] with { Samples = samples });
        }

        // Channels that are not matched have no samples here, and nobody asks for them.
        var about = new SampledRecording(
            [.. _matches.Select(one => channels[one.SourceIndex])], [new RateSegment(0, count, match.RateHertz, 0)], match.LineFrequencyHertz, new DateTime(read.Starts.Span[first]));
        var map = _matches.Select((one, index) => (one.Channel, index)).ToImmutableSortedDictionary(pair => pair.Channel, pair => pair.index);
        return new RecordingWaves(about, map, match.Service, statedHertz).Moment(at, cancellation);
    }

    private static DateTime Later(DateTime time, TimeSpan by) => new(Math.Clamp(time.Ticks + by.Ticks, 0, DateTime.MaxValue.Ticks));

    private static void Negate(double[] samples)
    {
        for (var index = 0; index < samples.Length; index++) samples[index] = -samples[index];
    }

    // The samples without a gap about a time.
    private (int First, int Count) StretchAt(ReadOnlySpan<long> starts, long ticks)
    {
        var at = starts.BinarySearch(ticks);
        if (at < 0) at = Math.Clamp(~at - 1, 0, starts.Length - 1);
        var most = 1.5 * TimeSpan.TicksPerSecond / match.RateHertz + TimeSpan.TicksPerMicrosecond;
        var (first, end) = (at, at + 1);
        while (first > 0 && starts[first] - starts[first - 1] <= most) first--;
        while (end < starts.Length && starts[end] - starts[end - 1] <= most) end++;
        return (first, end - first);
    }
}
