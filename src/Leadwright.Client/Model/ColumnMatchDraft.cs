using System.Collections.Immutable;
using Leadwright.Client.Surveys;
using Leadwright.Formats.Matching;

namespace Leadwright.Client.Model;

/// <summary>What a person says of the columns of a recording, until it is confirmed.</summary>
/// <param name="sheet">The columns as they are read.</param>
public sealed class ColumnMatchDraft(ColumnMatchSheet sheet)
{
    private readonly Dictionary<int, ColumnEntry> _said = [];
    private bool _isTried;

    /// <summary>How a row is stamped, where that was asked and said; empty as it was read.</summary>
    public string Stamps { get; set; } = sheet.Stamps;

    /// <summary>The order of dates, where that was asked and said; empty as it was read.</summary>
    public string Dates { get; set; } = sheet.Dates;

    /// <summary>The columns of numbers that a person should look at.</summary>
    public ImmutableArray<ColumnMatchRow> Unsure => [.. sheet.Columns.Where(row => row is { IsValue: true, IsUnsure: true })];

    /// <summary>The columns of numbers.</summary>
    public ImmutableArray<ColumnMatchRow> Values => [.. sheet.Columns.Where(row => row.IsValue)];

    /// <summary>The columns that hold no numbers: times, standings, words.</summary>
    public ImmutableArray<ColumnMatchRow> Others => [.. sheet.Columns.Where(row => !row.IsValue)];

    /// <summary>A column as it was said, or as it is read.</summary>
    /// <param name="row">The column.</param>
    public ColumnEntry Of(ColumnMatchRow row)
    {
        ArgumentNullException.ThrowIfNull(row);
        return _said.GetValueOrDefault(row.Number, row.Taken);
    }

    /// <summary>Says what a column holds. Another quantity brings its own unit and a statistic that goes with it.</summary>
    /// <param name="row">The column.</param>
    /// <param name="entry">What it holds.</param>
    public void Say(ColumnMatchRow row, ColumnEntry entry)
    {
        ArgumentNullException.ThrowIfNull(row);
        ArgumentNullException.ThrowIfNull(entry);
        if (entry.Quantity != Of(row).Quantity)
        {
            var isEnergy = entry.Quantity.EndsWith("-energy", StringComparison.Ordinal);
            var wasEnergy = entry.Statistic is "amount" or "counter";
            if (isEnergy != wasEnergy) entry = entry with { Statistic = isEnergy ? "amount" : "mean" };
            // The unit in the heading stays where it goes with the quantity.
            if ((entry with { Unit = row.Taken.Unit }).Read(out _).Any(problem => problem.Field == ColumnField.Unit)) entry = entry with { Unit = ColumnEntry.BaseUnitOf(entry.Quantity) };
            else entry = entry with { Unit = row.Taken.Unit };
        }

        _said[row.Number] = entry;
    }

    /// <summary>What is wrong with a field of a column, once confirming was tried; empty for nothing.</summary>
    /// <param name="row">The column.</param>
    /// <param name="field">The field.</param>
    public string ProblemOf(ColumnMatchRow row, ColumnField field)
    {
        if (!_isTried) return "";
        foreach (var problem in Of(row).Read(out _))
        {
            if (problem.Field == field) return problem.Says;
        }

        return "";
    }

    /// <summary>The columns with something wrong in a field.</summary>
    public ImmutableArray<ColumnMatchRow> Wrong => [.. Values.Where(row => !Of(row).Read(out _).IsEmpty)];

    /// <summary>What is sent to be confirmed; null while something is wrong, which shows from then on.</summary>
    public ColumnMatchKeep? Keep()
    {
        _isTried = true;
        return Wrong.IsEmpty ? new ColumnMatchKeep(sheet.Sequence) { Columns = [.. Values.Select(Of)], Stamps = Stamps, Dates = Dates, Said = sheet.Said } : null;
    }
}
