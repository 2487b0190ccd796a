using System.Collections.Immutable;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity;
using Leadwright.Core.Mending.Answers;

namespace Leadwright.Core.Mending;

/// <summary>A finding of the guard that a person does not accept: the mending then goes on as if it had not been found.</summary>
/// <remarks>What rests on it goes with it: where a lead is taken to have been on after all, nothing is rebuilt in its place.</remarks>
/// <param name="Kind">What would be corrected.</param>
/// <param name="Leads">The leads concerned.</param>
/// <param name="Clamps">The clamps concerned.</param>
/// <param name="From">Start of the correction.</param>
/// <param name="To">Its end.</param>
public sealed record WithdrawnFinding(CorrectionKind Kind, ImmutableArray<Lead> Leads, ImmutableArray<Clamp> Clamps, DateTime From, DateTime To)
{
    /// <summary>True for corrections that follow from a finding which can be withdrawn. The others follow from those, or from rows that are missing.</summary>
    /// <param name="kind">The kind of correction.</param>
    public static bool CanBe(CorrectionKind kind) => kind is CorrectionKind.ClampReversed or CorrectionKind.ClampsExchanged or CorrectionKind.ClampsRotated
        or CorrectionKind.LeadsExchanged or CorrectionKind.NeutralLead or CorrectionKind.RatioWrong or CorrectionKind.ClampOpening or CorrectionKind.LeadOpen
        or CorrectionKind.OverRange;

    /// <summary>A guard's answer without some of its findings.</summary>
    /// <param name="guard">The answer.</param>
    /// <param name="withdrawn">What is not accepted.</param>
    /// <returns>The answer in which leads and clamps concerned are where they should be over the time concerned, and spans that say otherwise are gone.</returns>
    public static GuardReport TakeOut(GuardReport guard, IEnumerable<WithdrawnFinding> withdrawn)
    {
        ArgumentNullException.ThrowIfNull(guard);
        ArgumentNullException.ThrowIfNull(withdrawn);
        return withdrawn.Aggregate(guard, (report, finding) => finding.TakeOutOf(report));
    }

    private GuardReport TakeOutOf(GuardReport guard) => guard with
    {
        Timeline = new HookupTimeline([.. guard.Timeline.Pieces.Select(piece => Meets(piece.From, piece.To) ? piece with { Hookup = PutRight(piece.Hookup), Alternatives = [] } : piece)]),
        Spans = guard.Spans.RemoveAll(span => Meets(span.From, span.To) && SaysIt(span)),
    };

    private bool Meets(DateTime from, DateTime to) => from < To && to > From;

    private Hookup PutRight(Hookup hookup)
    {
        var clamps = hookup.Clamps;
        foreach (var clamp in Clamps.Where(clamps.ContainsKey)) clamps = clamps.SetItem(clamp, PutRight(clamp, clamps[clamp]));
        var leads = hookup.Leads;
        if (Kind is CorrectionKind.LeadsExchanged or CorrectionKind.NeutralLead or CorrectionKind.LeadOpen)
        {
            foreach (var lead in Leads.Where(leads.ContainsKey)) leads = leads.SetItem(lead, Service.HomeOf(lead));
        }

        return new Hookup(leads, clamps);
    }

    private ClampPlace PutRight(Clamp clamp, ClampPlace place) => Kind switch
    {
        CorrectionKind.ClampReversed => place with { Reversed = false },
        CorrectionKind.ClampsExchanged or CorrectionKind.ClampsRotated => place with { On = Service.HomeOf(clamp) },
        CorrectionKind.RatioWrong => place with { Scale = 1 },
        _ => place,
    };

    private bool SaysIt(GuardSpan span)
    {
        var isKind = Kind switch
        {
            CorrectionKind.ClampReversed => span.Kind == SpanKind.ClampReversed,
            CorrectionKind.ClampsExchanged or CorrectionKind.ClampsRotated => span.Kind is SpanKind.ClampsExchanged or SpanKind.ClampsRotated or SpanKind.ClampsOnSameConductor,
            CorrectionKind.LeadsExchanged => span.Kind is SpanKind.LeadsExchanged or SpanKind.RotationReversed,
            CorrectionKind.NeutralLead => span.Kind is SpanKind.NeutralOpen or SpanKind.NeutralExchanged,
            CorrectionKind.RatioWrong => span.Kind == SpanKind.RatioWrong,
            CorrectionKind.ClampOpening => span.Kind == SpanKind.ClampOpen && !span.Gain.IsEmpty,
            CorrectionKind.OverRange => span.Kind == SpanKind.OverRange,
            CorrectionKind.LeadOpen => span.Kind is SpanKind.LeadOpen or SpanKind.LeadOnNeutral or SpanKind.LeadsOnSameConductor,
            _ => false,
        };
        return isKind && (span.Leads.Any(lead => Leads.Contains(lead)) || span.Clamps.Any(clamp => Clamps.Contains(clamp)));
    }
}
