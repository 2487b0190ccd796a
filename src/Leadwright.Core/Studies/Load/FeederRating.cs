namespace Leadwright.Core.Studies.Load;

/// <summary>What the user knows of the feeder, breaker or transformer and of what is to be added. Null: not stated.</summary>
/// <param name="RatedAmperes">Ampacity of the feeder or rating of the service or device, A.</param>
public sealed record FeederRating(double RatedAmperes)
{
    /// <summary>Line-to-line voltage, V (two-wire: line to neutral).</summary>
    public double? Volts { get; init; }

    /// <summary>Phases that carry it: 1 or 3.</summary>
    public int PhaseCount { get; init; } = 3;

    /// <summary>Load to be added, W.</summary>
    public double NewWatts { get; init; }

    /// <summary>Power factor by which watts become amperes; default 1 understates the amperes.</summary>
    public double? PowerFactor { get; init; }

    /// <summary>Months of recorded maximum demand besides this record.</summary>
    public bool HasYearOfDemand { get; init; }

    /// <summary>Whether renewable generation feeds in.</summary>
    public bool? HasGeneration { get; init; }

    /// <summary>Whether peaks are shaved.</summary>
    public bool? HasPeakShaving { get; init; }

    /// <summary>Whether the building was occupied.</summary>
    public bool? IsOccupied { get; init; }

    /// <summary>Whether the larger of heating and cooling and other seasonal loads are in the record or were added.</summary>
    public bool? IncludesSeasonalLoads { get; init; }

    /// <summary>Whether the feeder has overcurrent protection and the service overload protection as the code asks.</summary>
    public bool? HasOvercurrentProtection { get; init; }

    /// <summary>Amperes of watts, by the stated voltage and power factor; NaN without a voltage.</summary>
    public double AmperesOf(double watts) =>
        watts / ((PhaseCount == 3 ? Math.Sqrt(3) : 1) * (Volts ?? double.NaN) * (PowerFactor ?? 1));
}
