using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity.Samples;
using Leadwright.Core.Signals;

namespace Leadwright.Core.Integrity;

/// <summary>Tells, over a sampled recording, when each lead, each clamp and the recorder itself stopped telling the truth, to the half cycle.</summary>
/// <remarks>The recording is reduced to one row each half cycle and guarded by the same relations as a log of intervals: see
/// <see cref="IntervalGuard"/>. The last cycle before a change and the first after it overlap, so that an edge is known to half a cycle either way.</remarks>
public static class SampledGuard
{
    /// <summary>Guards a recording held in memory.</summary>
    /// <param name="recording">The recording, V and A in base units.</param>
    /// <param name="map">Which of the recording's channels is which; by index.</param>
    /// <param name="hertz">The fundamental frequency, as measured.</param>
    /// <param name="options">What is known of the site.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <returns>Spans, the hook-up's history, and the usable share of each channel.</returns>
    public static GuardReport Judge(
        SampledRecording recording, IReadOnlyDictionary<Channel, int> map, double hertz, GuardOptions options,
        CancellationToken cancellation = default) =>
        IntervalGuard.Judge(HalfCycleLog.Of(recording, map, hertz, cancellation), options, cancellation);
}
