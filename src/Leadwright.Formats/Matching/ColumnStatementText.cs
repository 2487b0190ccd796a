using System.Globalization;
using Leadwright.Core.Logs;
using Leadwright.Formats.Text;

namespace Leadwright.Formats.Matching;

/// <summary>What a person types of a column: <c>HEADING=active-power,1,mean,kW</c>.</summary>
public static class ColumnStatementText
{
    private const string LeftOut = "out";
    private const string Export = "export";

    /// <summary>Reads what was typed.</summary>
    /// <param name="text">A heading or a number from 1, an equals sign, and with commas between, in any order: the quantity, its place, its statistic, its unit, <c>export</c>, the
    /// order of a harmonic as <c>h5</c>; or <c>out</c> alone. The words are those of a profile (<c>leadwright.columns/1</c>).</param>
    /// <param name="statement">Receives it.</param>
    /// <param name="problem">What is wrong, and what would be right; null when nothing is.</param>
    public static bool TryParse(string text, out ColumnStatement statement, out string? problem)
    {
        ArgumentNullException.ThrowIfNull(text);
        statement = new ColumnStatement("", default);
        var equals = text.LastIndexOf('=');
        if (equals < 1 || equals == text.Length - 1)
        {
            problem = $"'{text}' is no heading with what it holds. Write HEADING=active-power,1,mean,kW; HEADING=out leaves a column out.";
            return false;
        }

        var column = text[..equals].Trim();
        var words = text[(equals + 1)..].Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries);
        statement = new ColumnStatement(column, LogQuantity.Other);
        problem = null;
        if (words is [LeftOut])
        {
            statement = statement with { IsLeftOut = true };
            return true;
        }

        LogQuantity? quantity = null;
        LogStatistic? statistic = null;
        foreach (var word in words)
        {
            if (ValueOf(ColumnProfileWords.Quantities, word) is { } known) quantity = known;
            else if (ValueOf(ColumnProfileWords.Places, word) is { } place) statement = statement with { Place = place };
            else if (ValueOf(ColumnProfileWords.Statistics, word) is { } said) statistic = said;
            else if (word == Export) statement = statement with { IsExport = true };
            else if (word.Length > 1 && word[0] == 'h' && int.TryParse(word.AsSpan(1), NumberStyles.None, CultureInfo.InvariantCulture, out var order) && order is > 0 and <= 100) statement = statement with { Order = order };
            else if (UnitText.Parse(word).IsKnown) statement = statement with { Unit = word };
            else
            {
                problem = $"'{word}' of '{text}' is no quantity, place, statistic or unit. Quantities: {string.Join(", ", ColumnProfileWords.Quantities.Select(one => one.Word))}. "
                    + $"Places: {string.Join(", ", ColumnProfileWords.Places.Select(one => one.Word))}. Statistics: {string.Join(", ", ColumnProfileWords.Statistics.Select(one => one.Word))}. Units as V, kW, kWh, %.";
                return false;
            }
        }

        if (quantity is not { } wanted)
        {
            problem = $"'{text}' says no quantity. Quantities: {string.Join(", ", ColumnProfileWords.Quantities.Select(one => one.Word))}; or out.";
            return false;
        }

        var isEnergy = wanted is LogQuantity.ActiveEnergy or LogQuantity.ReactiveEnergy or LogQuantity.ApparentEnergy;
        if (isEnergy && statistic is not (LogStatistic.Amount or LogStatistic.Counter))
        {
            problem = $"'{text}' is an energy: say amount, for the energy of each interval, or counter, for the stand of a counter.";
            return false;
        }

        statement = statement with { Quantity = wanted, Statistic = statistic ?? LogStatistic.Mean };
        return true;
    }

    /// <summary>A column in those words, without its heading.</summary>
    /// <param name="column">What it is taken for.</param>
    public static string Of(ColumnProposal column)
    {
        ArgumentNullException.ThrowIfNull(column);
        if (column.Role == ColumnRole.LeftOut) return LeftOut;
        var words = new List<string> { ColumnProfileWords.WordOf(ColumnProfileWords.Quantities, column.Quantity) };
        if (column.Place != LogPlace.Whole) words.Add(ColumnProfileWords.WordOf(ColumnProfileWords.Places, column.Place));
        words.Add(ColumnProfileWords.WordOf(ColumnProfileWords.Statistics, column.Statistic));
        if (column.Order > 0) words.Add(string.Create(CultureInfo.InvariantCulture, $"h{column.Order}"));
        if (column.Unit.Length > 0) words.Add(column.Unit);
        if (column.IsExport) words.Add(Export);
        return string.Join(',', words);
    }

    private static T? ValueOf<T>((string Word, T Value)[] words, string word)
        where T : struct
    {
        foreach (var (known, value) in words)
        {
            if (known.Equals(word, StringComparison.OrdinalIgnoreCase)) return value;
        }

        return null;
    }
}
