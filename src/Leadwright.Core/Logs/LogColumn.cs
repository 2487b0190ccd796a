namespace Leadwright.Core.Logs;

/// <summary>A column of logged values.</summary>
/// <param name="Name">Its name in the file.</param>
/// <param name="Quantity">What it holds.</param>
/// <param name="Place">Which lead, clamp or phase.</param>
/// <param name="Statistic">What it says of the interval.</param>
public sealed record LogColumn(string Name, LogQuantity Quantity, LogPlace Place = LogPlace.Whole, LogStatistic Statistic = LogStatistic.Mean)
{
    /// <summary>Order of a harmonic; 0 for everything else.</summary>
    public int Order { get; init; }

    /// <summary>True for energy that flowed back to the supply, counted for itself. Default false: toward the load, or the difference.</summary>
    public bool IsExport { get; init; }

    /// <summary>The unit of a column whose quantity is <see cref="LogQuantity.Other"/>, as written; else empty.</summary>
    public string OtherUnit { get; init; } = "";
}
