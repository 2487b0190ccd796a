namespace Leadwright.Core.Hookups.Settling;

/// <summary>How often a person's answer is wrong, and what an action costs, by kind.</summary>
/// <remarks>Common practice, no source. What an instrument shows is read wrong in one case in fifty; who looks where a clamp or lead
/// sits sees what he expects in one case in twenty. Who misread the arrow once, so that all clamps face the source, misreads it
/// again in one case in five. A cost is stated in bits: how much more an action must tell to be asked for before a cheaper one.
/// Looking is cheap; touching live parts with a meter is dear. Page: docs/methods/settling.md.</remarks>
internal static class SettlingRates
{
    /// <summary>Chance that the arrow is misread where all clamps face the source.</summary>
    public const double ArrowMisreadThroughout = 0.2;

    /// <summary>Chance that an answer is wrong.</summary>
    public static double ErrorOf(SettlingKind kind) => kind switch
    {
        SettlingKind.Clamp or SettlingKind.Lead => 0.05,
        SettlingKind.Export => 0.04,
        SettlingKind.Arrow or SettlingKind.Contact => 0.03,
        SettlingKind.Watts or SettlingKind.Angles => 0.03,
        _ => 0.02,
    };

    /// <summary>Cost in bits.</summary>
    public static double CostOf(SettlingKind kind) => kind switch
    {
        SettlingKind.Watts or SettlingKind.Angles or SettlingKind.Export => 0.03,
        SettlingKind.Arrow or SettlingKind.Rotation => 0.05,
        SettlingKind.Clamp or SettlingKind.Lead => 0.06,
        SettlingKind.HandClamp => 0.08,
        SettlingKind.Switched => 0.10,
        SettlingKind.Contact => 0.11,
        SettlingKind.Meter or SettlingKind.Motor => 0.12,
        _ => 0,
    };

    /// <summary>Over how many answers a wrong one spreads.</summary>
    public static int AnswersOf(SettlingKind kind) => kind switch
    {
        SettlingKind.Clamp or SettlingKind.Lead => 5,
        SettlingKind.Meter or SettlingKind.Motor => 3,
        SettlingKind.HandClamp => 4,
        SettlingKind.Switched => 8,
        _ => 2,
    };
}
