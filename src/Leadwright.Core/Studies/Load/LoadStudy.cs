using System.Collections.Immutable;
using Leadwright.Core.Logs;
using Leadwright.Core.Wording;

namespace Leadwright.Core.Studies.Load;

/// <summary>What a load study is to work out.</summary>
public sealed record LoadStudyOptions
{
    /// <summary>Lengths of demand windows, minutes; the first is the one that counts.</summary>
    public ImmutableArray<double> DemandMinutes { get; init; } = [15, 30, 60];

    /// <summary>Which kind of demand counts.</summary>
    public DemandKind Kind { get; init; } = DemandKind.Block;

    /// <summary>Tariff periods; null for none.</summary>
    public TariffCalendar? Tariff { get; init; }

    /// <summary>Opening hours; null for none.</summary>
    public TariffCalendar? Opening { get; init; }

    /// <summary>Wanted power factor.</summary>
    public double TargetFactor { get; init; } = 0.95;

    /// <summary>Rating and new load; null when not stated.</summary>
    public FeederRating? Rating { get; init; }

    /// <summary>Current-carrying capacity of the cable, A; NaN when not stated.</summary>
    public double CableAmperes { get; init; } = double.NaN;

    /// <summary>Short-circuit power at the place, VA; NaN when not stated.</summary>
    public double ShortCircuitVoltAmperes { get; init; } = double.NaN;

    /// <summary>Winding eddy-current loss of the transformer, per unit of I²R; NaN when not stated.</summary>
    public double EddyLoss { get; init; } = double.NaN;

    /// <summary>Billed energy, Wh; NaN when not stated.</summary>
    public double BilledWattHours { get; init; } = double.NaN;

    /// <summary>Days of the bill; NaN: those of the record.</summary>
    public double BilledDays { get; init; } = double.NaN;

    /// <summary>Billed peak demand, W; NaN when not stated.</summary>
    public double BilledWatts { get; init; } = double.NaN;
}

/// <summary>The load study of a log.</summary>
public sealed record LoadStudy
{
    /// <summary>Mean power of the whole, W.</summary>
    public required StudySeries Power { get; init; }

    /// <summary>Energy over everything.</summary>
    public required EnergyRow Energy { get; init; }

    /// <summary>Energy by hour.</summary>
    public ImmutableArray<EnergyRow> Hours { get; init; } = [];

    /// <summary>Energy by day.</summary>
    public ImmutableArray<EnergyRow> Days { get; init; } = [];

    /// <summary>Energy by month.</summary>
    public ImmutableArray<EnergyRow> Months { get; init; } = [];

    /// <summary>Energy by tariff period; empty without a calendar.</summary>
    public ImmutableArray<EnergyRow> Periods { get; init; } = [];

    /// <summary>Reactive energy lagging and leading, varh; NaN when not known.</summary>
    public (double Lagging, double Leading) ReactiveVarHours => Reactive is { } reactive ? (reactive.ImportWattHours, reactive.ExportWattHours) : (double.NaN, double.NaN);

    /// <summary>Reactive energy with how much of the time it is known for, and its standing: lagging as toward the load, leading as back, varh; null when not known.</summary>
    public EnergyRow? Reactive { get; init; }

    /// <summary>Highest demands: of each length block and sliding; the one that counts first.</summary>
    public ImmutableArray<DemandPeak> Peaks { get; init; } = [];

    /// <summary>Lengths of demand that the log's interval can't give, minutes.</summary>
    public ImmutableArray<double> ImpossibleMinutes { get; init; } = [];

    /// <summary>How the phases' peaks fall together; null without phases.</summary>
    public PeakCoincidence? Coincidence { get; init; }

    /// <summary>Load-duration curve, W, from the highest down.</summary>
    public ImmutableArray<double> Duration { get; init; } = [];

    /// <summary>Mean power by day and hour.</summary>
    public ImmutableArray<LoadDay> HeatMap { get; init; } = [];

    /// <summary>The same with a row for every day of the record, NaN where nothing of it was measured.</summary>
    public ImmutableArray<LoadDay> EveryDay
    {
        get
        {
            var known = HeatMap.ToDictionary(day => day.Date);
            var days = Days.Select(row => DateOnly.FromDateTime(row.From)).Concat(known.Keys).ToList();
            if (days.Count == 0) return [];
            var (first, last) = (days.Min(), days.Max());
            return
            [
                .. Enumerable.Range(0, last.DayNumber - first.DayNumber + 1).Select(first.AddDays)
                    .Select(date => known.TryGetValue(date, out var day) ? day : new LoadDay(date, [.. Enumerable.Repeat(double.NaN, 24)])),
            ];
        }
    }

    /// <summary>Base load, W; NaN without a whole day.</summary>
    public double BaseWatts { get; init; } = double.NaN;

    /// <summary>Near-peak load, W.</summary>
    public double NearPeakWatts { get; init; } = double.NaN;

    /// <summary>Energy in and outside the opening hours; null when they are not stated.</summary>
    public OpeningHours? Opening { get; init; }

    /// <summary>Loading of each clamp.</summary>
    public ImmutableArray<PhaseLoading> Phases { get; init; } = [];

    /// <summary>Loads that switch on and off.</summary>
    public ImmutableArray<LoadCycle> Cycles { get; init; } = [];

    /// <summary>Power factor; null without reactive power.</summary>
    public PowerFactorStudy? PowerFactor { get; init; }

    /// <summary>Resonance of the capacitor that <see cref="PowerFactor"/> asks for; null when it asks for none or the short-circuit power is not stated.</summary>
    public CapacitorResonance? Resonance { get; init; }

    /// <summary>The existing-load rule; null without a rating.</summary>
    public ExistingLoad? ExistingLoad { get; init; }

    /// <summary>The design-current check; null without a rating.</summary>
    public DesignCurrent? DesignCurrent { get; init; }

    /// <summary>K-factor of the worst phase over the time of its highest tenth of current; null without one.</summary>
    public TransformerHarmonics? Transformer { get; init; }

    /// <summary>The record against the bill.</summary>
    public ImmutableArray<BillComparison> Bill { get; init; } = [];

    /// <summary>Load factor of the demand that counts.</summary>
    public double LoadFactor => Peaks.IsEmpty ? double.NaN : Peaks[0].LoadFactor;

    /// <summary>Studies a log.</summary>
    /// <param name="data">The log.</param>
    /// <param name="options">What is to be worked out.</param>
    /// <returns>Null when the log has no power and no energy.</returns>
    public static LoadStudy? Of(StudyData data, LoadStudyOptions options)
    {
        ArgumentNullException.ThrowIfNull(data);
        ArgumentNullException.ThrowIfNull(options);
        if (data.ActivePower(LogPlace.Whole) is not { } power || data.Directions() is not var (import, export)) return null;
        var phases = StudyData.Phases.Select(data.ActivePower).OfType<StudySeries>().ToImmutableArray();
        var energy = EnergyTable.Total(import, export);
        var reactive = data.ReactivePower(LogPlace.Whole);
        var factor = reactive is null ? null : PowerFactorStudy.Of(power, reactive, options.TargetFactor);
        var (baseWatts, nearPeak, _) = LoadShape.BaseAndPeak(power);
        var study = new LoadStudy
        {
            Power = power,
            Energy = energy,
            Hours = EnergyTable.ByHour(import, export),
            Days = EnergyTable.ByDay(import, export),
            Months = EnergyTable.ByMonth(import, export),
            Periods = options.Tariff is { } tariff ? EnergyTable.ByPeriod(import, export, tariff) : [],
            Reactive = data.ReactiveDirections() is var (lagging, leading) ? EnergyTable.Total(lagging, leading) : null,
            Duration = LoadShape.Duration(power),
            HeatMap = LoadShape.Days(power),
            BaseWatts = baseWatts,
            NearPeakWatts = nearPeak,
            Opening = options.Opening is { } opening ? OpeningHours.Of(import, opening) : null,
            Phases = PhaseLoading.Of(data),
            Cycles = LoadCycle.Find(power),
            PowerFactor = factor,
            Resonance = factor is { AverageVars: > 0 } && options.ShortCircuitVoltAmperes > 0
                ? CapacitorResonance.Of(options.ShortCircuitVoltAmperes, factor.AverageVars) : null,
            ExistingLoad = options.Rating is { } rating ? ExistingLoad.Of(data, rating) : null,
            DesignCurrent = options.Rating is { } rated ? DesignCurrent.Of(data, rated, options.CableAmperes) : null,
            Transformer = TransformerOf(data, options),
        };
        return WithDemand(study, power, phases, options) is var whole ? whole with { Bill = BillOf(whole, options) } : study;
    }

    private static LoadStudy WithDemand(LoadStudy study, StudySeries power, ImmutableArray<StudySeries> phases, LoadStudyOptions options)
    {
        var peaks = ImmutableArray.CreateBuilder<DemandPeak>();
        var impossible = ImmutableArray.CreateBuilder<double>();
        DemandKind[] kinds = options.Kind == DemandKind.Block ? [DemandKind.Block, DemandKind.Sliding] : [DemandKind.Sliding, DemandKind.Block];
        foreach (var minutes in options.DemandMinutes.Distinct())
        {
            foreach (var kind in kinds)
            {
                if (Demand.Highest(power, kind, minutes, phases) is { } peak) peaks.Add(peak);
                else if (kind == DemandKind.Block) impossible.Add(minutes);
            }
        }

        var first = peaks.Count > 0 ? peaks[0].Minutes : double.NaN;
        return study with
        {
            Peaks = peaks.ToImmutable(),
            ImpossibleMinutes = impossible.ToImmutable(),
            Coincidence = double.IsFinite(first) ? PeakCoincidence.Of(power, phases, options.Kind, first) : null,
        };
    }

    private static ImmutableArray<BillComparison> BillOf(LoadStudy study, LoadStudyOptions options)
    {
        var bill = ImmutableArray.CreateBuilder<BillComparison>();
        if (options.BilledWattHours > 0)
        {
            var days = study.Energy.KnownSeconds / 86400;
            var scale = options.BilledDays > 0 ? options.BilledDays / days : 1;
            bill.Add(new BillComparison(Say.Of("bill.energy", "energy"), study.Energy.NetWattHours * scale, options.BilledWattHours));
        }

        if (options.BilledWatts > 0 && !study.Peaks.IsEmpty) bill.Add(new BillComparison(Say.Of("bill.peak-demand", "peak demand"), study.Peaks[0].Watts, options.BilledWatts));
        return bill.ToImmutable();
    }

    // Harmonics count where the current is high: at light load they may be large and harmless.
    private static TransformerHarmonics? TransformerOf(StudyData data, LoadStudyOptions options)
    {
        TransformerHarmonics? worst = null;
        foreach (var phase in StudyData.Phases)
        {
            if (data.Series(LogQuantity.Current, phase) is not { } current) continue;
            var high = current.Percentile(90);
            if (double.IsNaN(high)) continue;
            var rows = Enumerable.Range(0, current.Count).Where(row => current.IsSound(row) && current.Values[row] >= high).ToArray();
            var found = OfOrders(data, phase, rows, options) ?? OfFactor(data, phase, rows, options);
            if (found is not null && !(worst?.LossFactor >= found.LossFactor)) worst = found;
        }

        return worst;
    }

    private static TransformerHarmonics? OfOrders(StudyData data, LogPlace phase, int[] rows, LoadStudyOptions options)
    {
        var currents = new double[50];
        var isThere = false;
        for (var column = 0; column < data.Log.Columns.Length; column++)
        {
            var head = data.Log.Columns[column];
            if (head.Quantity != LogQuantity.CurrentHarmonic || head.Place != phase || head.Order is < 2 or > 50 || head.Statistic != LogStatistic.Mean) continue;
            var series = data.Series(column);
            var known = rows.Where(series.IsSound).ToArray();
            if (known.Length == 0) continue;
            currents[head.Order - 1] = Math.Sqrt(known.Average(row => series.Values[row] * series.Values[row])) / 100;
            isThere = true;
        }

        if (!isThere) return null;
        currents[0] = 1;
        return TransformerHarmonics.Of(currents, double.IsNaN(options.EddyLoss) ? 0 : options.EddyLoss) with
        {
            KFactor = double.NaN,
            RatedShare = double.IsNaN(options.EddyLoss) ? double.NaN : TransformerHarmonics.Of(currents, options.EddyLoss).RatedShare,
        };
    }

    private static TransformerHarmonics? OfFactor(StudyData data, LogPlace phase, int[] rows, LoadStudyOptions options)
    {
        if (data.Series(LogQuantity.KFactor, phase) is not { } series) return null;
        var known = rows.Where(series.IsSound).ToArray();
        if (known.Length == 0) return null;
        var factor = known.Average(row => series.Values[row]);
        return new TransformerHarmonics(factor, double.NaN, double.NaN, double.IsNaN(options.EddyLoss) ? double.NaN : TransformerHarmonics.ShareOf(factor, options.EddyLoss));
    }
}
