using System.Globalization;
using Leadwright.Core.Logs;
using Leadwright.Formats.Logs.Layout;
using Leadwright.Formats.Logs.Rows;
using Leadwright.Formats.Logs.Times;
using Leadwright.Formats.Text;

namespace Leadwright.Formats.Logs;

/// <summary>A column as it was read: its numbers, and what else was in it.</summary>
internal sealed class ScannedColumn
{
    /// <summary>The numbers, one a row, NaN where missing; null while none was met.</summary>
    public double[]? Numbers { get; set; }

    /// <summary>Standings, for a column of standings; else null.</summary>
    public Standing[]? Standings { get; set; }

    /// <summary>How many cells hold numbers.</summary>
    public int NumberCount { get; set; }

    /// <summary>How many cells hold nothing, or say that a value is missing.</summary>
    public int MissingCount { get; set; }

    /// <summary>How many of these say that the value was beyond the range.</summary>
    public int OverRangeCount { get; set; }

    /// <summary>How many cells hold words.</summary>
    public int WordCount { get; set; }

    /// <summary>The first different words.</summary>
    public List<string> Words { get; } = [];

    /// <summary>The line of the first word.</summary>
    public int FirstWordLine { get; set; }

    /// <summary>The first cells that hold something, as written.</summary>
    public List<string> First { get; } = [];

    /// <summary>The units that stand in the cells.</summary>
    public required CellUnits Units { get; init; }

    /// <summary>The base unit that stands in most of the cells with numbers; empty when none does.</summary>
    public string CellUnit { get; set; } = "";

    /// <summary>True when more cells hold numbers than words.</summary>
    public bool HasValues => NumberCount > 0 && NumberCount >= WordCount;
}

/// <summary>The second pass over a table: the numbers.</summary>
internal sealed class ValueScan
{
    private const int MostWords = 4;
    private const int MostFirst = 4;
    private const int MostLetters = 40;
    private readonly TableLayout _layout;
    private readonly int _count;
    private readonly char _mark;
    private readonly int _settledWidth;
    private int _strayCount;
    private int _shiftedCount;
    private int _firstShiftedLine;
    private int _shortCount;
    private int _firstShortLine;
    private int _firstStrayLine;

    private ValueScan(TableLayout layout, StampScan stamps, char mark)
    {
        var count = stamps.Lines.Count;
        (_layout, _count, _mark, _settledWidth) = (layout, count, mark, stamps.SettledWidth);
        Columns = [.. layout.Headings.Select(heading => new ScannedColumn
        {
            Units = new CellUnits(count),
            Standings = heading.Text.EndsWith("_standing", StringComparison.Ordinal) ? new Standing[count] : null,
        })];
    }

    /// <summary>The columns, as many as headings.</summary>
    public ScannedColumn[] Columns { get; }

    /// <summary>Reads all rows.</summary>
    /// <exception cref="FormatReadException">Most rows have more cells than there are headings.</exception>
    public static ValueScan Of(
        string source, TableRows rows, TableLayout layout, StampScan stamps, char mark, IProgress<double>? progress, List<ReadWarning> warnings, CancellationToken cancellation)
    {
        var scan = new ValueScan(layout, stamps, mark);
        for (var row = 0; row < layout.FirstDataRow; row++) rows.Read();
        var taken = 0;
        for (var row = 0; row < stamps.IsTaken.Count && rows.Read(); row++)
        {
            if ((row & 0xFFF) == 0)
            {
                cancellation.ThrowIfCancellationRequested();
                progress?.Report(0.4 + (0.5 * rows.Progress));
            }

            if (stamps.IsTaken[row]) scan.Take(rows, taken++);
        }

        scan.SettleUnits(warnings);
        if (scan._strayCount + scan._shiftedCount > 0.5 * taken)
        {
            throw new FormatReadException(
                source, string.Create(CultureInfo.InvariantCulture, $"{layout.Headings.Length} cells as there are headings"), "more cells in most rows",
                "The decimal mark may be the comma that separates the cells too: export the table with semicolons, tabs or quotes.", scan._shiftedCount > 0 ? scan._firstShiftedLine : scan._firstStrayLine);
        }

        if (scan._strayCount > 0)
        {
            warnings.Add(new ReadWarning(
                $"{(scan._strayCount == 1 ? "1 row has" : $"{scan._strayCount} rows have")} more cells than there are headings; the cells beyond are left out.", scan._firstStrayLine));
        }

        if (scan._shiftedCount > 0)
        {
            warnings.Add(new ReadWarning(
                $"{(scan._shiftedCount == 1 ? "1 row has" : $"{scan._shiftedCount} rows have")} more numbers than there are headings, so that which is whose can't be told; its values count as missing.", scan._firstShiftedLine));
        }

        if (scan._shortCount > 0)
        {
            warnings.Add(new ReadWarning(
                $"{(scan._shortCount == 1 ? "1 row has" : $"{scan._shortCount} rows have")} fewer cells than all others: cut off, or a separator is lost, and which is whose can't be told; its values count as missing.", scan._firstShortLine));
        }

        return scan;
    }

    /// <summary>True when two rows hold the same values in every column.</summary>
    public bool AreAlike(int row, int other) => Array.TrueForAll(Columns, column => column.Numbers is not { } numbers || numbers[row].Equals(numbers[other]));

    /// <summary>The heading of a column of few words, as one that names channels; null when there is none.</summary>
    public string? WordColumn()
    {
        var index = Array.FindIndex(Columns, column => column.NumberCount == 0 && column.WordCount > 0.9 * _count && column.Words.Count > 1);
        return index < 0 ? null : _layout.Headings[index].Text;
    }

    private void Take(TableRows rows, int row)
    {
        var (isStray, isShifted) = Beyond(rows);
        if (isStray && !isShifted && _strayCount++ == 0) _firstStrayLine = rows.Line;
        if (isShifted && _shiftedCount++ == 0) _firstShiftedLine = rows.Line;
        var isShort = rows.Count < _settledWidth;
        if (isShort && _shortCount++ == 0) _firstShortLine = rows.Line;
        for (var column = 0; column < Columns.Length; column++)
        {
            var scanned = Columns[column];
            if (isShifted || isShort)
            {
                if (!_layout.Time.Holds(column) && scanned.Standings is null) scanned.MissingCount++;
                continue;
            }

            if (scanned.First.Count < MostFirst && column < rows.Count && rows.KindOf(column) != CellKind.Empty && rows.TextOf(column) is { IsEmpty: false } text)
                scanned.First.Add(text[..Math.Min(text.Length, MostLetters)].ToString());
            if (_layout.Time.Holds(column)) continue;
            if (scanned.Standings is { } standings)
            {
                if (TryStanding(rows.TextOf(column), out var standing)) standings[row] = standing;
                else scanned.Standings = null;
                continue;
            }

            var value = Number(rows, row, column, scanned);
            if (!double.IsNaN(value))
            {
                scanned.NumberCount++;
                (scanned.Numbers ??= Empty())[row] = value;
            }
        }
    }

    // A remark behind the last column leaves the others where they are; a number there was pushed out of its own.
    private (bool IsStray, bool IsShifted) Beyond(TableRows rows)
    {
        var isStray = false;
        for (var column = Columns.Length; column < rows.Count; column++)
        {
            if (rows.KindOf(column) == CellKind.Empty) continue;
            if (rows.KindOf(column) == CellKind.Number || CellNumber.TryRead(rows.TextOf(column), _mark, out _, out _, out _)) return (true, true);
            isStray = true;
        }

        return (isStray, false);
    }

    private double Number(TableRows rows, int row, int column, ScannedColumn scanned)
    {
        switch (column < rows.Count ? rows.KindOf(column) : CellKind.Empty)
        {
            case CellKind.Number:
                var number = rows.NumberOf(column);
                if (number != 0 && !double.IsNaN(number)) scanned.Units.Count(row, rows.Line, "");
                return number;
            case CellKind.Empty:
                scanned.MissingCount++;
                return double.NaN;
        }

        var text = rows.TextOf(column);
        if (CellNumber.TryRead(text, _mark, out var value, out _, out var unit))
        {
            if (value != 0) scanned.Units.Count(row, rows.Line, unit);
            return value;
        }

        if (CellNumber.IsMissing(text, out var isOverRange))
        {
            scanned.MissingCount++;
            if (isOverRange) scanned.OverRangeCount++;
            return double.NaN;
        }

        if (scanned.WordCount++ == 0) scanned.FirstWordLine = rows.Line;
        if (scanned.Words.Count < MostWords && !scanned.Words.Contains(text.ToString(), StringComparer.Ordinal)) scanned.Words.Add(text.ToString());
        return double.NaN;
    }

    // A cell with a unit of its own says nothing of the others; which of the two scales it is on can't be told.
    private void SettleUnits(List<ReadWarning> warnings)
    {
        for (var column = 0; column < Columns.Length; column++)
        {
            var scanned = Columns[column];
            scanned.CellUnit = scanned.Units.Usual;
            if (scanned.Units.OddCount is not (> 0 and var odd) || scanned.Numbers is not { } numbers) continue;
            scanned.Units.TakeOutOdd(numbers);
            scanned.NumberCount -= odd;
            scanned.MissingCount += odd;
            var (unit, line) = scanned.Units.FirstOdd;
            var bears = unit.Length == 0 ? "no unit" : $"the unit {Quoted.Of(unit)}";
            var usual = scanned.CellUnit.Length == 0 ? "none" : scanned.CellUnit;
            warnings.Add(new ReadWarning(
                $"Column '{_layout.Headings[column].Text}': {(odd == 1 ? $"1 cell bears {bears}" : $"{odd} cells bear another unit, the first {bears}")} where most bear {usual}, and {(odd == 1 ? "counts" : "count")} as missing.", line));
        }
    }

    private static bool TryStanding(ReadOnlySpan<char> text, out Standing standing)
    {
        (standing, var isKnown) = text switch
        {
            "measured" or "" => (Standing.Measured, true),
            "mended" => (Standing.Mended, true),
            "modelled" => (Standing.Modelled, true),
            "lost" => (Standing.Lost, true),
            _ => (Standing.Measured, false),
        };
        return isKnown;
    }

    private double[] Empty()
    {
        var numbers = new double[_count];
        Array.Fill(numbers, double.NaN);
        return numbers;
    }

    /// <summary>What is to be told of the columns.</summary>
    public void Tell(List<ReadWarning> warnings)
    {
        for (var column = 0; column < Columns.Length; column++)
        {
            var scanned = Columns[column];
            if (_layout.Time.Holds(column) || scanned.Standings is not null) continue;
            var name = _layout.Headings[column].Text;
            if (scanned.WordCount == 0 && scanned.NumberCount == 0)
            {
                warnings.Add(new ReadWarning($"Column '{name}' holds no value and is left out."));
            }
            else if (!scanned.HasValues)
            {
                warnings.Add(new ReadWarning($"Column '{name}' holds words and is left out: {string.Join(", ", scanned.Words.Select(Quoted.Of))}."));
            }
            else
            {
                TellMissing(name, scanned, warnings);
            }
        }
    }

    private void TellMissing(string name, ScannedColumn scanned, List<ReadWarning> warnings)
    {
        if (scanned.MissingCount > 0)
        {
            var over = scanned.OverRangeCount > 0 ? $", {scanned.OverRangeCount} of them beyond the range" : "";
            warnings.Add(new ReadWarning($"Column '{name}': {scanned.MissingCount} of {_count} values are missing{over}."));
        }

        if (scanned.WordCount > 0)
        {
            warnings.Add(new ReadWarning(
                $"Column '{name}': {(scanned.WordCount == 1 ? "1 cell is no number and counts" : $"{scanned.WordCount} cells are no numbers and count")} as missing: {string.Join(", ", scanned.Words.Select(Quoted.Of))}.",
                scanned.FirstWordLine));
        }
    }
}
