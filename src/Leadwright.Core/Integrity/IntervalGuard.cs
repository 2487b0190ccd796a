using System.Collections.Immutable;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity.Pieces;
using Leadwright.Core.Integrity.Recorder;
using Leadwright.Core.Integrity.Relations;
using Leadwright.Core.Logs;

namespace Leadwright.Core.Integrity;

/// <summary>Tells, over a whole log of intervals, when each lead, each clamp and the recorder itself stopped telling the truth.</summary>
/// <remarks>
/// Every row says how likely it is under each thing that the voltages, the power of each channel and each clamp may be doing; the likeliest
/// history of each is found at a cost for every change. Where a history changes a piece ends; what the pieces mean follows from the fewest
/// movements of leads and clamps that explain all relations between them, and from what the hook-up check says of the longest. Derivation:
/// docs/methods/guard.md. Measured on virtual weeks: docs/methods/guard-accuracy.md. Time grows with the number of rows. Thread-safe.
/// </remarks>
public static class IntervalGuard
{
    /// <summary>Guards a log.</summary>
    /// <param name="log">The log, base units.</param>
    /// <param name="options">What is known of the site.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <returns>Spans, the hook-up's history, and the usable share of each channel. The same input gives the same answer.</returns>
    public static GuardReport Judge(IntervalLog log, GuardOptions options, CancellationToken cancellation = default) => Judge(log, options, null, cancellation);

    /// <summary>Guards a log that was made of samples.</summary>
    /// <param name="log">The log, base units.</param>
    /// <param name="options">What is known of the site.</param>
    /// <param name="ofSamples">Where the samples themselves show a channel at the end of its range or stuck; null for a log of intervals, where the course of the values must tell.</param>
    /// <param name="cancellation">Stops the work.</param>
    internal static GuardReport Judge(IntervalLog log, GuardOptions options, IReadOnlyList<GuardSpan>? ofSamples, CancellationToken cancellation)
    {
        ArgumentNullException.ThrowIfNull(log);
        ArgumentNullException.ThrowIfNull(options);
        if (log.Count == 0)
        {
            return new GuardReport(
                default, default, [], HookupTimeline.Empty, ImmutableSortedDictionary<Channel, double>.Empty, [GuardNoteKind.TooFewIntervals]);
        }

        if (HighLegNames.Find(log, options, cancellation) is { } names)
        {
            IReadOnlyList<GuardSpan>? renamed = ofSamples is null ? null : [.. ofSamples.Select(span => span with { Leads = names.Renamed(span.Leads), Clamps = names.Renamed(span.Clamps) })];
            return names.Renamed(Judged(names.Renamed(log), names.Renamed(options), renamed, cancellation));
        }

        return Judged(log, options, ofSamples, cancellation);
    }

    private static GuardReport Judged(IntervalLog log, GuardOptions options, IReadOnlyList<GuardSpan>? ofSamples, CancellationToken cancellation)
    {
        var frame = GuardFrame.Of(log, options);
        var spans = GapFinder.Find(frame);
        var firstStuck = spans.Count;
        var held = ofSamples is null ? HeldTop.Find(frame) : [];
        if (ofSamples is null) StuckFinder.Find(frame, spans);
        else spans.AddRange(ofSamples);
        HeldTop.Put(frame, held, spans);
        frame.Blank(spans.Skip(firstStuck).Where(span => span.Kind == SpanKind.Stuck || span.Finding.Relation == SpanRelation.ValueRepeated));
        var chained = Chained.Of(frame, cancellation);
        if (ofSamples is null) FlatTopFinder.Find(frame, spans, chained.Currents);
        DriftFinder.Find(chained, chained.Pieces(), spans, cancellation);
        var pieces = chained.Pieces();
        var maker = new TimelineMaker(chained, cancellation);
        var judged = maker.Judge(pieces);
        DriftFinder.DropWithin(frame, judged, spans);
        FaultSpans.OfHookups(chained, judged, spans);
        FaultSpans.OfSupply(chained, pieces, spans);
        if (ofSamples is null) CutWaveFinder.Find(frame, spans, cancellation);
        ImmutableArray<GuardSpan> ordered = [.. spans.OrderBy(span => span.From).ThenBy(span => span.Kind)];
        return new GuardReport(log.From, log.To, ordered, maker.Timeline(judged), UsableShares.Of(frame, ordered), Notes(frame, maker));
    }

    private static ImmutableArray<GuardNoteKind> Notes(GuardFrame frame, TimelineMaker maker)
    {
        var notes = ImmutableArray.CreateBuilder<GuardNoteKind>();
        if (!frame.HasVolts) notes.Add(GuardNoteKind.NoVoltages);
        if (!frame.HasAmperes) notes.Add(GuardNoteKind.NoCurrents);
        if (!Array.Exists(frame.Watts, column => column is not null)) notes.Add(GuardNoteKind.NoPhasePowers);
        else if (!Array.Exists(frame.Vars, column => column is not null)) notes.Add(GuardNoteKind.NoVars);
        if (frame.Count < 12) notes.Add(GuardNoteKind.TooFewIntervals);
        if (maker.IsUndecided) notes.Add(GuardNoteKind.HookupUndecided);
        return notes.ToImmutable();
    }
}
