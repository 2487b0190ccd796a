using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity;
using Leadwright.Core.Wording;

namespace Leadwright.Reports.Guarding;

/// <summary>Says of a span what is to be done about it: what Mend can do with the readings, and what to put right on the site where it may still be so.</summary>
/// <remarks>It says what to change. How, and whether live parts are near, is for those who are qualified and for the site's rules, and each screen and document that shows it says so in its own place.</remarks>
public static class SpanAdvice
{
    /// <summary>What to do about a span of a recording that is at hand.</summary>
    /// <param name="span">The span.</param>
    /// <param name="report">The answer that it is of: what lasts to the recording's end may still be so on the site.</param>
    /// <returns>One or two sentences; empty for what is no fault of the recording, and for what was over and can't be mended.</returns>
    public static string Of(GuardSpan span, GuardReport report)
    {
        ArgumentNullException.ThrowIfNull(span);
        ArgumentNullException.ThrowIfNull(report);
        if (span.IsDoubtful) return Say.Of("do.in-doubt", "It is in doubt: look before anything is moved.");
        var mends = IsEitherSide(span, report) ? Say.Of("do.either-ratio", "Which of the two ratios was right does not show in the readings: hold Mend's figure against the clamps' settings before you use it.") : Mends(span);
        var what = WhatOnSite(span);
        return span.To < report.To || what.Length == 0 ? mends : $"{mends} {Say.Of("do.if-still-there", "If the recorder still hangs there, under the site's rules: {what}.", ("what", what))}".Trim();
    }

    /// <summary>What to put right on the site while it lasts.</summary>
    /// <param name="span">The span.</param>
    /// <returns>A sentence; empty for what nobody can put right there, as an outage.</returns>
    public static string OnSite(GuardSpan span)
    {
        ArgumentNullException.ThrowIfNull(span);
        var what = WhatOnSite(span);
        return what.Length == 0 ? "" : Say.Of("do.on-site", "Under the site's rules: {what}.", ("what", what));
    }

    private static string WhatOnSite(GuardSpan span)
    {
        var leads = string.Join(", ", span.Leads);
        var clamps = string.Join(", ", span.Clamps);
        return span.Kind switch
        {
            SpanKind.ClampReversed => Say.Of("do.turn-round", "turn {clamps} round, arrow to the load", ("clamps", clamps)),
            SpanKind.ClampOpen => Say.Of("do.close-jaw", "close the jaw of {clamps} round its own conductor", ("clamps", clamps)),
            SpanKind.ClampsExchanged or SpanKind.ClampsRotated or SpanKind.ClampsOnSameConductor or SpanKind.ClampOnNeutral =>
                span.Clamps.Length == 1 ? Say.Of("do.clamp-home", "put {clamps} back round its own conductor", ("clamps", clamps)) : Say.Of("do.clamps-home", "put {clamps} back, each round its own conductor", ("clamps", clamps)),
            SpanKind.LeadOpen or SpanKind.NeutralOpen => span.Leads.Length < 2 ? Say.Of("do.clip-lead", "clip {leads} firmly on its own conductor", ("leads", leads.Length > 0 ? leads : "VN")) : Say.Of("do.clip-leads", "clip {leads} firmly, each on its own conductor", ("leads", leads)),
            SpanKind.LeadsExchanged or SpanKind.LeadOnNeutral or SpanKind.LeadsOnSameConductor or SpanKind.NeutralExchanged =>
                span.Leads.Length == 1 ? Say.Of("do.lead-home", "put {leads} back on its own conductor", ("leads", leads)) : Say.Of("do.leads-home", "put {leads} back, each on its own conductor", ("leads", leads)),
            SpanKind.RatioWrong => Say.Of("do.set-ratio", "hold the ratio and range set for {clamps} against the clamp itself, and set them again", ("clamps", clamps)),
            SpanKind.OverRange => Say.Of("do.larger-range", "set a larger range for {channels}", ("channels", clamps.Length > 0 ? clamps : leads)),
            SpanKind.NoData => Say.Of("do.look-at-supply", "look at the recorder's own supply and its memory"),
            SpanKind.Stuck => Say.Of("do.look-at-recorder", "look whether the recorder still runs, and at its plugs"),
            SpanKind.RotationReversed => Say.Of("do.look-at-rotation", "look again at the rotation indicator, and at which lead is on which conductor"),
            SpanKind.ServiceMismatch => Say.Of("do.read-nameplate", "read the nameplate, and state the service again"),
            _ => "",
        };
    }

    // One leap of all clamps at once, and nothing on its other side: the mending leaves it open too.
    private static bool IsEitherSide(GuardSpan span, GuardReport report)
    {
        if (span.Kind != SpanKind.RatioWrong || (span.From <= report.From) == (span.To >= report.To) || report.Timeline.Pieces.IsEmpty) return false;
        var clamps = report.Timeline.At(span.From + (span.Length / 2)).Hookup.Clamps;
        return !clamps.ContainsKey(Clamp.IN) && clamps.Values.Select(place => place.Scale).Distinct().Count() == 1;
    }

    private static string Mends(GuardSpan span) => span.Kind switch
    {
        SpanKind.ClampReversed or SpanKind.RatioWrong => Say.Of("do.mend-puts-right", "Mend puts the readings right."),
        SpanKind.ClampsExchanged or SpanKind.ClampsRotated or SpanKind.LeadsExchanged or SpanKind.NeutralExchanged or SpanKind.NeutralOpen =>
            Say.Of("do.mend-puts-back", "Mend puts the readings back to their conductors, as far as what was written allows."),
        SpanKind.LeadOpen or SpanKind.LeadOnNeutral or SpanKind.LeadsOnSameConductor or SpanKind.ClampOpen or SpanKind.ClampsOnSameConductor or SpanKind.ClampOnNeutral or SpanKind.Stuck or SpanKind.OverRange or SpanKind.NoData =>
            Say.Of("do.mend-estimates", "Mend estimates what was not read, and says how surely."),
        SpanKind.ClockJump => Say.Of("do.mend-clock", "Mend counts no time twice and none as missing."),
        _ => "",
    };
}
