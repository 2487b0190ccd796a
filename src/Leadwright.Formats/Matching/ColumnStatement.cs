using Leadwright.Core.Logs;

namespace Leadwright.Formats.Matching;

/// <summary>What a person says of a column.</summary>
/// <param name="Column">Its heading as written, or its number from 1.</param>
/// <param name="Quantity">What it holds; <see cref="LogQuantity.Other"/> keeps it under its own name.</param>
/// <param name="Place">Which lead, clamp or phase.</param>
/// <param name="Statistic">What a value says of its interval.</param>
public sealed record ColumnStatement(string Column, LogQuantity Quantity, LogPlace Place = LogPlace.Whole, LogStatistic Statistic = LogStatistic.Mean)
{
    /// <summary>The unit of its numbers, such as <c>kW</c>; empty for the heading's own, or the base unit where that has none.</summary>
    public string Unit { get; init; } = "";

    /// <summary>True for energy back to the supply, counted for itself.</summary>
    public bool IsExport { get; init; }

    /// <summary>Order of a harmonic; 0 for everything else.</summary>
    public int Order { get; init; }

    /// <summary>True when the column is to be left out.</summary>
    public bool IsLeftOut { get; init; }
}
