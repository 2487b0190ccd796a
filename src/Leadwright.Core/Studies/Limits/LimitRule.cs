namespace Leadwright.Core.Studies.Limits;

/// <summary>One limit: within which bounds a quantity must lie for which share of which time.</summary>
/// <param name="Id">Its name within the table.</param>
/// <param name="Quantity">What it is about.</param>
/// <remarks>A percentile is the same thing said the other way round: the 95th percentile does not exceed a limit when 95 % of the values lie within it.</remarks>
public sealed record LimitRule(string Id, LimitQuantity Quantity)
{
    /// <summary>Clause of the source.</summary>
    public string Clause { get; init; } = "";

    /// <summary>Where the value is from: seen in which text, or from memory.</summary>
    public string Source { get; init; } = "";

    /// <summary>First harmonic order; 0 for everything else.</summary>
    public int OrderFrom { get; init; }

    /// <summary>Last harmonic order.</summary>
    public int OrderTo { get; init; }

    /// <summary>0: all orders of the range; 1: odd ones; 2: even ones.</summary>
    public int Parity { get; init; }

    /// <summary>Length of the values, seconds; 0: as they were logged.</summary>
    public double PerSeconds { get; init; }

    /// <summary>Least value; NaN for none.</summary>
    public double Least { get; init; } = double.NaN;

    /// <summary>Largest value; NaN for none.</summary>
    public double Most { get; init; } = double.NaN;

    /// <summary>What the bounds are multiplied by, as in 1.5 times the table for short-time values.</summary>
    public double Factor { get; init; } = 1;

    /// <summary>True when the bounds are percent of the nominal voltage.</summary>
    public bool IsOfNominal { get; init; }

    /// <summary>Share of the values that must lie within, percent.</summary>
    public double SharePercent { get; init; } = 100;

    /// <summary>Days over which the share is taken; 0: over the whole record, whatever its length.</summary>
    public double PeriodDays { get; init; }

    /// <summary>Where the rule applies; null: everywhere.</summary>
    public LimitScope? Scope { get; init; }

    /// <summary>True when the rule covers a harmonic order.</summary>
    public bool Covers(int order) => order >= OrderFrom && order <= OrderTo && (Parity == 0 || order % 2 == Parity % 2);
}
