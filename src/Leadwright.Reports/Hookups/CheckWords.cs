using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Wording;

namespace Leadwright.Reports.Hookups;

/// <summary>The words that stand for enumerated values in commands and files.</summary>
public static class CheckWords
{
    /// <summary><c>correct</c>, <c>faulty</c> or <c>undecided</c>.</summary>
    public static string Of(Verdict verdict) => Hyphenated(verdict.ToString());

    /// <summary>The kind in lower case with hyphens, such as <c>clamps-exchanged</c>.</summary>
    public static string Of(FaultKind kind) => Hyphenated(kind.ToString());

    /// <summary>The kind in lower case with hyphens, such as <c>voltage-geometry</c>.</summary>
    public static string Of(EvidenceKind kind) => Hyphenated(kind.ToString());

    /// <summary><c>agrees</c>, <c>contradicts</c> or <c>not-used</c>.</summary>
    public static string Of(Core.Hookups.Settling.ToldStanding standing) => Hyphenated(standing.ToString());

    /// <summary><c>abc</c>, <c>acb</c> or <c>unknown</c>.</summary>
    public static string Of(Rotation rotation) => Hyphenated(rotation.ToString());

    /// <summary>The rotation in a sentence: <c>A-B-C</c>; null when it is not known.</summary>
    public static string? InSentence(Rotation rotation) => rotation switch
    {
        Rotation.Abc => "A-B-C",
        Rotation.Acb => "A-C-B",
        _ => null,
    };

    /// <summary>The service in a sentence, such as <c>three-phase four-wire (wye)</c>.</summary>
    public static string InSentence(ServiceKind service) => service switch
    {
        ServiceKind.Wye => Say.Of("service.three-phase-four-wire-wye", "three-phase four-wire (wye)"),
        ServiceKind.Delta => Say.Of("service.three-phase-three-wire-delta", "three-phase three-wire (delta), three clamps"),
        ServiceKind.DeltaTwoClamp => Say.Of("service.three-phase-three-wire-delta-2", "three-phase three-wire (delta), two clamps"),
        ServiceKind.HighLeg => Say.Of("service.three-phase-four-wire-delta", "three-phase four-wire delta (high leg)"),
        ServiceKind.Split => Say.Of("service.single-phase-three-wire-split", "single-phase three-wire (split)"),
        ServiceKind.Network => Say.Of("service.two-lines-and-neutral-of", "two lines and neutral of a wye (network)"),
        ServiceKind.Single => Say.Of("service.single-phase-two-wire-single", "single-phase two-wire (single)"),
        _ => Service.Of(service).Name,
    };

    private static string Hyphenated(string name)
    {
        var text = new System.Text.StringBuilder(name.Length + 4);
        foreach (var letter in name)
        {
            if (char.IsAsciiLetterUpper(letter) && text.Length > 0) text.Append('-');
            text.Append(char.ToLowerInvariant(letter));
        }

        return text.ToString();
    }
}
