using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;

namespace Leadwright.Core.Panels.Weeks;

/// <summary>One thing that goes wrong in a virtual week.</summary>
/// <param name="Kind">What.</param>
/// <param name="FromSeconds">Onset, seconds after the week's start.</param>
/// <param name="ToSeconds">End.</param>
/// <param name="First">Number of the lead, clamp or line concerned, 0 to 3 (3: neutral).</param>
/// <param name="Second">Number of the other one, where there are two.</param>
public sealed record Mishap(MishapKind Kind, double FromSeconds, double ToSeconds, int First = 0, int Second = 0)
{
    /// <summary>Size: the ghost voltage as a fraction of nominal, the ratio, the range as a fraction of the week's largest current, the
    /// factor left at the end of a slow opening, the clock's step in seconds, the residual voltage of a dip.</summary>
    public double Size { get; init; } = 1;

    /// <summary>An angle or a share that belongs to it: the ghost voltage's angle in degrees; the share of the lost voltage that motors
    /// hold up; 1 where a recorder that was off starts its counters again.</summary>
    public double Detail { get; init; }

    /// <summary>True when it is a slip of leads or clamps.</summary>
    public bool IsHookup => Kind <= MishapKind.RatioWrong && Kind != MishapKind.ClampOpening;

    /// <summary>True when the supply, and no recorder, lead or clamp, is the cause.</summary>
    public bool IsSupply => Kind is MishapKind.Outage or MishapKind.LineLost or MishapKind.UpstreamPhaseLost or MishapKind.SupplyNeutralLost
        or MishapKind.Dip;

    /// <summary>True at a time.</summary>
    public bool IsOnAt(double seconds) => seconds >= FromSeconds && seconds < ToSeconds;

    /// <summary>Moves leads and clamps as this slip does.</summary>
    /// <param name="leads">Conductor of each lead by number; −1 for the air.</param>
    /// <param name="clamps">The clamps by number.</param>
    internal void Apply(int[] leads, ClampPlace[] clamps)
    {
        switch (Kind)
        {
            case MishapKind.LeadOff: leads[First] = -1; break;
            case MishapKind.LeadMoved: leads[First] = leads[Second]; break;
            case MishapKind.LeadOnNeutral: leads[First] = 3; break;
            case MishapKind.NeutralLeadOff: leads[3] = -1; break;
            case MishapKind.LeadsExchanged: (leads[First], leads[Second]) = (leads[Second], leads[First]); break;
            case MishapKind.NeutralExchanged: (leads[First], leads[3]) = (leads[3], leads[First]); break;
            case MishapKind.ClampReversed: clamps[First] = clamps[First] with { Reversed = !clamps[First].Reversed }; break;
            case MishapKind.ClampMoved: clamps[First] = clamps[First] with { On = (Conductor)Second }; break;
            case MishapKind.ClampOnNeutral: clamps[First] = clamps[First] with { On = Conductor.N }; break;
            case MishapKind.ClampOff: clamps[First] = new ClampPlace(null, false, 1); break;
            case MishapKind.RatioWrong: clamps[First] = clamps[First] with { Scale = Size }; break;
            case MishapKind.ClampsExchanged: Swap(clamps, First, Second); break;
            case MishapKind.ClampsRotated:
                Swap(clamps, 0, 1);
                Swap(clamps, Second == 0 ? 1 : 0, 2);
                break;
            default: break;
        }
    }

    private static void Swap(ClampPlace[] clamps, int one, int other)
    {
        var (first, second) = (clamps[one], clamps[other]);
        clamps[one] = first with { On = second.On, Reversed = first.Reversed };
        clamps[other] = second with { On = first.On, Reversed = second.Reversed };
    }
}
