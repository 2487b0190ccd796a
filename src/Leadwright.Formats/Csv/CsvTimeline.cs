using System.Collections.Immutable;
using System.Globalization;
using Leadwright.Core.Signals;
using Leadwright.Formats.Sampling;
using Leadwright.Formats.Text;

namespace Leadwright.Formats.Csv;

/// <summary>When the samples of a table were taken.</summary>
/// <param name="Stretches">The stretches of one rate.</param>
/// <param name="Start">Time of the first sample; null when not stated.</param>
internal sealed record CsvTimeline(ImmutableArray<WaveSegment> Stretches, DateTime? Start)
{
    /// <summary>The stretches of a table in memory.</summary>
    public ImmutableArray<RateSegment> Segments =>
        [.. Stretches.Select(part => new RateSegment((int)part.FirstRow, (int)part.Length, part.RateHertz, part.StartSeconds))];

    /// <summary>By the time column of a table in memory, or by the stated rate where there is none.</summary>
    public static CsvTimeline Of(CsvSampleTable table, CsvPreamble preamble, CsvSampleOptions options, List<ReadWarning> warnings)
    {
        if (table.TimeHeading is not { } heading) return ByRate(table.Source, table.RowCount, preamble, options);
        var scan = new CsvTimeScan(table.Source, heading, table.TimeColumnNumber, warnings);
        var times = table.Times;
        for (var row = 0; row < times.Length; row++)
        {
            var line = table.LineOf(row);
            scan.Add(times[row], line.Number, line.ByteOffset);
        }

        return ByColumn(table.Source, scan, table.FirstDate, preamble, options, warnings);
    }

    /// <summary>By the stated rate.</summary>
    /// <param name="source">Display name for errors.</param>
    /// <param name="rows">Rows of the table; <see cref="long.MaxValue"/> when not known.</param>
    /// <param name="preamble">The remark lines.</param>
    /// <param name="options">How to read.</param>
    /// <exception cref="FormatReadException">None is stated, or it is that of no waveform.</exception>
    public static CsvTimeline ByRate(string source, long rows, CsvPreamble preamble, CsvSampleOptions options)
    {
        var rate = options.RateHertz ?? preamble.RateHertz ?? throw new FormatReadException(
            source, "a time column, or a stated sampling rate", "neither",
            "Name a column 'time (s)', put '# rate_hz: 10240' above the headings, or give the rate with --rate.");
        RefuseSlow(rate, source, options);
        return new([new WaveSegment(0, rows, rate, 0)], preamble.Start);
    }

    /// <summary>By a time column that was gone through.</summary>
    /// <param name="source">Display name for errors.</param>
    /// <param name="scan">What was found in it.</param>
    /// <param name="firstDate">Date and time of the first row, where it holds dates.</param>
    /// <param name="preamble">The remark lines.</param>
    /// <param name="options">How to read.</param>
    /// <param name="warnings">Receives what was put up with.</param>
    /// <exception cref="FormatReadException">It is no time column of a waveform.</exception>
    public static CsvTimeline ByColumn(
        string source, CsvTimeScan scan, DateTime? firstDate, CsvPreamble preamble, CsvSampleOptions options, List<ReadWarning> warnings)
    {
        var segments = scan.Finish(firstDate is not null);
        RefuseSlow(segments.MaxBy(segment => segment.Length).RateHertz, source, options);
        if ((options.RateHertz ?? preamble.RateHertz) is { } other && Math.Abs((segments[0].RateHertz / other) - 1) > SampleTimes.StepTolerance)
        {
            warnings.Add(new ReadWarning(string.Create(CultureInfo.InvariantCulture,
                $"The rate is stated as {other} Hz, but the time column runs at {segments[0].RateHertz:0.###} Hz; the column is taken.")));
        }

        return new(segments, preamble.Start ?? firstDate);
    }

    private static void RefuseSlow(double rate, string source, CsvSampleOptions options)
    {
        if (rate >= options.LeastRateHertz) return;
        throw new FormatReadException(
            source,
            string.Create(CultureInfo.InvariantCulture, $"samples of a waveform, at least {options.LeastRateHertz} a second"),
            string.Create(CultureInfo.InvariantCulture, $"{rate:G4} a second"),
            "This looks like a log of intervals, not a recording of samples.");
    }
}
