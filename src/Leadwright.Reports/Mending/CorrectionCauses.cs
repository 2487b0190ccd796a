using System.Collections.Immutable;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity;
using Leadwright.Core.Mending;
using Leadwright.Core.Mending.Answers;

namespace Leadwright.Reports.Mending;

/// <summary>Tells of which findings of the guard a correction is the consequence, and by which of their times people know it.</summary>
/// <remarks>The row in which a lead or clamp moved holds some of both hook-ups, so the mending begins a row early or ends a row late. The finding's
/// own time is that of the event: people are shown this one everywhere, and are told that the row beside it was rebuilt too.</remarks>
/// <param name="spans">What the guard found; empty where it is not at hand.</param>
/// <param name="interval">The length of a row.</param>
public sealed class CorrectionCauses(ImmutableArray<GuardSpan> spans, TimeSpan interval)
{
    private readonly ImmutableArray<GuardSpan> _spans = spans.IsDefault ? [] : [.. spans.Where(span => span.Kind != SpanKind.Outage)];

    /// <summary>The findings that a correction follows from; none for a correction that is itself the answer to a finding.</summary>
    /// <param name="correction">The correction.</param>
    public ImmutableArray<GuardSpan> Of(Correction correction)
    {
        ArgumentNullException.ThrowIfNull(correction);
        if (WithdrawnFinding.CanBe(correction.Kind)) return [];
        List<GuardSpan> possible = [.. _spans.Where(span => MayCause(span.Kind, correction.Kind) && span.From <= correction.To + interval && span.To >= correction.From - interval)];
        // The rows about a change follow from what changed there, and from nothing that went on.
        var changed = correction.To - correction.From > 2 * interval ? [] : possible.FindAll(span => IsWithin(span.From, correction) || IsWithin(span.To, correction));
        if (changed.Count > 0) return [.. changed];
        var ofPhase = possible.FindAll(span => IsOfPhase(span, correction));
        if (ofPhase.Count > 0) possible = ofPhase;
        // What only touches it at an end is another event.
        var within = possible.FindAll(span => Overlap(span, correction) > interval);
        return [.. within.Count > 0 ? within : possible];
    }

    /// <summary>The times of the event: those of the findings where a stretch ends within a row of them, else its own.</summary>
    /// <param name="from">Start of the stretch.</param>
    /// <param name="to">Its end.</param>
    public (DateTime From, DateTime To) EventOf(DateTime from, DateTime to)
    {
        var (shownFrom, shownTo) = (Nearest(from), Nearest(to));
        // Of the rows about a change alone nothing would be left.
        return shownFrom < shownTo ? (shownFrom, shownTo) : (from, to);
    }

    /// <summary>True where a stretch reaches over the row in which something changed: beyond the event, or about it alone.</summary>
    /// <param name="from">Start of the stretch.</param>
    /// <param name="to">Its end.</param>
    public bool HoldsChange(DateTime from, DateTime to) => Nearest(from) > from || Nearest(to) < to;

    private DateTime Nearest(DateTime time)
    {
        var nearest = time;
        var least = interval + TimeSpan.FromTicks(1);
        foreach (var edge in _spans.Where(span => span.Kind <= SpanKind.ServiceMismatch).SelectMany(span => (DateTime[])[span.From, span.To]))
        {
            var apart = (edge - time).Duration();
            if (apart >= least) continue;
            (nearest, least) = (edge, apart);
        }

        return nearest;
    }

    private static TimeSpan Overlap(GuardSpan span, Correction correction) =>
        (span.To < correction.To ? span.To : correction.To) - (span.From > correction.From ? span.From : correction.From);

    private static bool IsWithin(DateTime time, Correction correction) => time >= correction.From && time <= correction.To;

    private static bool MayCause(SpanKind finding, CorrectionKind correction) => correction switch
    {
        CorrectionKind.NoData => finding == SpanKind.NoData,
        CorrectionKind.ClockJump => finding == SpanKind.ClockJump,
        _ => finding is <= SpanKind.ServiceMismatch or SpanKind.Stuck or SpanKind.OverRange,
    };

    private static bool IsOfPhase(GuardSpan span, Correction correction) =>
        correction.Clamps.Any(clamp => span.Clamps.Contains(clamp) || span.Leads.Contains((Lead)(int)clamp)) || span.Leads.Contains(Lead.VN);
}
