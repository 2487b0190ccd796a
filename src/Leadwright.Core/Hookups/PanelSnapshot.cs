using System.Collections.Immutable;
using Leadwright.Core.Circuits;
using Leadwright.Core.Signals;

namespace Leadwright.Core.Hookups;

/// <summary>A snapshot whose channels are known by what they are connected to.</summary>
/// <param name="Snapshot">The snapshot as measured.</param>
/// <param name="Channels">Its channels by their names.</param>
/// <param name="VoltageSumFraction">Rms of V1 + V2 + V3 sample by sample over their mean rms; null unless all three are
/// there and alive.</param>
public sealed record PanelSnapshot(
    Snapshot Snapshot, ImmutableSortedDictionary<Channel, ChannelSnapshot> Channels, double? VoltageSumFraction)
{
    /// <summary>The load-switching steps of the whole recording; null where it is too short for any.</summary>
    public PanelSteps? Steps { get; init; }

    /// <summary>Measures a recording.</summary>
    /// <param name="recording">The recording, V and A in base units.</param>
    /// <param name="map">Which of the recording's channels is which; by index.</param>
    /// <param name="options">How to measure.</param>
    /// <param name="refusal">Why there is none; <see cref="SnapshotRefusal.None"/> when there is.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <returns>The snapshot; null when it was refused.</returns>
    /// <exception cref="ArgumentOutOfRangeException">An index is not in the recording, or an option is out of range.</exception>
    public static PanelSnapshot? Measure(
        SampledRecording recording, IReadOnlyDictionary<Channel, int> map, SnapshotOptions options, out SnapshotRefusal refusal,
        CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(map);
        // The order of the names puts V1 first, which so becomes the reference.
        var ordered = map.OrderBy(pair => pair.Key).ToArray();
        (var snapshot, refusal) = SnapshotPhasors.Measure(
            recording, [.. ordered.Select(pair => new SignalChoice(pair.Value, KindOf(pair.Key)))], options);
        if (snapshot is null) return null;
        var channels = ordered.Select((pair, index) => KeyValuePair.Create(pair.Key, snapshot.Channels[index])).ToImmutableSortedDictionary();
        return new PanelSnapshot(snapshot, channels, SumFraction(recording, snapshot.Span, channels))
        {
            // A clamp beyond its range shows less of a step than there is.
            Steps = !options.FindsSteps || channels.Any(entry => entry.Value.IsClipped) ? null : PanelSteps.Find(recording, map, snapshot.FrequencyHertz, cancellation),
        };
    }

    /// <summary>The snapshot as readings for the check.</summary>
    /// <param name="service">The service as stated.</param>
    /// <param name="nominal">The nominal voltages; null when they were not stated.</param>
    /// <returns>Readings with the fundamentals as sizes, positive angles leading, all from one reference, with their spreads.
    /// A dead channel has the rms of its noise and no angle; a missing one is left out. Powers are not filled in: they
    /// follow from the phasors and would count the same evidence twice.</returns>
    public PanelReadings ToReadings(ServiceKind service, NominalVoltage? nominal) => new()
    {
        Service = service,
        Nominal = nominal,
        FrequencyHertz = Snapshot.FrequencyHertz < 55 ? 50 : 60,
        AngleSign = AngleSign.LeadPositive,
        CurrentAngleReference = CurrentAngleReference.Common,
        Channels = Channels
            .Where(pair => !pair.Value.IsMissing)
            .ToImmutableSortedDictionary(pair => pair.Key, pair => Reading(pair.Value)),
        VoltageSumFraction = service == ServiceKind.Wye ? VoltageSumFraction : null,
        Steps = Steps,
        Harmonics = Channels
            .Where(pair => !pair.Value.IsMissing && !pair.Value.IsDead)
            .ToImmutableSortedDictionary(pair => pair.Key, pair => new HarmonicReading(pair.Value.Harmonics, pair.Value.HarmonicSpread)),
    };

    private static SignalKind KindOf(Channel channel) => channel < Channel.I1 ? SignalKind.Voltage : SignalKind.Current;

    private static ChannelReading Reading(ChannelSnapshot channel) => channel.IsDead
        ? new ChannelReading(Math.Sqrt(Math.Max(0, (channel.TrueRms * channel.TrueRms) - (channel.Direct * channel.Direct))), null, channel.Spread)
        : new ChannelReading(channel.Phasor.Magnitude, channel.Phasor.AngleDegrees, channel.Spread);

    private static double? SumFraction(
        SampledRecording recording, Stretch span, ImmutableSortedDictionary<Channel, ChannelSnapshot> channels)
    {
        if (!channels.TryGetValue(Channel.V1, out var first) || !channels.TryGetValue(Channel.V2, out var second)
            || !channels.TryGetValue(Channel.V3, out var third))
            return null;
        if (first.IsMissing || second.IsMissing || third.IsMissing) return null;
        var sources = new[] { first, second, third }.Select(channel => recording.Channels[channel.Index]).ToArray();
        var fraction = sources.All(source => source.SkewSeconds == sources[0].SkewSeconds)
            ? SampleSum.RmsFraction(Samples(sources[0], span), Samples(sources[1], span), Samples(sources[2], span))
            : PhasorSumFraction(first, second, third);
        return double.IsNaN(fraction) ? null : fraction;
    }

    private static ReadOnlySpan<double> Samples(SampledChannel channel, Stretch span) =>
        channel.Samples.Span.Slice(span.FirstIndex, span.Length);

    // Channels sampled at different instants can't be added sample by sample; their corrected phasors can.
    private static double PhasorSumFraction(ChannelSnapshot first, ChannelSnapshot second, ChannelSnapshot third)
    {
        double square = 0;
        for (var index = 0; index < first.Harmonics.Length; index++)
            square += (first.Harmonics[index] + second.Harmonics[index] + third.Harmonics[index]).SquaredMagnitude;
        return 3 * Math.Sqrt(square) / (first.TrueRms + second.TrueRms + third.TrueRms);
    }
}
