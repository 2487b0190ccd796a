using System.Collections.Immutable;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Integrity.Pieces;

/// <summary>The share of the time over which each channel told the truth, or what can be set right exactly.</summary>
internal static class UsableShares
{
    public static ImmutableSortedDictionary<Channel, double> Of(GuardFrame frame, ImmutableArray<GuardSpan> spans)
    {
        var shares = ImmutableSortedDictionary.CreateBuilder<Channel, double>();
        var whole = (frame.Log.To - frame.Log.From).Ticks;
        if (whole <= 0) return shares.ToImmutable();
        for (var index = 0; index < frame.Lines; index++)
        {
            if (frame.Volts[index] is null) continue;
            Lead[] leads = frame.IsPairs ? [(Lead)index, (Lead)((index + 1) % 3)] : [(Lead)index, Lead.VN];
            shares[(frame.IsPairs ? Channel.V12 : Channel.V1) + index] = Share(span =>
                span.Kind == SpanKind.NoData || (TakesLead(span.Kind) && span.Leads.Any(leads.Contains)));
        }

        for (var index = 0; index < 4; index++)
        {
            if (frame.Amperes[index] is null) continue;
            shares[Channel.I1 + index] = Share(span =>
                span.Kind == SpanKind.NoData || (TakesClamp(span) && span.Clamps.Contains((Clamp)index)));
        }

        return shares.ToImmutable();

        double Share(Func<GuardSpan, bool> takes)
        {
            long lost = 0, end = long.MinValue;
            foreach (var span in spans)
            {
                if (span.IsDoubtful || !takes(span)) continue;
                var from = Math.Max(span.From.Ticks, end);
                lost += Math.Max(0, span.To.Ticks - from);
                end = Math.Max(end, span.To.Ticks);
            }

            return Math.Clamp(1 - ((double)lost / whole), 0, 1);
        }
    }

    // An outage is the truth; an exchange and a turn are put right by arithmetic.
    private static bool TakesLead(SpanKind kind) =>
        kind is SpanKind.LeadOpen or SpanKind.LeadOnNeutral or SpanKind.LeadsOnSameConductor or SpanKind.NeutralOpen or SpanKind.NeutralExchanged
            or SpanKind.Stuck or SpanKind.OverRange;

    private static bool TakesClamp(GuardSpan span) =>
        span.Kind is SpanKind.ClampOpen or SpanKind.ClampOnNeutral or SpanKind.ClampsOnSameConductor or SpanKind.Stuck or SpanKind.OverRange;
}
