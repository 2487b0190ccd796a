using System.Collections.Immutable;
using System.Globalization;
using Leadwright.Core.Signals;
using Leadwright.Formats.Text;

namespace Leadwright.Formats.Csv;

/// <summary>The numbers of a table, by column.</summary>
internal sealed class CsvSampleTable(string source, CsvHead head)
{
    private readonly ImmutableArray<CsvHeading> _headings = head.Headings;
    private readonly CsvRowReader _reader = new(source, head);
    private double[][] _columns = [];
    private SourceLine[] _lines = [];

    /// <summary>Display name of the source.</summary>
    public string Source => source;

    /// <summary>Number of rows read.</summary>
    public int RowCount { get; private set; }

    /// <summary>The heading of the time column; null when there is none.</summary>
    public CsvHeading? TimeHeading => _reader.TimeColumn < 0 ? null : _headings[_reader.TimeColumn];

    /// <summary>Number of the time column, from 1; 0 when there is none.</summary>
    public int TimeColumnNumber => _reader.TimeColumn + 1;

    /// <summary>The times: in the unit of the column, or in seconds after <see cref="FirstDate"/>.</summary>
    public ReadOnlySpan<double> Times => _columns[_reader.TimeColumn].AsSpan(0, RowCount);

    /// <summary>The date and time of the first row, when the time column holds dates; else null.</summary>
    public DateTime? FirstDate => _reader.FirstDate;

    /// <summary>The line of a row.</summary>
    public SourceLine LineOf(int row) => _lines[row];

    /// <summary>Reads the rows.</summary>
    public void Read(List<SourceLine> body, List<ReadWarning> warnings)
    {
        _columns = [.. _headings.Select(_ => new double[body.Count])];
        _lines = [.. body];
        var values = new double[_headings.Length];
        foreach (var line in body)
        {
            _reader.Read(line, RowCount == 0, values);
            for (var column = 0; column < values.Length; column++) _columns[column][RowCount] = values[column];
            RowCount++;
        }

        foreach (var (column, heading) in _headings.Index())
        {
            if (column == _reader.TimeColumn) continue;
            if (_columns[column].Count(double.IsNaN) is > 0 and var missing) warnings.Add(Missing(heading, missing, RowCount));
        }
    }

    /// <summary>The channels in base units.</summary>
    public ImmutableArray<SampledChannel> Channels(List<ReadWarning> warnings)
    {
        var channels = ImmutableArray.CreateBuilder<SampledChannel>();
        for (var column = 0; column < _headings.Length; column++)
        {
            if (column == _reader.TimeColumn) continue;
            var unit = UnitText.Parse(_headings[column].Unit);
            var values = _columns[column];
            if (unit.Factor != 1)
            {
                foreach (ref var value in values.AsSpan()) value *= unit.Factor;
            }

            if (WithoutUnit(_headings[column]) is { } warning) warnings.Add(warning);
            channels.Add(new SampledChannel(_headings[column].Name, "", _headings[column].Unit, values.AsMemory(0, RowCount)));
        }

        return channels.ToImmutable();
    }

    public static ReadWarning Missing(CsvHeading heading, long missing, long rows) => new(string.Create(
        CultureInfo.InvariantCulture, $"Column '{heading.Name}': {missing} of {rows} samples are missing."));

    public static ReadWarning? WithoutUnit(CsvHeading heading) => heading.Unit.Length > 0 ? null : new ReadWarning(
        $"Column '{heading.Name}' states no unit; its numbers are taken as they are. Write the unit in the heading, as in '{heading.Name} (V)'.");
}
