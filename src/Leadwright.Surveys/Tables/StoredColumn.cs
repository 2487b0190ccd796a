using Leadwright.Core.Logs;

namespace Leadwright.Surveys.Tables;

/// <summary>A column of numbers of a stored table.</summary>
/// <param name="Index">Its place among the columns of numbers.</param>
/// <param name="Name">Its name in the table, with the unit, as <c>V1_rms_V</c>.</param>
/// <param name="Unit">Its unit; empty for a pure number.</param>
/// <param name="Column">The column of the log; null in a table that is none.</param>
/// <param name="HasStandings">True when values of it may be other than measured.</param>
public sealed record StoredColumn(int Index, string Name, string Unit, LogColumn? Column, bool HasStandings)
{
    private static readonly string[] s_units = ["V", "A", "W", "var", "VA", "Hz", "Wh", "varh", "VAh", "deg", "percent", "s"];

    /// <summary>True for angles in degrees, whose mean is not told over more than one value.</summary>
    public bool IsAngle => Column is { } column ? column.Quantity is LogQuantity.VoltageAngle or LogQuantity.CurrentAngle : Unit == "deg";

    internal static string UnitOf(string name, LogColumn? column)
    {
        if (column is not null) return column.Quantity == LogQuantity.Other ? column.OtherUnit : LogUnit.Of(column.Quantity);
        var ending = name[(name.LastIndexOf('_') + 1)..];
        if (ending.Length == name.Length || !s_units.Contains(ending, StringComparer.Ordinal)) return "";
        return ending == "percent" ? "%" : ending;
    }
}
