using System.Collections.Immutable;
using System.Text.Json.Serialization;

namespace Leadwright.Client.Surveys;

/// <summary>A study as the host sends it, schema <c>leadwright.study/1</c>, as far as the screens show it.</summary>
public sealed record StudySheet
{
    /// <summary>The service, as on the command line.</summary>
    public string Service { get => field ?? ""; init; }

    /// <summary>Nominal voltages; empty when not stated.</summary>
    public string Nominal { get => field ?? ""; init; }

    /// <summary>Start of the record.</summary>
    public DateTime From { get; init; }

    /// <summary>Its end.</summary>
    public DateTime To { get; init; }

    /// <summary>Number of intervals.</summary>
    public int Intervals { get; init; }

    /// <summary>Length of one, seconds.</summary>
    [JsonPropertyName("interval_s")]
    public double IntervalSeconds { get; init; }

    /// <summary>The energy; null without power.</summary>
    public EnergySheet? Energy { get; init; }

    /// <summary>The largest demand; null without power.</summary>
    public DemandSheet? Demand { get; init; }

    /// <summary>The demand for each length of window that was asked for.</summary>
    public ImmutableArray<DemandSheet> Demands { get => field.IsDefault ? [] : field; init; }

    /// <summary>What flows outside opening hours; null when none were told.</summary>
    public OpeningSheet? OpeningHours { get; init; }

    /// <summary>Room for more load by NEC 220.87; null without a rating.</summary>
    [JsonPropertyName("nec_220_87")]
    public CapacitySheet? ExistingLoad { get; init; }

    /// <summary>Room for more load by IEC 60364-4-43; null without a rating.</summary>
    [JsonPropertyName("iec_60364_4_43")]
    public CapacitySheet? DesignCurrent { get; init; }

    /// <summary>Mean over peak.</summary>
    public double? LoadFactor { get; init; }

    /// <summary>The load that is always there, kilowatts.</summary>
    public double? BaseKw { get; init; }

    /// <summary>The load that is exceeded five percent of the time, kilowatts.</summary>
    public double? NearPeakKw { get; init; }

    /// <summary>The power factor; null without vars.</summary>
    public PowerFactorSheet? PowerFactor { get; init; }

    /// <summary>The currents by channel.</summary>
    public ImmutableSortedDictionary<string, CurrentSheet> Currents { get => field ?? ImmutableSortedDictionary<string, CurrentSheet>.Empty; init; }

    /// <summary>The voltages by channel.</summary>
    public ImmutableSortedDictionary<string, VoltageSheet> Voltages { get => field ?? ImmutableSortedDictionary<string, VoltageSheet>.Empty; init; }

    /// <summary>95th percentile of the voltages' unbalance, percent.</summary>
    public double? UnbalancePercent { get; init; }

    /// <summary>Voltage events; null when the record can't show any.</summary>
    public ImmutableArray<EventSheet>? Events { get; init; }

    /// <summary>The limits that were asked for.</summary>
    public ImmutableArray<LimitSheet> Limits { get => field.IsDefault ? [] : field; init; }

    /// <summary>What was found, most consequential first.</summary>
    public ImmutableArray<FindingSheet> Findings { get => field.IsDefault ? [] : field; init; }

    /// <summary>What this record can't show.</summary>
    public ImmutableArray<string> CannotShow { get => field.IsDefault ? [] : field; init; }

    /// <summary>What a person must know of how the file was read.</summary>
    public ImmutableArray<string> Notes { get => field.IsDefault ? [] : field; init; }
}

/// <summary>A study with the names of its plots.</summary>
public sealed record StudyAnswer
{
    /// <summary>The study.</summary>
    public StudySheet Study { get => field ?? new(); init; }

    /// <summary>True when the mended table was studied, false when the recording as it stands.</summary>
    public bool IsMended { get; init; }

    /// <summary>File names of the plots that there are.</summary>
    public ImmutableArray<string> Plots { get => field.IsDefault ? [] : field; init; }

    /// <summary>File names of the tables that there are.</summary>
    public ImmutableArray<string> Tables { get => field.IsDefault ? [] : field; init; }
}

/// <summary>Energy of a record.</summary>
public sealed record EnergySheet
{
    /// <summary>Toward the load, kilowatt-hours.</summary>
    public double? ImportKwh { get; init; }

    /// <summary>Back to the supply.</summary>
    public double? ExportKwh { get; init; }

    /// <summary>Share of the time that is known.</summary>
    public double? KnownShare { get; init; }

    /// <summary>Kilowatt-hours of it that are modelled.</summary>
    public double? ModelledKwh { get; init; }

    /// <summary>By period of the tariff; empty without one.</summary>
    public ImmutableArray<PeriodSheet> Periods { get => field.IsDefault ? [] : field; init; }

    /// <summary>Weakest standing of a value in it.</summary>
    public string Standing { get => field ?? ""; init; }
}

/// <summary>Energy in a period of a tariff.</summary>
public sealed record PeriodSheet
{
    /// <summary>The period's name.</summary>
    public string Name { get => field ?? ""; init; }

    /// <summary>Toward the load, kilowatt-hours.</summary>
    public double? ImportKwh { get; init; }

    /// <summary>Weakest standing of a value in it.</summary>
    public string Standing { get => field ?? ""; init; }
}

/// <summary>What flows in and outside opening hours.</summary>
public sealed record OpeningSheet
{
    /// <summary>While it is open, kilowatt-hours.</summary>
    public double? OpenKwh { get; init; }

    /// <summary>While it is closed.</summary>
    public double? ClosedKwh { get; init; }

    /// <summary>Share of the energy while it is closed.</summary>
    public double? ClosedShare { get; init; }
}

/// <summary>Room for more load by one rule.</summary>
public sealed record CapacitySheet
{
    /// <summary>What is needed with the new load, amperes, by NEC 220.87; null by the other rule.</summary>
    [JsonPropertyName("needed_a")]
    public double? NeededAmperes { get; init; }

    /// <summary>The design current, amperes, by IEC 60364-4-43; null by the other rule.</summary>
    [JsonPropertyName("design_a")]
    public double? DesignAmperes { get; init; }

    /// <summary>The rating, amperes.</summary>
    [JsonPropertyName("rated_a")]
    public double? RatedAmperes { get; init; }

    /// <summary>What is left, amperes.</summary>
    [JsonPropertyName("spare_a")]
    public double? SpareAmperes { get; init; }

    /// <summary>True when it fits.</summary>
    public bool Fits { get; init; }

    /// <summary>What the rule asks for besides.</summary>
    public ImmutableArray<ConditionSheet> Conditions { get => field.IsDefault ? [] : field; init; }
}

/// <summary>Something that a rule asks for.</summary>
/// <param name="Says">What.</param>
/// <param name="State">Whether it is so.</param>
public sealed record ConditionSheet(string Says, string State);

/// <summary>The largest demand.</summary>
public sealed record DemandSheet
{
    /// <summary>Block or sliding.</summary>
    public string Kind { get => field ?? ""; init; }

    /// <summary>Length of the demand interval, minutes.</summary>
    public double? Minutes { get; init; }

    /// <summary>Kilowatts.</summary>
    public double? PeakKw { get; init; }

    /// <summary>When it began.</summary>
    public DateTime? From { get; init; }

    /// <summary>Weakest standing of a value in it.</summary>
    public string Standing { get => field ?? ""; init; }
}

/// <summary>Power factor of a record.</summary>
public sealed record PowerFactorSheet
{
    /// <summary>By energies.</summary>
    public double? ByEnergy { get; init; }

    /// <summary>Share of the time over which watts and vars are known, 0 to 1: it rests on that time alone.</summary>
    public double? KnownShare { get; init; }

    /// <summary>The lowest.</summary>
    public double? Lowest { get; init; }
}

/// <summary>A current.</summary>
public sealed record CurrentSheet
{
    /// <summary>Mean, amperes.</summary>
    public double? Mean { get; init; }

    /// <summary>95th percentile.</summary>
    public double? P95 { get; init; }

    /// <summary>Largest.</summary>
    public double? Max { get; init; }

    /// <summary>When that was.</summary>
    public DateTime? MaxAt { get; init; }
}

/// <summary>A voltage.</summary>
public sealed record VoltageSheet
{
    /// <summary>Mean, volts.</summary>
    public double? Mean { get; init; }

    /// <summary>Least.</summary>
    public double? Min { get; init; }

    /// <summary>Largest.</summary>
    public double? Max { get; init; }

    /// <summary>5th percentile.</summary>
    public double? P5 { get; init; }

    /// <summary>95th percentile.</summary>
    public double? P95 { get; init; }
}

/// <summary>A voltage event.</summary>
public sealed record EventSheet
{
    /// <summary>Dip, swell, interruption or another.</summary>
    public string Kind { get => field ?? ""; init; }

    /// <summary>The channels concerned.</summary>
    public ImmutableArray<string> Channels { get => field.IsDefault ? [] : field; init; }

    /// <summary>Start.</summary>
    public DateTime From { get; init; }

    /// <summary>How long, seconds.</summary>
    public double? Seconds { get; init; }

    /// <summary>Residual voltage of a dip or interruption, percent.</summary>
    public double? ResidualPercent { get; init; }

    /// <summary>Largest voltage of a swell, percent.</summary>
    public double? HighestPercent { get; init; }

    /// <summary>Where it stands to the ITI curve.</summary>
    public string Iti { get => field ?? ""; init; }

    /// <summary>Upstream, downstream or undecided.</summary>
    public string Origin { get => field ?? ""; init; }
}

/// <summary>How a limit was met.</summary>
public sealed record LimitSheet
{
    /// <summary>Name of its table.</summary>
    public string Table { get => field ?? ""; init; }

    /// <summary>The table's edition.</summary>
    public string Edition { get => field ?? ""; init; }

    /// <summary>Clause of the standard.</summary>
    public string Clause { get => field ?? ""; init; }

    /// <summary>What is limited.</summary>
    public string Quantity { get => field ?? ""; init; }

    /// <summary>Which channel; empty for the whole.</summary>
    public string Channel { get => field ?? ""; init; }

    /// <summary>Pass, fail or not enough data.</summary>
    public string Verdict { get => field ?? ""; init; }

    /// <summary>What was measured.</summary>
    public double? Measured { get; init; }

    /// <summary>The least that is allowed.</summary>
    public double? Least { get; init; }

    /// <summary>The most that is allowed.</summary>
    public double? Most { get; init; }

    /// <summary>Unit of these.</summary>
    public string Unit { get => field ?? ""; init; }

    /// <summary>Share of the values that must be within.</summary>
    public double? SharePercent { get; init; }

    /// <summary>Share that is.</summary>
    public double? WithinPercent { get; init; }

    /// <summary>Why it could not be judged; empty when it could.</summary>
    public string Why { get => field ?? ""; init; }
}

/// <summary>A finding.</summary>
public sealed record FindingSheet
{
    /// <summary>What was found.</summary>
    public string Says { get => field ?? ""; init; }

    /// <summary>What it can mean.</summary>
    public string CanMean { get => field ?? ""; init; }

    /// <summary>What to look at next.</summary>
    public string CheckNext { get => field ?? ""; init; }

    /// <summary>How sure it is.</summary>
    public string HowSure { get => field ?? ""; init; }

    /// <summary>Where the rule comes from.</summary>
    public string Source { get => field ?? ""; init; }

    /// <summary>When it was seen; null for the whole record.</summary>
    public DateTime? At { get; init; }
}

/// <summary>The vector diagram at a moment.</summary>
/// <param name="At">Start of the interval that is drawn.</param>
/// <param name="Svg">The drawing.</param>
/// <param name="Says">The same in words.</param>
/// <param name="Note">What had to be assumed; empty for nothing.</param>
public sealed record VectorSheet(DateTime At, string Svg, string Says, string Note);

/// <summary>One moment of a sampled recording.</summary>
/// <param name="At">The moment, by the recorder's clock.</param>
public sealed record MomentSheet(DateTime At)
{
    /// <summary>The waves of a few cycles, drawn.</summary>
    public string WaveSvg { get => field ?? ""; init; }

    /// <summary>Spectra from ten cycles about it, drawn; empty where they can't be had.</summary>
    public string SpectrumSvg { get => field ?? ""; init; }

    /// <summary>The spectra in numbers.</summary>
    public ImmutableArray<SpectrumRow> Spectra { get => field.IsDefault ? [] : field; init; }

    /// <summary>The vector diagram; null where it can't be had.</summary>
    public VectorSheet? Vectors { get; init; }

    /// <summary>The frequency that was measured, hertz; 0 where it could not be.</summary>
    public double FrequencyHertz { get; init; }

    /// <summary>Why something is missing; empty when nothing is.</summary>
    public string Note { get => field ?? ""; init; }
}

/// <summary>The spectrum of a channel.</summary>
/// <param name="Channel">The lead or clamp.</param>
/// <param name="Unit">V or A.</param>
/// <param name="Place">Its phase or pair.</param>
public sealed record SpectrumRow(string Channel, string Unit, string Place)
{
    /// <summary>Rms with everything in it.</summary>
    public double Rms { get; init; }

    /// <summary>Total harmonic distortion, percent of the fundamental; null without one.</summary>
    public double? DistortionPercent { get; init; }

    /// <summary>Orders 1, 2, 3 …, percent of the fundamental.</summary>
    public ImmutableArray<double> Percent { get => field.IsDefault ? [] : field; init; }
}
