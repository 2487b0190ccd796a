using Leadwright.Core.Logs;

namespace Leadwright.Formats.Matching;

/// <summary>What a column of a table is taken for.</summary>
/// <param name="Index">Its index in the table, from 0.</param>
/// <param name="Heading">Its heading as written.</param>
/// <param name="Role">What it is to the log.</param>
/// <param name="Quantity">What it holds; meaningful for values.</param>
/// <param name="Place">Which lead, clamp or phase.</param>
/// <param name="Statistic">What a value says of its interval.</param>
/// <param name="Unit">The unit as written or assumed.</param>
/// <param name="Factor">What its numbers are multiplied by to get the base unit.</param>
/// <param name="Confidence">How sure this is, 0 to 1; 1 when a person said so. A judgement, not a measured rate.</param>
/// <param name="Why">What it rests on, in words.</param>
public sealed record ColumnProposal(
    int Index, string Heading, ColumnRole Role, LogQuantity Quantity, LogPlace Place, LogStatistic Statistic, string Unit, double Factor, double Confidence, string Why)
{
    /// <summary>The confidence below which a person should look at a match: what rests on a unit or on numbers alone, or on an assumed unit.</summary>
    public const double SureFrom = 0.75;

    /// <summary>True for a match that a person should look at before the column is used.</summary>
    public bool IsUnsure => Role == ColumnRole.Value && !IsStated && Quantity != LogQuantity.Other && Confidence < SureFrom;

    /// <summary>True for numbers that nobody understood: kept under their own name, and used for nothing.</summary>
    public bool IsUnknown => Role == ColumnRole.Value && !IsStated && Quantity == LogQuantity.Other;

    /// <summary>True for energy back to the supply, counted for itself.</summary>
    public bool IsExport { get; init; }

    /// <summary>Order of a harmonic; 0 for everything else.</summary>
    public int Order { get; init; }

    /// <summary>True when a person said so.</summary>
    public bool IsStated { get; init; }
}
