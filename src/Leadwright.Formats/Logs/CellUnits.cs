namespace Leadwright.Formats.Logs;

/// <summary>The units that stand in the cells of a column, number by number.</summary>
/// <param name="rows">How many rows there are.</param>
/// <remarks>Most columns have one for all of their cells, or none; a cell apart is a damaged one, and must not decide for the column.</remarks>
internal sealed class CellUnits(int rows)
{
    private const int MostUnits = 200;
    private readonly List<(string Unit, int Count, int FirstLine)> _units = [];
    private byte[]? _unitOf;

    /// <summary>The usual one: a base unit, or empty for none.</summary>
    public string Usual => _units.Count == 0 ? "" : _units[UsualIndex].Unit;

    /// <summary>How many numbers bear another one.</summary>
    public int OddCount => _units.Sum(unit => unit.Count) - (_units.Count == 0 ? 0 : _units[UsualIndex].Count);

    /// <summary>The first of the others: its unit, and the line on which it stands first.</summary>
    public (string Unit, int Line) FirstOdd => _units.Where((_, index) => index != UsualIndex).Select(unit => (unit.Unit, unit.FirstLine)).MinBy(odd => odd.FirstLine);

    private int UsualIndex
    {
        get
        {
            var usual = 0;
            for (var index = 1; index < _units.Count; index++)
            {
                if (_units[index].Count > _units[usual].Count) usual = index;
            }

            return usual;
        }
    }

    /// <summary>Counts a number's unit.</summary>
    /// <param name="row">Its row.</param>
    /// <param name="line">Its line.</param>
    /// <param name="unit">The base unit after it; empty when none.</param>
    public void Count(int row, int line, string unit)
    {
        var index = 0;
        while (index < _units.Count && _units[index].Unit != unit) index++;
        // More than there are units: all further ones are alike odd.
        if (index == MostUnits) index--;
        if (index == _units.Count) _units.Add((unit, 0, line));

        _units[index] = _units[index] with { Count = _units[index].Count + 1 };
        if (index > 0) (_unitOf ??= new byte[rows])[row] = (byte)index;
    }

    /// <summary>Takes out the numbers that bear another unit than is usual.</summary>
    /// <param name="numbers">The numbers, one a row.</param>
    public void TakeOutOdd(double[] numbers)
    {
        if (_unitOf is not { } units) return;
        var usual = UsualIndex;
        for (var row = 0; row < numbers.Length; row++)
        {
            // What is nothing is nothing in every unit, and is not counted.
            if (units[row] != usual && numbers[row] != 0) numbers[row] = double.NaN;
        }
    }
}
