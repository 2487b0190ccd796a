using System.Collections.Immutable;
using Leadwright.Core.Signals;

namespace Leadwright.Formats.Pqdif;

/// <summary>Puts waveform channels of observations together to recordings.</summary>
/// <param name="keepsSamples">False to take note of where the samples are and not of the samples.</param>
internal sealed class PqdifWaveforms(bool keepsSamples = true)
{
    // Rates that differ by less are one rate, with the rounding of steps.
    private const double RateTolerance = 0.01;

    private const double MostShiftSeconds = 3.2e9;

    private readonly List<Piece> _pieces = [];

    /// <summary>Takes the waveform channels of an observation.</summary>
    /// <param name="observation">The observation.</param>
    /// <param name="note">Receives what is not taken over.</param>
    /// <param name="warn">Receives what is met and put up with.</param>
    /// <param name="place">Where the observation is, for one who reads it again.</param>
    public void Take(PqdifObservation observation, Action<string> note, Action<string> warn, PqdifPlace? place = null)
    {
        var before = _pieces.Count;
        var groups = new List<(PqdifTimeAxis Axis, int Count, List<RateSegment> Segments, double First, List<(PqdifChannel, SampledChannel, double)> Channels)>();
        foreach (var channel in observation.Channels.Where(channel => channel.Definition.QuantityType == PqdifQuantityType.Waveform))
        {
            var title = channel.Definition.Title;
            var series = ValueSeriesOf(channel, note);
            if (series < 0) continue;
            if (observation.TimesOf(channel) is not { } axis)
            {
                note($"Waveform channel '{title}' has no times in seconds, cycles of a known frequency, or dates.");
                continue;
            }

            var values = observation.ValuesOf(channel, series, axis);
            if (values.Length == 0 || axis.Count == 0)
            {
                note($"Waveform channel '{title}' is empty.");
                continue;
            }

            if (values.Length != axis.Count)
                warn(FormattableString.Invariant($"Waveform channel '{title}' has {values.Length} values and {axis.Count} times: the longer is cut."));
            var count = Math.Min(values.Length, axis.Count);
            if (axis.Segments(count, out var first) is not { } segments)
            {
                note($"Waveform channel '{title}' has times that do not rise.");
                continue;
            }

            var sampled = new SampledChannel(
                title, MarkOf(channel.Definition), PqdifUnit.ShownAs(channel.Definition.Series[series].Units, channel.Definition.Series[series].Prefix),
                values.AsMemory(0, count));
            var step = 1 / segments[0].RateHertz;
            var group = groups.FindIndex(known => known.Count == count && known.Axis.IsShiftOf(axis) && Math.Abs(known.First - first) < step);
            if (group < 0) groups.Add((axis, count, segments, first, [(channel, sampled, first)]));
            else groups[group].Channels.Add((channel, sampled, first));
        }

        foreach (var (_, count, segments, _, channels) in groups)
        {
            // Channels sampled one after the other start within one step of zero: that is a skew, not a start.
            var least = channels.Min(channel => channel.Item3);
            var zero = least >= 0 && least < 1 / segments[0].RateHertz ? 0 : least;
            if (!(Math.Abs(zero) < MostShiftSeconds) || segments.Exists(segment => !(segment.StartSeconds < MostShiftSeconds)))
            {
                note($"Waveform channel '{channels[0].Item2.Name}' has times of more than a hundred years.");
                continue;
            }

            var isDated = observation.Start is { } start && start.Year is > 200 and < 9800;
            _pieces.Add(new Piece(
                observation.Source.Index, observation.Name ?? "", isDated ? observation.Start : null, observation.UndatedTicks, zero, observation.NominalHertz,
                [.. channels.Select(channel => channel.Item1.DefinitionIndex)],
                [.. channels.Select(channel => channel.Item2 with { SkewSeconds = channel.Item3 - zero, Samples = keepsSamples ? channel.Item2.Samples : default })], segments, count)
            {
                Place = place, Part = _pieces.Count - before,
            });
        }
    }

    /// <summary>The recordings, longest first.</summary>
    public ImmutableArray<PqdifRecording> Complete() => [.. Ordered().Select(Join)];

    /// <summary>The recordings as pieces in the order of time, longest recording first.</summary>
    internal IEnumerable<List<Piece>> Ordered()
    {
        var open = new List<List<Piece>>();
        foreach (var piece in _pieces.OrderBy(piece => piece.StartTicks))
        {
            var before = open.Find(pieces => Follows(pieces[^1], piece));
            if (before is null) open.Add([piece]);
            else before.Add(piece);
        }

        return open.OrderByDescending(pieces => pieces.Sum(piece => (long)piece.Count));
    }

    /// <summary>The pieces in the order in which they came.</summary>
    internal IReadOnlyList<Piece> Pieces => _pieces;

    private static string MarkOf(PqdifChannelDefinition definition) =>
        definition.Phase == PqdifPhase.None ? definition.OtherName ?? "" : PqdifPhase.MarkOf(definition.Phase);

    private static int ValueSeriesOf(PqdifChannel channel, Action<string> note)
    {
        var found = -1;
        for (var index = 0; index < channel.Series.Length; index++)
        {
            var definition = channel.Definition.Series[index];
            if (definition.ValueType == PqdifValueType.Time) continue;
            if (found < 0 && (definition.ValueType == PqdifValueType.Val || definition.ValueType == PqdifValueType.Inst)) found = index;
            else note($"Waveform channel '{channel.Definition.Title}': a series {PqdifValueType.NameOf(definition.ValueType)} is not samples.");
        }

        if (found < 0) note($"Waveform channel '{channel.Definition.Title}' has no series of samples.");
        return found;
    }

    private static bool Follows(Piece earlier, Piece later)
    {
        if (earlier.Start is null != later.Start is null || earlier.Source != later.Source || !earlier.Definitions.SequenceEqual(later.Definitions)) return false;
        if (!earlier.Channels.Select(channel => channel.SkewSeconds).SequenceEqual(later.Channels.Select(channel => channel.SkewSeconds))) return false;
        var last = earlier.Segments[^1];
        var rate = last.RateHertz;
        var gap = ((later.StartTicks - earlier.StartTicks) / (double)TimeSpan.TicksPerSecond) - last.StartSeconds - (last.Length / rate);
        // Where the rate follows the network, stamps of recorders in the field overlap by a sample.
        if (gap < -2.5 / rate || later.StartTicks <= earlier.StartTicks) return false;
        return gap <= 0.5 / rate || Math.Abs((later.Segments[0].RateHertz / rate) - 1) <= RateTolerance;
    }

    private static PqdifRecording Join(List<Piece> pieces)
    {
        var first = pieces[0];
        var total = checked(pieces.Sum(piece => piece.Count));
        var segments = ImmutableArray.CreateBuilder<RateSegment>();
        var at = 0;
        foreach (var piece in pieces)
        {
            var offset = (piece.StartTicks - first.StartTicks) / (double)TimeSpan.TicksPerSecond;
            foreach (var segment in piece.Segments) segments.Add(segment with { FirstIndex = at + segment.FirstIndex, StartSeconds = offset + segment.StartSeconds });
            at += piece.Count;
        }

        var channels = first.Channels;
        if (pieces.Count > 1)
        {
            channels = [.. channels.Select((channel, index) =>
            {
                var samples = new double[total];
                var to = 0;
                foreach (var piece in pieces)
                {
                    piece.Channels[index].Samples.CopyTo(samples.AsMemory(to));
                    to += piece.Count;
                }

                return channel with { Samples = samples };
            })];
        }

        DateTime? start = first.Start is null ? null : new DateTime(first.StartTicks, DateTimeKind.Unspecified);
        return new PqdifRecording(first.Name, new SampledRecording(channels, segments.ToImmutable(), first.NominalHertz, start));
    }

    /// <summary>Channels of one observation that were sampled together.</summary>
    internal sealed record Piece(
        int Source, string Name, DateTime? Start, long UndatedTicks, double Zero, double? NominalHertz, ImmutableArray<uint> Definitions,
        ImmutableArray<SampledChannel> Channels, List<RateSegment> Segments, int Count)
    {
        /// <summary>Where its observation is; null when nobody asked.</summary>
        public PqdifPlace? Place { get; init; }

        /// <summary>Its number among the pieces of its observation.</summary>
        public int Part { get; init; }

        public long StartTicks => (Start?.Ticks ?? UndatedTicks) + (long)Math.Round(Zero * TimeSpan.TicksPerSecond);
    }
}

/// <summary>Where an observation is, and what it is read with.</summary>
/// <param name="Offset">Its record in the file.</param>
/// <param name="Source">The data source it belongs to.</param>
/// <param name="Settings">The settings it belongs to.</param>
internal sealed record PqdifPlace(long Offset, PqdifDataSource Source, PqdifSettings Settings);
