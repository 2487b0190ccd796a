using System.Collections.Immutable;
using Leadwright.Core.Logs;

namespace Leadwright.Formats.Pqdif;

/// <summary>Phases; codes of the standard.</summary>
internal static class PqdifPhase
{
    public const uint None = 0, An = 1, Bn = 2, Cn = 3, Ng = 4, Ab = 5, Bc = 6, Ca = 7, Residual = 8, Net = 9, Total = 13;

    // Code, name, what a recording's channel is marked with.
    private static readonly ImmutableArray<(uint Code, string Name, string Mark)> s_all =
    [
        (An, "AN", "A"), (Bn, "BN", "B"), (Cn, "CN", "C"), (Ng, "NG", "N"), (Ab, "AB", "AB"), (Bc, "BC", "BC"), (Ca, "CA", "CA"),
        (Residual, "RES", "RES"), (Net, "NET", "NET"), (Total, "TOTAL", "TOTAL"), (14, "LN_AVE", "LN_AVE"), (15, "LL_AVE", "LL_AVE"), (16, "WORST", "WORST"),
        (17, "PLUS", "PLUS"), (18, "MINUS", "MINUS"),
    ];

    /// <summary>The standard's name; empty for none.</summary>
    public static string NameOf(uint code) => code switch
    {
        None => "",
        >= 19 and <= 34 => FormattableString.Invariant($"GENERAL_{code - 18}"),
        _ => s_all.FirstOrDefault(phase => phase.Code == code).Name ?? FormattableString.Invariant($"phase {code}"),
    };

    /// <summary>What a channel of a recording is marked with; empty for none.</summary>
    public static string MarkOf(uint code) => s_all.FirstOrDefault(phase => phase.Code == code).Mark ?? NameOf(code);

    /// <summary>The phase of a channel's mark in a recording, such as A, L1, AN or AB; null when it says nothing.</summary>
    public static uint? Of(string mark)
    {
        var text = mark.Trim().ToUpperInvariant().Replace("-", "", StringComparison.Ordinal);
        foreach (var phase in s_all)
        {
            if (text == phase.Name || text == phase.Mark) return phase.Code;
        }

        return text switch
        {
            "" => None,
            "1" or "L1" or "R" or "L1N" => An,
            "2" or "L2" or "S" or "L2N" => Bn,
            "3" or "L3" or "T" or "L3N" => Cn,
            "12" or "L12" or "L1L2" or "RS" => Ab,
            "23" or "L23" or "L2L3" or "ST" => Bc,
            "31" or "L31" or "L3L1" or "TR" => Ca,
            _ => text.StartsWith("GENERAL_", StringComparison.Ordinal) && uint.TryParse(text.AsSpan(8), out var number) && number is >= 1 and <= 16 ? number + 18 : null,
        };
    }

    /// <summary>The place in a log; null for phases that logs don't have.</summary>
    public static LogPlace? PlaceOf(uint code) => code switch
    {
        None or Total => LogPlace.Whole,
        An => LogPlace.Phase1,
        Bn => LogPlace.Phase2,
        Cn => LogPlace.Phase3,
        Ng => LogPlace.Neutral,
        Ab => LogPlace.Pair12,
        Bc => LogPlace.Pair23,
        Ca => LogPlace.Pair31,
        _ => null,
    };

    /// <summary>The phase of a place in a log.</summary>
    /// <param name="place">The place.</param>
    /// <param name="whole">What stands for the whole service.</param>
    public static uint Of(LogPlace place, uint whole) => place switch
    {
        LogPlace.Phase1 => An,
        LogPlace.Phase2 => Bn,
        LogPlace.Phase3 => Cn,
        LogPlace.Neutral => Ng,
        LogPlace.Pair12 => Ab,
        LogPlace.Pair23 => Bc,
        LogPlace.Pair31 => Ca,
        _ => whole,
    };
}
