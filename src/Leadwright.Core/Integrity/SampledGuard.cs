using System.Collections.Immutable;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity.Samples;
using Leadwright.Core.Signals;

namespace Leadwright.Core.Integrity;

/// <summary>Tells, over a sampled recording, when each lead, each clamp and the recorder itself stopped telling the truth, to the half cycle.</summary>
/// <remarks>The recording is reduced to one row each half cycle and guarded by the same relations as a log of intervals: see
/// <see cref="IntervalGuard"/>. The last cycle before a change and the first after it overlap, so that an edge is known to half a cycle either way.</remarks>
public static class SampledGuard
{
    private const int FewTops = 6;

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
        Judge(HalfCycleLog.RowsOf(recording, map, hertz, cancellation), options, cancellation);

    /// <summary>Guards a recording of any length whose rows were gathered part by part.</summary>
    /// <param name="rows">The rows, all of them.</param>
    /// <param name="options">What is known of the site.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <returns>Spans, the hook-up's history, and the usable share of each channel.</returns>
    public static GuardReport Judge(HalfCycleRows rows, GuardOptions options, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(rows);
        var log = rows.ToSettledLog();
        return IntervalGuard.Judge(log, options, OfSamples(rows, log.To), cancellation);
    }

    /// <summary>The stretches in which a channel's waves are cut off flat, or its samples stand still.</summary>
    private static List<GuardSpan> OfSamples(HalfCycleRows rows, DateTime end)
    {
        var spans = new List<GuardSpan>();
        for (var index = 0; index < rows.Channels.Length; index++)
        {
            var channel = rows.Channels[index];
            ImmutableArray<Lead> leads = channel switch
            {
                >= Channel.I1 => [],
                >= Channel.V12 => [.. new[] { (Lead)(channel - Channel.V12), (Lead)((channel - Channel.V12 + 1) % 3) }.Order()],
                _ => [(Lead)(channel - Channel.V1)],
            };
            ImmutableArray<Clamp> clamps = channel >= Channel.I1 ? [(Clamp)(channel - Channel.I1)] : [];
            // Two or three tops may be chance; a hundred are not.
            foreach (var found in rows.CutTopsOf(index)) Add(SpanKind.OverRange, found, SpanRelation.WavesCutFlat, found.Tops < FewTops ? 0.9 : 0.99);
            foreach (var (found, isAtEnd) in rows.StillOf(index)) Add(isAtEnd ? SpanKind.OverRange : SpanKind.Stuck, found, SpanRelation.ValueRepeated, 0.99);

            void Add(SpanKind kind, CutTops.Found found, SpanRelation relation, double confidence) => spans.Add(new GuardSpan(
                kind, leads, clamps, new DateTime(found.From), new DateTime(Math.Min(found.To, end.Ticks)), confidence,
                new SpanFinding(relation, Math.Min(20, 2.0 * found.Tops)) { Within = found.Level, Intervals = found.Tops }));
        }

        return spans;
    }
}
