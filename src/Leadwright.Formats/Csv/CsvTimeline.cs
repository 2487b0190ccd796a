using System.Collections.Immutable;
using System.Globalization;
using Leadwright.Core.Signals;
using Leadwright.Formats.Text;

namespace Leadwright.Formats.Csv;

/// <summary>When the samples of a table were taken.</summary>
/// <param name="Segments">The stretches of one rate.</param>
/// <param name="Start">Time of the first sample; null when not stated.</param>
internal sealed record CsvTimeline(ImmutableArray<RateSegment> Segments, DateTime? Start)
{
    /// <summary>By the time column, or by the stated rate where there is none.</summary>
    public static CsvTimeline Of(CsvSampleTable table, CsvPreamble preamble, CsvSampleOptions options, List<ReadWarning> warnings)
    {
        var stated = options.RateHertz ?? preamble.RateHertz;
        if (table.TimeHeading is not { } heading)
        {
            var rate = stated ?? throw new FormatReadException(
                table.Source, "a time column, or a stated sampling rate", "neither",
                "Name a column 'time (s)', put '# rate_hz: 10240' above the headings, or give the rate with --rate.");
            RefuseSlow(rate, table, options);
            return new([new RateSegment(0, table.RowCount, rate, 0)], preamble.Start);
        }

        var segments = FromColumn(table, heading, warnings);
        RefuseSlow(segments.MaxBy(segment => segment.Length).RateHertz, table, options);
        if (stated is { } other && Math.Abs((segments[0].RateHertz / other) - 1) > SampleTimes.StepTolerance)
        {
            warnings.Add(new ReadWarning(string.Create(CultureInfo.InvariantCulture,
                $"The rate is stated as {other} Hz, but the time column runs at {segments[0].RateHertz:0.###} Hz; the column is taken.")));
        }

        return new(segments, preamble.Start ?? table.FirstDate);
    }

    private static ImmutableArray<RateSegment> FromColumn(CsvSampleTable table, CsvHeading heading, List<ReadWarning> warnings)
    {
        var isDate = table.FirstDate is not null;
        var scale = isDate ? 1 : heading.SecondsPerUnit ?? 0;
        if (scale == 0)
        {
            if (heading.Unit.Length > 0)
            {
                throw new FormatReadException(
                    table.Source, "a unit of time (s, ms, us, ns)", Quoted.Of(heading.Unit),
                    "Write the unit in the heading, as in 'time (s)'.", column: table.TimeColumnNumber, field: heading.Name);
            }

            scale = 1;
            warnings.Add(new ReadWarning($"Column '{heading.Name}' states no unit; seconds are taken. Write 'time (s)' in the heading."));
        }

        var times = table.Times;
        if (times.Length < 2)
        {
            throw new FormatReadException(
                table.Source, "at least two samples", "one", "One row has no sampling rate: export more of the recording.");
        }

        var period = UsualStep(times);
        var segments = ImmutableArray.CreateBuilder<RateSegment>();
        var first = 0;
        for (var row = 1; row <= times.Length; row++)
        {
            if (row < times.Length && !IsGap(table, times, row, period)) continue;
            var length = row - first;
            var rate = (length > 1 ? (length - 1) / (times[row - 1] - times[first]) : 1 / period) / scale;
            segments.Add(new RateSegment(first, length, rate, (times[first] - times[0]) * scale));
            if (row < times.Length)
            {
                warnings.Add(new ReadWarning(string.Create(CultureInfo.InvariantCulture,
                    $"There is a gap of {(times[row] - times[row - 1]) * scale:0.######} s before this line; the recording is cut there."),
                    table.LineOf(row).Number, table.LineOf(row).ByteOffset));
            }

            first = row;
        }

        return segments.ToImmutable();
    }

    // The median: neither a gap nor the rounding of the times moves it far. Refined by the mean of the steps near it.
    private static double UsualStep(ReadOnlySpan<double> times)
    {
        var steps = new double[times.Length - 1];
        for (var index = 0; index < steps.Length; index++) steps[index] = times[index + 1] - times[index];
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

    private static bool IsGap(CsvSampleTable table, ReadOnlySpan<double> times, int row, double period)
    {
        var step = times[row] - times[row - 1];
        if (period > 0 && step > 1.5 * period) return true;
        // Times are often rounded to a few digits: up to half a step either way is put up with.
        if (period > 0 && step >= 0.5 * period) return false;
        var line = table.LineOf(row);
        throw new FormatReadException(
            table.Source,
            string.Create(CultureInfo.InvariantCulture, $"a time {Math.Abs(period):G6} after the row before, as in most rows"),
            string.Create(CultureInfo.InvariantCulture, $"{times[row]} after {times[row - 1]}"),
            "Times must rise evenly. Where they are rounded too far, take the column out and state the rate with '# rate_hz:'.",
            line.Number, table.TimeColumnNumber, table.TimeHeading?.Name, line.ByteOffset);
    }

    private static void RefuseSlow(double rate, CsvSampleTable table, CsvSampleOptions options)
    {
        if (rate >= options.LeastRateHertz) return;
        throw new FormatReadException(
            table.Source,
            string.Create(CultureInfo.InvariantCulture, $"samples of a waveform, at least {options.LeastRateHertz} a second"),
            string.Create(CultureInfo.InvariantCulture, $"{rate:G4} a second"),
            "This looks like a log of intervals, not a recording of samples.");
    }
}
