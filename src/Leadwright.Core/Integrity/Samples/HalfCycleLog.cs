using Leadwright.Core.Hookups;
using Leadwright.Core.Logs;
using Leadwright.Core.Signals;

namespace Leadwright.Core.Integrity.Samples;

/// <summary>Reduces a sampled recording to a log with one row each half cycle.</summary>
/// <remarks>
/// Each row covers one cycle and starts half a cycle after the row before, so that a change shows within half a cycle (the refreshed one-cycle
/// rms of IEC 61000-4-30 clause 3, from memory; its cycles start at zero crossings, these at equal steps of one frequency, since
/// currents, which have other zero crossings, are reduced beside them). Volts and amperes are rms values of all that there is; watts are the mean
/// of the products; vars those of the fundamental, positive for a lagging load.
/// </remarks>
public static class HalfCycleLog
{
    /// <summary>Reduces the waveform stretches of a recording.</summary>
    /// <param name="recording">The recording, V and A in base units.</param>
    /// <param name="map">Which of the recording's channels is which, by index; V1 to V3 and I1 to IN are used.</param>
    /// <param name="hertz">The fundamental frequency, as measured; above zero.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <returns>The log; its times count from the recording's start as stated, or from the first of January of the year 1.</returns>
    public static IntervalLog Of(
        SampledRecording recording, IReadOnlyDictionary<Channel, int> map, double hertz, CancellationToken cancellation = default) =>
        RowsOf(recording, map, hertz, cancellation).ToLog();

    /// <summary>Gathers the rows of a recording.</summary>
    internal static HalfCycleRows RowsOf(SampledRecording recording, IReadOnlyDictionary<Channel, int> map, double hertz, CancellationToken cancellation)
    {
        ArgumentNullException.ThrowIfNull(recording);
        ArgumentNullException.ThrowIfNull(map);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(hertz);
        var rows = new HalfCycleRows([.. map.Keys], hertz, recording.Start, int.MaxValue);
        ReadOnlyMemory<double>[] samples = [.. rows.Channels.Select(channel => recording.Channels[map[channel]].Samples)];
        foreach (var stretch in Stretch.Join(recording.Segments, 8 * hertz))
        {
            rows.Begin(stretch.StartSeconds);
            rows.Add(stretch, samples, isWhole: true, cancellation);
        }

        return rows;
    }
}
