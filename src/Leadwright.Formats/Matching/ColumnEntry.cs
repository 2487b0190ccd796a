using System.Collections.Immutable;
using System.Globalization;
using Leadwright.Core.Logs;
using Leadwright.Formats.Text;

namespace Leadwright.Formats.Matching;

/// <summary>What a person says of a column, field by field, in the words of a profile (<c>leadwright.columns/1</c>).</summary>
/// <param name="Column">Its number from 1, or its heading.</param>
public sealed record ColumnEntry(string Column)
{
    private const int MostOrder = 100;

    /// <summary>The words for quantities.</summary>
    public static ImmutableArray<string> Quantities { get; } = [.. ColumnProfileWords.Quantities.Select(one => one.Word)];

    /// <summary>The words for places.</summary>
    public static ImmutableArray<string> Places { get; } = [.. ColumnProfileWords.Places.Select(one => one.Word)];

    /// <summary>The words for what a value says of its interval.</summary>
    public static ImmutableArray<string> Statistics { get; } = [.. ColumnProfileWords.Statistics.Select(one => one.Word)];

    /// <summary>What it holds.</summary>
    public string Quantity { get => field ?? ""; init; } = "other";

    /// <summary>Which lead, clamp or phase.</summary>
    public string Place { get => field ?? ""; init; } = "whole";

    /// <summary>What a value says of its interval.</summary>
    public string Statistic { get => field ?? ""; init; } = "mean";

    /// <summary>The unit of its numbers; empty for the base unit.</summary>
    public string Unit { get => field ?? ""; init; } = "";

    /// <summary>True for energy back to the supply.</summary>
    public bool IsExport { get; init; }

    /// <summary>Order of a harmonic; 0 for everything else.</summary>
    public int Order { get; init; }

    /// <summary>True when the column is to be left out.</summary>
    public bool IsLeftOut { get; init; }

    /// <summary>A column as it is taken.</summary>
    /// <param name="column">What it is taken for.</param>
    public static ColumnEntry Of(ColumnProposal column)
    {
        ArgumentNullException.ThrowIfNull(column);
        return new ColumnEntry((column.Index + 1).ToString(CultureInfo.InvariantCulture))
        {
            Quantity = ColumnProfileWords.WordOf(ColumnProfileWords.Quantities, column.Quantity),
            Place = ColumnProfileWords.WordOf(ColumnProfileWords.Places, column.Place),
            Statistic = ColumnProfileWords.WordOf(ColumnProfileWords.Statistics, column.Statistic),
            Unit = column.Unit, IsExport = column.IsExport, Order = column.Order, IsLeftOut = column.Role == ColumnRole.LeftOut,
        };
    }

    /// <summary>The base unit of a quantity; empty for pure numbers and for words that are none.</summary>
    /// <param name="quantity">The quantity's word.</param>
    public static string BaseUnitOf(string quantity) => ValueOf(ColumnProfileWords.Quantities, quantity) is { } known ? LogUnit.Of(known) : "";

    /// <summary>True for a quantity that counts harmonics by their order.</summary>
    /// <param name="quantity">The quantity's word.</param>
    public static bool HasOrder(string quantity) => ValueOf(ColumnProfileWords.Quantities, quantity) is LogQuantity.VoltageHarmonic or LogQuantity.CurrentHarmonic;

    /// <summary>Reads the fields.</summary>
    /// <param name="statement">Receives what they say.</param>
    /// <returns>What is wrong with which field; empty when nothing is.</returns>
    public ImmutableArray<ColumnFieldProblem> Read(out ColumnStatement statement)
    {
        statement = new ColumnStatement(Column, LogQuantity.Other) { IsLeftOut = IsLeftOut };
        if (IsLeftOut) return [];
        var problems = ImmutableArray.CreateBuilder<ColumnFieldProblem>();
        if (ValueOf(ColumnProfileWords.Quantities, Quantity) is not { } quantity) return [new(ColumnField.Quantity, $"'{Quantity}' is no quantity. Choose one of the list.")];
        if (ValueOf(ColumnProfileWords.Places, Place) is not { } place) return [new(ColumnField.Place, $"'{Place}' is no place. Choose one of the list.")];
        if (ValueOf(ColumnProfileWords.Statistics, Statistic) is not { } statistic) return [new(ColumnField.Statistic, $"'{Statistic}' is not what a value can say of its interval. Choose one of the list.")];
        var isEnergy = quantity is LogQuantity.ActiveEnergy or LogQuantity.ReactiveEnergy or LogQuantity.ApparentEnergy;
        if (isEnergy && statistic is not (LogStatistic.Amount or LogStatistic.Counter))
            problems.Add(new(ColumnField.Statistic, "An energy is the amount of each interval, or the stand of a counter: choose which."));
        else if (!isEnergy && quantity != LogQuantity.Other && statistic is LogStatistic.Amount or LogStatistic.Counter)
            problems.Add(new(ColumnField.Statistic, "Only energies are amounts or stands of a counter: choose mean, minimum, maximum or instant."));
        var needed = LogUnit.Of(quantity);
        var unit = Unit.Trim();
        if (quantity != LogQuantity.Other)
        {
            var read = UnitText.Parse(unit);
            if (unit.Length == 0) unit = needed;
            else if (!read.IsKnown || (read.Base != needed && !(needed.Length == 0 && read.Base == "%")))
            {
                problems.Add(new(ColumnField.Unit, needed.Length == 0
                    ? $"'{unit}' does not go with this quantity, which is a plain number: leave the unit empty, or write %."
                    : $"'{unit}' is no unit of this quantity. Write {needed}{(needed is "%" or "deg" ? "" : $", or with a prefix, as k{needed}")}."));
            }
        }

        if (quantity is LogQuantity.VoltageHarmonic or LogQuantity.CurrentHarmonic && Order is < 2 or > MostOrder)
            problems.Add(new(ColumnField.Order, $"Write the order of the harmonic: 2 to {MostOrder}."));
        statement = new ColumnStatement(Column, quantity, place, statistic)
        {
            Unit = unit, IsExport = IsExport, Order = quantity is LogQuantity.VoltageHarmonic or LogQuantity.CurrentHarmonic ? Order : 0,
        };
        return problems.ToImmutable();
    }

    private static T? ValueOf<T>((string Word, T Value)[] words, string word)
        where T : struct
    {
        foreach (var (known, value) in words)
        {
            if (known == word) return value;
        }

        return null;
    }
}

/// <summary>A field of what is said of a column.</summary>
public enum ColumnField
{
    /// <summary>What it holds.</summary>
    Quantity,

    /// <summary>Which lead, clamp or phase.</summary>
    Place,

    /// <summary>What a value says of its interval.</summary>
    Statistic,

    /// <summary>The unit of its numbers.</summary>
    Unit,

    /// <summary>The order of a harmonic.</summary>
    Order,
}

/// <summary>What is wrong with a field.</summary>
/// <param name="Field">The field.</param>
/// <param name="Says">What, and what would be right: whole sentences.</param>
public readonly record struct ColumnFieldProblem(ColumnField Field, string Says);
