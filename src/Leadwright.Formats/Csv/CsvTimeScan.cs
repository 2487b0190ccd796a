using System.Collections.Immutable;
using System.Globalization;
using Leadwright.Formats.Sampling;
using Leadwright.Formats.Text;

namespace Leadwright.Formats.Csv;

/// <summary>Cuts a time column of any length into stretches of one rate, row by row at bounded memory.</summary>
/// <remarks>The usual step is that of the first 100,000 rows; the rate of a stretch is that of all its rows.</remarks>
internal sealed class CsvTimeScan(string source, CsvHeading heading, int column, List<ReadWarning> warnings)
{
    private const int LookedAt = 100_000;
    private const int MostWarnings = 100;

    private readonly List<Row> _held = [];
    private readonly ImmutableArray<WaveSegment>.Builder _segments = ImmutableArray.CreateBuilder<WaveSegment>();
    private double _scale = double.NaN, _period, _zero, _first, _last;
    private long _firstRow, _count;

    /// <summary>Takes the time of the next row.</summary>
    /// <param name="time">In the unit of the column, or in seconds when it holds dates.</param>
    /// <param name="line">Number of its line.</param>
    /// <param name="offset">Byte offset of its line.</param>
    /// <exception cref="FormatReadException">Times don't rise evenly.</exception>
    public void Add(double time, int line, long offset)
    {
        if (_held.Count < LookedAt && _count == 0) _held.Add(new Row(time, line, offset));
        else
        {
            TakeHeld();
            Take(new Row(time, line, offset));
        }
    }

    /// <summary>The stretches.</summary>
    /// <param name="isDate">True when the column holds dates.</param>
    /// <exception cref="FormatReadException">There is one row alone, or the unit is none of time.</exception>
    public ImmutableArray<WaveSegment> Finish(bool isDate)
    {
        _scale = isDate ? 1 : ScaleOf();
        if (_count + _held.Count < 2)
        {
            throw new FormatReadException(
                source, "at least two samples", "one", "One row has no sampling rate: export more of the recording.");
        }

        TakeHeld();
        Close();
        return [.. _segments.Select(segment => segment with
        {
            RateHertz = segment.RateHertz / _scale,
            StartSeconds = segment.StartSeconds * _scale,
        })];
    }

    private double ScaleOf()
    {
        if (heading.SecondsPerUnit is { } scale) return scale;
        if (heading.Unit.Length > 0)
        {
            throw new FormatReadException(
                source, "a unit of time (s, ms, us, ns)", Quoted.Of(heading.Unit),
                "Write the unit in the heading, as in 'time (s)'.", column: column, field: heading.Name);
        }

        warnings.Add(new ReadWarning($"Column '{heading.Name}' states no unit; seconds are taken. Write 'time (s)' in the heading."));
        return 1;
    }

    private void TakeHeld()
    {
        if (_held.Count == 0) return;
        _period = UsualStep();
        _zero = _first = _held[0].Time;
        foreach (var row in _held) Take(row);
        _held.Clear();
    }

    private void Take(Row row)
    {
        if (_count > 0 && IsGap(row))
        {
            Close();
            (_firstRow, _first) = (_count, row.Time);
            if (_segments.Count <= MostWarnings)
            {
                var seconds = (row.Time - _last) * (heading.SecondsPerUnit ?? 1);
                warnings.Add(new ReadWarning(string.Create(CultureInfo.InvariantCulture,
                    $"There is a gap of {seconds:0.######} s before this line; the recording is cut there."), row.Line, row.Offset));
            }
        }

        _last = row.Time;
        _count++;
    }

    private void Close()
    {
        var length = _count - _firstRow;
        var rate = length > 1 ? (length - 1) / (_last - _first) : 1 / _period;
        _segments.Add(new WaveSegment(_firstRow, length, rate, _first - _zero));
    }

    // The median: neither a gap nor the rounding of the times moves it far. Refined by the mean of the steps near it.
    private double UsualStep()
    {
        if (_held.Count < 2) return double.NaN;
        var steps = new double[_held.Count - 1];
        for (var index = 0; index < steps.Length; index++) steps[index] = _held[index + 1].Time - _held[index].Time;
        Array.Sort(steps);
        var median = steps[steps.Length / 2];
        var (sum, count) = (0.0, 0);
        foreach (var step in steps)
        {
            if (Math.Abs(step - median) > 0.5 * Math.Abs(median)) continue;
            sum += step;
            count++;
        }

        return count > 0 ? sum / count : median;
    }

    private bool IsGap(Row row)
    {
        var step = row.Time - _last;
        if (_period > 0 && step > 1.5 * _period) return true;
        // Times are often rounded to a few digits: up to half a step either way is put up with.
        if (_period > 0 && step >= 0.5 * _period) return false;
        throw new FormatReadException(
            source,
            string.Create(CultureInfo.InvariantCulture, $"a time {Math.Abs(_period):G6} after the row before, as in most rows"),
            string.Create(CultureInfo.InvariantCulture, $"{row.Time} after {_last}"),
            "Times must rise evenly. Where they are rounded too far, take the column out and state the rate with '# rate_hz:'.",
            row.Line, column, heading.Name, row.Offset);
    }

    private readonly record struct Row(double Time, int Line, long Offset);
}
