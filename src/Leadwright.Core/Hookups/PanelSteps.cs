using System.Collections.Immutable;
using Leadwright.Core.Signals;
using Leadwright.Core.Signals.Steps;

namespace Leadwright.Core.Hookups;

/// <summary>The load-switching steps of a recording, its channels known by what they are connected to.</summary>
/// <param name="Channels">The channels, in the order of the steps' changes.</param>
/// <param name="Steps">The steps.</param>
public sealed record PanelSteps(ImmutableArray<Channel> Channels, SwitchingSteps Steps)
{
    /// <summary>Finds the steps in a sampled recording.</summary>
    /// <param name="recording">The recording, V and A in base units.</param>
    /// <param name="map">Which of the recording's channels is which; by index.</param>
    /// <param name="hertz">The fundamental frequency, as measured.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <returns>The steps; null where the recording is too short to have any.</returns>
    public static PanelSteps? Find(
        SampledRecording recording, IReadOnlyDictionary<Channel, int> map, double hertz, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(recording);
        ArgumentNullException.ThrowIfNull(map);
        var ordered = map.OrderBy(pair => pair.Key).ToArray();
        ReadOnlyMemory<double>[] samples = [.. ordered.Select(pair => recording.Channels[pair.Value].Samples)];
        double[] skews = [.. ordered.Select(pair => recording.Channels[pair.Value].SkewSeconds)];
        var stretch = Stretch.Join(recording.Segments, SnapshotPhasors.LeastSamplesPerCycle * hertz * 0.999)
            .MaxBy(part => part.DurationSeconds);
        if (stretch is null) return null;
        var phasors = CyclePhasors.Measure(samples, skews, stretch, hertz, cancellation);
        return Find(phasors, [.. ordered.Select(pair => pair.Key)]);
    }

    /// <summary>Finds the steps in phasors cycle by cycle.</summary>
    /// <param name="phasors">The phasors.</param>
    /// <param name="channels">Their channels.</param>
    /// <returns>The steps; null where there is no cycle.</returns>
    public static PanelSteps? Find(CyclePhasors phasors, ImmutableArray<Channel> channels)
    {
        ArgumentNullException.ThrowIfNull(phasors);
        ImmutableArray<SignalKind> kinds = [.. channels.Select(channel => channel < Channel.I1 ? SignalKind.Voltage : SignalKind.Current)];
        return phasors.Count == 0 ? null : new PanelSteps(channels, StepSearch.Find(phasors, kinds));
    }
}
