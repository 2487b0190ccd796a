using System.Collections.Immutable;
using Leadwright.Core.Logs;
using Leadwright.Core.Studies.Events;
using Leadwright.Core.Studies.Limits;
using Leadwright.Core.Studies.Load;

namespace Leadwright.Core.Studies.Findings;

/// <summary>The figures of a study that rules look at. Names: docs/methods/findings.md.</summary>
public static class StudyMetrics
{
    /// <summary>Gathers them; what is not known is left out.</summary>
    /// <param name="data">What was studied.</param>
    /// <param name="load">The load study; null without power.</param>
    /// <param name="voltages">The voltages.</param>
    /// <param name="events">The events; empty for none.</param>
    /// <param name="lines">The limits that were judged.</param>
    /// <param name="curves">The tolerance curves that events are held against.</param>
    public static ImmutableArray<StudyMetric> Of(
        StudyData data, LoadStudy? load, ImmutableArray<VoltageLevel> voltages, ImmutableArray<StudyEvent> events, IEnumerable<LimitLine> lines,
        ImmutableArray<ToleranceCurve> curves)
    {
        ArgumentNullException.ThrowIfNull(data);
        var metrics = new List<StudyMetric>();
        if (load is not null) metrics.AddRange(OfLoad(load));
        metrics.AddRange(LoneReversePower.Of(data));
        metrics.AddRange(OfVoltages(data, voltages));
        metrics.AddRange(OfEvents(events, curves));
        metrics.Add(new("limits_failed", lines.Count(line => line.Verdict == LimitVerdict.Fail)));
        return [.. metrics.Where(metric => double.IsFinite(metric.Value))];
    }

    private static IEnumerable<StudyMetric> OfLoad(LoadStudy load)
    {
        var energy = load.Energy;
        yield return new("unknown_share_percent", 100 * (1 - (energy.KnownSeconds / energy.Seconds)), "%");
        yield return new("modelled_share_percent", 100 * energy.ModelledWattHours / Math.Max(energy.ImportWattHours, 1e-9), "%");
        yield return new("export_share_percent", 100 * energy.ExportWattHours / (energy.ImportWattHours + energy.ExportWattHours), "%");
        yield return new("load_factor", load.LoadFactor);
        if (!load.Peaks.IsEmpty)
        {
            var peak = load.Peaks[0];
            yield return new("base_over_peak_percent", 100 * load.BaseWatts / peak.Watts, "%");
            yield return new("modelled_over_peak", peak.HighestModelledWatts / peak.Watts);
            // How much the peak stands out: against what is exceeded one hundredth of the time.
            var demand = Demand.Series(load.Power, peak.Kind, peak.Minutes)?.SoundValues() ?? [];
            if (demand.Length >= 200) yield return new("peak_over_p99", peak.Watts / Percentile.OfUnsorted(demand, 99), "", peak.From);
        }

        if (load.Opening is { } opening) yield return new("closed_share_percent", 100 * opening.ClosedShare, "%");
        yield return new("current_deviation_percent", PhaseLoading.DeviationPercent(load.Phases), "%");
        var phases = load.Phases.Where(phase => phase.Place != LogPlace.Neutral).ToList();
        if (load.Phases.FirstOrDefault(phase => phase.Place == LogPlace.Neutral) is { } neutral && phases.Count > 0)
            yield return new("neutral_over_phase_percent", 100 * neutral.MeanAmperes / phases.Max(phase => phase.MeanAmperes), "%", neutral.HighestAt);
        if (load.PowerFactor is { } factor)
        {
            yield return new("power_factor", factor.EnergyFactor);
            yield return new("leading_over_lagging", factor.LeadingVarHours / Math.Max(factor.LaggingVarHours, 1e-9));
        }

        if (load.Resonance is { IsNear: true } resonance) yield return new("resonance_order", resonance.Order);
        if (load.Transformer is { } transformer) yield return new("harmonic_loss_factor", transformer.LossFactor);
        if (load.DesignCurrent is { } design) yield return new("rating_used_percent", design.UsedPercent, "%");
        foreach (var line in load.Bill.Where(line => !line.Agrees)) yield return new("bill_ratio_off", Math.Abs(line.Ratio - 1));
        foreach (var cycle in load.Cycles) yield return new("cycling_load_kw", cycle.Watts / 1000, "kW", cycle.FirstAt);
    }

    private static IEnumerable<StudyMetric> OfVoltages(StudyData data, ImmutableArray<VoltageLevel> voltages)
    {
        if (data.Nominal is { } nominal)
        {
            foreach (var dead in DeadVoltages.Of(data)) yield return dead;
            var gone = LoggedInterruptions.Of(data);
            // One that is near settles it; the 95th percentile, since a lead may be off for most of the time.
            var nearest = double.PositiveInfinity;
            foreach (var level in voltages)
            {
                if (level.Place == LogPlace.Neutral) continue;
                var volts = level.Place is LogPlace.Pair12 or LogPlace.Pair23 or LogPlace.Pair31 ? nominal.LineToLineVolts : nominal.LineToNeutralVolts;
                if (data.Service == Circuits.ServiceKind.HighLeg && level.Place == LogPlace.Phase2) volts *= Math.Sqrt(3);
                nearest = Math.Min(nearest, Math.Abs((level.Percentile95Volts / volts) - 1));
                if (Lowest(data, level.Place, gone) is var (least, at)) yield return new("voltage_lowest_percent", 100 * least / volts, "%", at);
                yield return new("voltage_highest_percent", 100 * level.MostVolts / volts, "%", level.MostAt);
            }

            yield return new("voltage_off_nominal_percent", 100 * nearest, "%");
        }

        if (voltages.FirstOrDefault(level => level.Place == LogPlace.Neutral) is { } neutral) yield return new("neutral_to_ground_volts", neutral.Percentile95Volts, "V", neutral.MostAt);
        if (data.Series(LogQuantity.VoltageUnbalance, LogPlace.Whole) is { } unbalance) yield return new("unbalance_p95_percent", unbalance.Percentile(95), "%");
        foreach (var place in StudyData.Phases)
        {
            if (data.Series(LogQuantity.VoltageDistortion, place) is { } distortion) yield return new("voltage_thd_p95_percent", distortion.Percentile(95), "%");
        }
    }

    // While the supply was gone its voltage was not low; what reads next to nothing alone is told of by itself.
    private static (double Volts, DateTime At)? Lowest(StudyData data, LogPlace place, bool[] gone)
    {
        if (data.Series(LogQuantity.Voltage, place) is not { } series) return null;
        var (least, dead) = (-1, DeadVoltages.Rows(data, place));
        for (var row = 0; row < series.Count; row++)
        {
            if (series.IsSound(row) && !(row < gone.Length && gone[row]) && !(row < dead.Length && dead[row]) && (least < 0 || series.Values[row] < series.Values[least])) least = row;
        }

        return least < 0 ? null : (series.Values[least], series.StartOf(least));
    }

    private static IEnumerable<StudyMetric> OfEvents(ImmutableArray<StudyEvent> events, ImmutableArray<ToleranceCurve> curves)
    {
        foreach (var curve in curves)
        {
            ImmutableArray<StudyEvent> below = [.. events.Where(found => found.RegionOf(curve) == ToleranceRegion.Below)];
            ImmutableArray<StudyEvent> above = [.. events.Where(found => found.RegionOf(curve) == ToleranceRegion.Above)];
            yield return new("below_curve_count", below.Length, "", below.Length > 0 ? EventGroups.Worst(below).Start : null, curve.Name);
            yield return new("above_curve_count", above.Length, "", above.Length > 0 ? EventGroups.Worst(above).Start : null, curve.Name);
        }

        yield return new("interruption_count", events.Count(found => found.Kind == "interruption"), "", events.FirstOrDefault(found => found.Kind == "interruption")?.Start);
        yield return new("dip_upstream_count", events.Count(found => found.Origin?.Side == EventSide.Upstream));
        yield return new("dip_downstream_count", events.Count(found => found.Origin?.Side == EventSide.Downstream));
        yield return new("motor_start_count", events.Count(found => found.Cause?.Kind == EventCauseKind.MotorStart));
        // Events that keep to an hour of the day on different days.
        var hour = events.Where(found => found.Kind is "dip" or "swell" or "rapid-voltage-change").GroupBy(found => found.Start.Hour)
            .Select(group => (Days: group.Select(found => found.Start.Date).Distinct().Count(), First: group.First().Start)).OrderByDescending(group => group.Days).FirstOrDefault();
        if (hour.Days > 0) yield return new("same_hour_days", hour.Days, "days", hour.First);
    }
}
