using System.Collections.Immutable;

namespace Leadwright.Core.Logs;

/// <summary>Gathers a log that is handed over piece by piece, its rows joined into longer ones where that is wanted, so that its length is no matter.</summary>
/// <remarks>
/// Joined rows begin on whole multiples of their length since midnight, as a recorder set to that interval writes them. Volts and amperes are rms values,
/// a least and a largest value stay what they are, amounts are added, a counter's stand is its last; angles are the angle of the mean of unit phasors; all else is the
/// mean. A joined row that lacks a row for a gap is left out; a value is missing where half of its rows or more lack it, and an amount where any does.
/// </remarks>
public sealed class JoinedLog
{
    // An interval that is worked out from stamps differs a little from piece to piece.
    private const double IntervalSlack = 0.01;

    private readonly int _fold;
    private readonly List<long> _starts = [];
    private List<double>[] _values = [];
    private double[] _sums = [], _cosines = [];
    private int[] _counts = [];
    private ImmutableArray<LogColumn> _columns = [];
    private double _intervalSeconds;
    private long _rowTicks, _bucket = long.MinValue, _last = long.MinValue;
    private int _rows;

    /// <summary>Starts a log.</summary>
    /// <param name="fold">How many rows become one; 1 to leave them as they are.</param>
    public JoinedLog(int fold)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(fold, 1);
        _fold = fold;
    }

    /// <summary>Rows so far that stood before the one above them and were left out.</summary>
    public long LeftOutCount { get; private set; }

    /// <summary>Length of a joined row, seconds; 0 before the first piece.</summary>
    public double RowSeconds => _fold * _intervalSeconds;

    /// <summary>Takes a piece.</summary>
    /// <param name="piece">The next rows, with the columns and the interval of the first piece.</param>
    /// <param name="shiftTicks">Added to its times, ticks: what earlier pieces had their clock put right by.</param>
    /// <param name="cancellation">Ends the work early.</param>
    /// <exception cref="ArgumentException">It has other columns, or another interval.</exception>
    public void Add(IntervalLog piece, long shiftTicks, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(piece);
        if (_columns.IsEmpty) Begin(piece);
        else if (!piece.Columns.SequenceEqual(_columns)) throw new ArgumentException("It has other columns than the pieces before it.", nameof(piece));
        else if (Math.Abs(piece.IntervalSeconds - _intervalSeconds) > IntervalSlack * _intervalSeconds) throw new ArgumentException("It has another interval than the pieces before it.", nameof(piece));
        var columns = Enumerable.Range(0, _columns.Length).Select(piece.ArrayOf).ToArray();
        var starts = piece.Starts.Span;
        for (var row = 0; row < starts.Length; row++)
        {
            if (row % 4096 == 0) cancellation.ThrowIfCancellationRequested();
            var start = starts[row] + shiftTicks;
            if (start <= _last)
            {
                LeftOutCount++;
                continue;
            }

            _last = start;
            // A stamp may lie a little beside its second.
            var bucket = _fold == 1 ? start : (start + (piece.IntervalTicks / 2)) / _rowTicks;
            if (bucket != _bucket) Close(bucket);
            _rows++;
            for (var column = 0; column < columns.Length; column++) Take(column, columns[column][row]);
        }
    }

    /// <summary>The log of joined rows; nothing is taken after it.</summary>
    /// <exception cref="InvalidOperationException">No piece was taken.</exception>
    public IntervalLog ToLog()
    {
        if (_columns.IsEmpty) throw new InvalidOperationException("There is no piece.");
        Close(long.MinValue);
        return new IntervalLog(_columns, [.. _starts], [.. _values.Select(column => column.ToArray())], RowSeconds);
    }

    private void Begin(IntervalLog piece)
    {
        (_columns, _intervalSeconds) = (piece.Columns, piece.IntervalSeconds);
        _rowTicks = _fold == 1 ? 1 : _fold * piece.IntervalTicks;
        _values = [.. _columns.Select(_ => new List<double>())];
        (_sums, _cosines, _counts) = (new double[_columns.Length], new double[_columns.Length], new int[_columns.Length]);
    }

    private void Close(long next)
    {
        if (_rows == _fold)
        {
            _starts.Add(_bucket * _rowTicks);
            for (var column = 0; column < _values.Length; column++) _values[column].Add(Joined(column));
        }

        (_bucket, _rows) = (next, 0);
        Array.Clear(_sums);
        Array.Clear(_cosines);
        Array.Clear(_counts);
    }

    private void Take(int column, double value)
    {
        if (double.IsNaN(value)) return;
        var isFirst = _counts[column]++ == 0;
        switch (_columns[column])
        {
            case { Statistic: LogStatistic.Minimum }: _sums[column] = isFirst ? value : Math.Min(_sums[column], value); break;
            case { Statistic: LogStatistic.Maximum }: _sums[column] = isFirst ? value : Math.Max(_sums[column], value); break;
            case { Statistic: LogStatistic.Counter }: _sums[column] = value; break;
            case { Quantity: LogQuantity.Voltage or LogQuantity.Current, Statistic: not LogStatistic.Amount }: _sums[column] += value * value; break;
            case { Quantity: LogQuantity.VoltageAngle or LogQuantity.CurrentAngle }:
                var (sine, cosine) = Math.SinCos(value * Math.PI / 180);
                _sums[column] += sine;
                _cosines[column] += cosine;
                break;
            default: _sums[column] += value; break;
        }
    }

    private double Joined(int column)
    {
        var count = _counts[column];
        var of = _columns[column];
        if (of.Statistic == LogStatistic.Amount) return count == _fold ? _sums[column] : double.NaN;
        if (2 * count <= _fold) return double.NaN;
        return of switch
        {
            { Statistic: LogStatistic.Minimum or LogStatistic.Maximum or LogStatistic.Counter } => _sums[column],
            { Quantity: LogQuantity.Voltage or LogQuantity.Current } => Math.Sqrt(_sums[column] / count),
            { Quantity: LogQuantity.VoltageAngle or LogQuantity.CurrentAngle } => Math.Atan2(_sums[column], _cosines[column]) * 180 / Math.PI,
            _ => _sums[column] / count,
        };
    }
}
