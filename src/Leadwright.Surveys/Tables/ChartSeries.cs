using Leadwright.Core.Logs;

namespace Leadwright.Surveys.Tables;

/// <summary>What a chart draws of one column: one figure a bucket.</summary>
/// <param name="Column">The column.</param>
/// <param name="Least">Smallest value; NaN where none is there.</param>
/// <param name="Greatest">Largest value; NaN where none is there.</param>
/// <param name="Mean">Mean of the values that are there; NaN where none is, and for angles that are not all the same.</param>
/// <param name="Known">Number of values that are there; the others of the bucket's rows are missing.</param>
/// <param name="Worst">The worst standing of the bucket's rows.</param>
public sealed record ChartSeries(
    StoredColumn Column, ReadOnlyMemory<double> Least, ReadOnlyMemory<double> Greatest, ReadOnlyMemory<double> Mean, ReadOnlyMemory<int> Known, ReadOnlyMemory<Standing> Worst);
