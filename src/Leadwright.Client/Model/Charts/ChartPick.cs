using System.Collections.Immutable;
using Leadwright.Client.Surveys;

namespace Leadwright.Client.Model.Charts;

/// <summary>Picks columns for a chart.</summary>
public static class ChartPick
{
    private static readonly string[] s_shapes = ["circle", "square", "triangle", "diamond", ""];

    /// <summary>The columns of a quantity: means where there are, one of each phase, the whole left out where there are phases.</summary>
    /// <param name="columns">All columns.</param>
    /// <param name="quantity">As <c>Voltage</c>.</param>
    public static ImmutableArray<ChartColumn> Of(ImmutableArray<ColumnCard> columns, string quantity)
    {
        var found = columns.Where(column => column.Quantity == quantity && !column.Title.Contains(',', StringComparison.Ordinal)).ToList();
        if (found.Count == 0) found = [.. columns.Where(column => column.Quantity == quantity && column.Place == "Whole").Take(1)];
        // To neutral and lead to lead differ too much in size for one chart.
        if (found.Exists(column => column.Place.StartsWith("Phase", StringComparison.Ordinal))) found.RemoveAll(column => column.Place.StartsWith("Pair", StringComparison.Ordinal) || column.Place == "Whole");
        if (quantity is "Voltage") found.RemoveAll(column => column.Place == "Neutral");
        return [.. found.Select(Look)];
    }

    /// <summary>One column as a chart shows it.</summary>
    public static ChartColumn Look(ColumnCard column)
    {
        ArgumentNullException.ThrowIfNull(column);
        var look = column.Place switch
        {
            "Phase1" or "Pair12" => 0,
            "Phase2" or "Pair23" => 1,
            "Phase3" or "Pair31" => 2,
            "Neutral" => 3,
            _ => 4,
        };
        var label = column.Title.Split(',')[0].Split(' ')[^1];
        return new ChartColumn(column.Name, column.Title, label.Length <= 4 ? label : "", look, s_shapes[look]) { Unit = column.Unit };
    }

    /// <summary>The column of the whole service's power; the phases where there is none.</summary>
    public static ImmutableArray<ChartColumn> Power(ImmutableArray<ColumnCard> columns)
    {
        var whole = columns.FirstOrDefault(column => column.Quantity == "ActivePower" && column.Place == "Whole");
        return whole is null ? Of(columns, "ActivePower") : [Look(whole)];
    }

    /// <summary>The charts that convince of a kind of span, the first one on top: a quantity each.</summary>
    /// <param name="kind">As <c>lead-open</c>.</param>
    public static ImmutableArray<string> ConvincingOf(string kind) => kind switch
    {
        "clamp-reversed" or "clamps-exchanged" or "clamps-rotated" or "clamps-on-same-conductor" or "clamp-on-neutral" or "ratio-wrong" => ["ActivePower", "Current"],
        "clamp-open" or "over-range" => ["Current", "Voltage"],
        _ => ["Voltage", "Current"],
    };
}
