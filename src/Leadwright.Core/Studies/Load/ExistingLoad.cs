using System.Collections.Immutable;
using Leadwright.Core.Logs;
using Leadwright.Core.Wording;

namespace Leadwright.Core.Studies.Load;

/// <summary>The existing-load rule of the NEC, section 220.87 (NFPA 70, 2014 to 2023).</summary>
/// <param name="Conditions">The rule's conditions, each met, not met or not shown.</param>
/// <param name="DemandWatts">Highest fifteen-minute demand, W.</param>
/// <param name="DemandAmperes">The same in amperes: by the currents of the highest-loaded phase where they were recorded and are higher, else from the power.</param>
/// <param name="NeededAmperes">125 % of it plus the new load, A.</param>
/// <param name="RatedAmperes">The rating, A.</param>
/// <remarks>By section 220.87 and its exception as published by local authorities. It decides whether the rule's own arithmetic holds; whether the rule may be
/// used is for the code in force and a licensed person.</remarks>
public sealed record ExistingLoad(
    ImmutableArray<CapacityCondition> Conditions, double DemandWatts, double DemandAmperes, double NeededAmperes, double RatedAmperes)
{
    private const double Factor = 1.25;
    private const double NeededDays = 30;

    /// <summary>What is left of the rating after 125 % of the demand and the new load, A.</summary>
    public double SpareAmperes => RatedAmperes - NeededAmperes;

    /// <summary>True when the arithmetic holds; says nothing of the conditions.</summary>
    public bool Fits => NeededAmperes <= RatedAmperes;

    /// <summary>True when the arithmetic holds and every condition is met.</summary>
    public bool IsShown => Fits && Conditions.All(condition => condition.State == ConditionState.Met);

    /// <summary>Works it out.</summary>
    /// <param name="data">The log.</param>
    /// <param name="rating">What the user states.</param>
    /// <returns>Null when the log has neither power nor currents over fifteen minutes.</returns>
    public static ExistingLoad? Of(StudyData data, FeederRating rating)
    {
        ArgumentNullException.ThrowIfNull(data);
        ArgumentNullException.ThrowIfNull(rating);
        var power = data.ActivePower(LogPlace.Whole);
        var peak = power is null ? null : Demand.Highest(power, DemandKind.Block, 15);
        var phases = PhaseLoading.Of(data).Where(phase => phase.Place != LogPlace.Neutral && double.IsFinite(phase.DemandAmperes)).ToList();
        var watts = peak?.Watts ?? double.NaN;
        var amperes = Larger(rating.AmperesOf(watts), phases.Count > 0 ? phases.Max(phase => phase.DemandAmperes) : double.NaN);
        if (!double.IsFinite(amperes)) return null;
        var needed = (Factor * amperes) + (rating.NewWatts > 0 ? rating.AmperesOf(rating.NewWatts) : 0);
        return new ExistingLoad(Check(data, rating, peak, phases.Count), watts, amperes, needed, rating.RatedAmperes);
    }

    private static double Larger(double first, double second) => double.IsNaN(first) ? second : double.IsNaN(second) ? first : Math.Max(first, second);

    private static ImmutableArray<CapacityCondition> Check(StudyData data, FeederRating rating, DemandPeak? peak, int phaseCount)
    {
        var days = data.Log.Count * data.Log.IntervalSeconds / 86400;
        var span = (data.Log.To - data.Log.From).TotalDays;
        var isWhole = days >= 0.999 * span;
        return
        [
            new(Say.Of("existing.a-year-of-maximum-demand", "A year of maximum demand, or else thirty days recorded without a break"),
                rating.HasYearOfDemand || (days >= NeededDays && isWhole) ? ConditionState.Met : ConditionState.NotMet,
                rating.HasYearOfDemand ? Say.Of("existing.a-years-demand-is-stated", "a year's demand is stated") : Say.Of("existing.days-of-intervals-within-days", "{days} days of intervals within {span} days", ("days", Say.Number(days, "0.0")), ("span", Say.Number(span, "0.0")))),
            new(Say.Of("existing.demand-averaged-over-fifteen-minutes", "Demand averaged over fifteen minutes"),
                peak is not null || phaseCount > 0 ? ConditionState.Met : ConditionState.NotMet,
                Say.Of("existing.intervals-of-min", "intervals of {intervalSeconds} min", ("intervalSeconds", Say.Number(data.Log.IntervalSeconds / 60, "0.##")))),
            new(Say.Of("existing.taken-on-the-highest-loaded", "Taken on the highest-loaded phase"), phaseCount >= Math.Max(rating.PhaseCount, 1) ? ConditionState.Met : ConditionState.NotShown,
                phaseCount > 0 ? Say.Of("existing.currents-of-phases-were-recorded", "currents of {phaseCount} phases were recorded, the highest is used", ("phaseCount", phaseCount)) : Say.Of("existing.no-phase-currents-in-the", "no phase currents in the record")),
            Stated(Say.Of("existing.taken-while-the-building-was", "Taken while the building was occupied"), rating.IsOccupied, isWanted: true),
            Stated(Say.Of("existing.the-larger-of-heating-and", "The larger of heating and cooling and other seasonal loads included"), rating.IncludesSeasonalLoads, isWanted: true),
            Generation(data, rating),
            Stated(Say.Of("existing.no-peak-shaving", "No peak shaving"), rating.HasPeakShaving, isWanted: false),
            Stated(Say.Of("existing.overcurrent-protection-of-the-feeder", "Overcurrent protection of the feeder (240.4) and overload protection of the service (230.90)"), rating.HasOvercurrentProtection, isWanted: true),
        ];
    }

    private static CapacityCondition Generation(StudyData data, FeederRating rating)
    {
        var says = Say.Of("existing.no-renewable-generation", "No renewable generation feeding in");
        var flows = data.Directions() is var (_, export) && export.SoundSorted() is [.., > 0];
        if (flows) return new(says, ConditionState.NotMet, Say.Of("existing.power-flowed-back-to-the", "power flowed back to the supply in this record"));
        return Stated(says, rating.HasGeneration, isWanted: false);
    }

    private static CapacityCondition Stated(string says, bool? stated, bool isWanted) => stated is null
        ? new(says, ConditionState.NotShown, Say.Of("existing.not-stated", "not stated"))
        : new(says, stated == isWanted ? ConditionState.Met : ConditionState.NotMet, stated.Value ? Say.Of("existing.stated-yes", "stated: yes") : Say.Of("existing.stated-no", "stated: no"));
}
