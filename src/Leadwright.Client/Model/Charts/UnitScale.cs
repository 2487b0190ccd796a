using System.Collections.Immutable;

namespace Leadwright.Client.Model.Charts;

/// <summary>The one unit in which all values of a chart are written, in its axis, under its cursor and in its table: watts of thousands are kilowatts.</summary>
/// <remarks>The script of the charts, <c>chart/data.js</c>, holds the same rule.</remarks>
/// <param name="Factor">By what a value is divided.</param>
/// <param name="Unit">The unit that it then has.</param>
/// <param name="Format">How such values are written below each other: one number of decimals.</param>
public readonly record struct UnitScale(double Factor, string Unit, string Format)
{
    private const double Kilo = 1e3;
    private const double Mega = 1e6;

    // Two thousand watts on: 1,999 W is read at a glance, 23,870 W is not.
    private const double LeastOfLarger = 2;

    private static readonly ImmutableArray<string> s_scaled = ["W", "var", "VA", "Wh", "varh", "VAh"];

    /// <summary>The scale for columns of a unit.</summary>
    /// <param name="unit">The unit.</param>
    /// <param name="columns">The least and the most of each; those that are not known count for nothing.</param>
    public static UnitScale Of(string unit, IEnumerable<ColumnSummary> columns)
    {
        ArgumentNullException.ThrowIfNull(unit);
        ArgumentNullException.ThrowIfNull(columns);
        var size = columns.SelectMany(column => (double?[])[column.Least, column.Most]).Select(value => Math.Abs(value ?? 0)).Where(double.IsFinite).DefaultIfEmpty(0).Max();
        var (factor, prefix) = !s_scaled.Contains(unit) ? (1, "") : size >= LeastOfLarger * Mega ? (Mega, "M") : size >= LeastOfLarger * Kilo ? (Kilo, "k") : (1.0, "");
        return new(factor, prefix + unit, (size / factor) switch { >= 1000 => "0", >= 100 => "0.0", >= 10 => "0.00", _ => "0.000" });
    }
}
