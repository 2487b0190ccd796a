using System.Collections.Immutable;
using Leadwright.Core.Wording;

namespace Leadwright.Reports.Hookups;

/// <summary>The cautions that go with every verdict, on screens, in texts and in reports.</summary>
/// <remarks>
/// Sources: 29 CFR 1910.333(a)(1) (de-energise first) and 1910.334(c) (qualified persons test); DOE-HDBK-1092-2004, 2.13.4.6
/// (rated and inspected instruments); IEC 61010-1 and 61010-2-030 (measurement categories). Standing aside at a cover or a
/// switch: common practice, no source.
/// </remarks>
public static class Cautions
{
    /// <summary>The caution in one line.</summary>
    public static string Line => Say.Of("caution.only-qualified-persons",
        "Only qualified persons move leads and clamps, under the site's rules and permits; de-energise first where possible.");

    /// <summary>The caution in full, one sentence each.</summary>
    public static ImmutableArray<string> Full =>
    [
        Line,
        Say.Of("caution.risk-assessment", "Risk assessment and protective equipment for shock and arc flash come first; stand aside when opening and closing."),
        Say.Of("caution.recorder-leads-and-clamps", "Recorder, leads and clamps must be sound, and rated (CAT and volts) for the place."),
        Say.Of("caution.nothing-here-overrides", "Nothing here overrides local codes or a licensed person's judgement."),
    ];
}
