using Leadwright.Core.Hookups.Priors;

namespace Leadwright.Formats.Priors;

/// <summary>One rate as it stands in a file of priors.</summary>
/// <param name="Word">Its name there.</param>
/// <param name="Get">Takes it.</param>
/// <param name="With">Sets it.</param>
public sealed record SlipRateField(string Word, Func<SlipRates, double> Get, Func<SlipRates, double, SlipRates> With)
{
    /// <summary>All rates, in the order of the file.</summary>
    public static IReadOnlyList<SlipRateField> All { get; } =
    [
        new("clamp_reversed", slips => slips.ClampReversed, (slips, value) => slips with { ClampReversed = value }),
        new("all_clamps_reversed", slips => slips.AllClampsReversed, (slips, value) => slips with { AllClampsReversed = value }),
        new("all_clamps_reversed_with_generation", slips => slips.AllClampsReversedWithGeneration, (slips, value) => slips with { AllClampsReversedWithGeneration = value }),
        new("clamp_pair_exchanged", slips => slips.ClampPairExchanged, (slips, value) => slips with { ClampPairExchanged = value }),
        new("clamps_rotated", slips => slips.ClampsRotated, (slips, value) => slips with { ClampsRotated = value }),
        new("clamp_open", slips => slips.ClampOpen, (slips, value) => slips with { ClampOpen = value }),
        new("clamp_misplaced", slips => slips.ClampMisplaced, (slips, value) => slips with { ClampMisplaced = value }),
        new("clamp_on_neutral", slips => slips.ClampOnNeutral, (slips, value) => slips with { ClampOnNeutral = value }),
        new("all_clamps_on_one_conductor", slips => slips.AllClampsOnOneConductor, (slips, value) => slips with { AllClampsOnOneConductor = value }),
        new("ratio_off_by_ten", slips => slips.RatioOffByTen, (slips, value) => slips with { RatioOffByTen = value }),
        new("ratio_off_by_five", slips => slips.RatioOffByFive, (slips, value) => slips with { RatioOffByFive = value }),
        new("ratio_off_by_two", slips => slips.RatioOffByTwo, (slips, value) => slips with { RatioOffByTwo = value }),
        new("clamp_muddle", slips => slips.ClampMuddle, (slips, value) => slips with { ClampMuddle = value }),
        new("clamp_chaos", slips => slips.ClampChaos, (slips, value) => slips with { ClampChaos = value }),
        new("lead_open", slips => slips.LeadOpen, (slips, value) => slips with { LeadOpen = value }),
        new("neutral_lead_open", slips => slips.NeutralLeadOpen, (slips, value) => slips with { NeutralLeadOpen = value }),
        new("lead_pair_exchanged", slips => slips.LeadPairExchanged, (slips, value) => slips with { LeadPairExchanged = value }),
        new("leads_rotated", slips => slips.LeadsRotated, (slips, value) => slips with { LeadsRotated = value }),
        new("neutral_lead_exchanged", slips => slips.NeutralLeadExchanged, (slips, value) => slips with { NeutralLeadExchanged = value }),
        new("lead_misplaced", slips => slips.LeadMisplaced, (slips, value) => slips with { LeadMisplaced = value }),
        new("lead_muddle", slips => slips.LeadMuddle, (slips, value) => slips with { LeadMuddle = value }),
        new("lead_chaos", slips => slips.LeadChaos, (slips, value) => slips with { LeadChaos = value }),
        new("nothing_connected", slips => slips.NothingConnected, (slips, value) => slips with { NothingConnected = value }),
        new("supply_turns_acb", slips => slips.SupplyTurnsAcb, (slips, value) => slips with { SupplyTurnsAcb = value }),
        new("network_legs_in_reverse", slips => slips.NetworkLegsInReverse, (slips, value) => slips with { NetworkLegsInReverse = value }),
        new("high_leg_on_a", slips => slips.HighLegOnA, (slips, value) => slips with { HighLegOnA = value }),
        new("high_leg_on_c", slips => slips.HighLegOnC, (slips, value) => slips with { HighLegOnC = value }),
        new("read_to_earthed_corner", slips => slips.ReadToEarthedCorner, (slips, value) => slips with { ReadToEarthedCorner = value }),
        new("angle_sign_not_as_taken", slips => slips.AngleSignNotAsTaken, (slips, value) => slips with { AngleSignNotAsTaken = value }),
        new("angle_sign_not_as_stated", slips => slips.AngleSignNotAsStated, (slips, value) => slips with { AngleSignNotAsStated = value }),
        new("current_reference_not_as_taken", slips => slips.CurrentReferenceNotAsTaken, (slips, value) => slips with { CurrentReferenceNotAsTaken = value }),
        new("current_reference_not_as_stated", slips => slips.CurrentReferenceNotAsStated, (slips, value) => slips with { CurrentReferenceNotAsStated = value }),
        new("power_sign_not_as_taken", slips => slips.PowerSignNotAsTaken, (slips, value) => slips with { PowerSignNotAsTaken = value }),
        new("power_sign_not_as_stated", slips => slips.PowerSignNotAsStated, (slips, value) => slips with { PowerSignNotAsStated = value }),
    ];
}
