using System.Globalization;
using Leadwright.Core.Logs;
using Leadwright.Core.Studies;
using Leadwright.Core.Studies.Load;

namespace Leadwright.Reports.Studies;

/// <summary>The plots of a study as SVG.</summary>
public static class StudyPlots
{
    private const int MostPoints = 1800;
    private static readonly string[] s_colours = ["#1f4e79", "#a13d00", "#00695c"];
    private static readonly string[] s_dashes = ["", "7 3", "2 3"];

    /// <summary>All plots that the study has something for.</summary>
    /// <param name="document">The study.</param>
    public static IEnumerable<StudyFile> Of(StudyDocument document)
    {
        ArgumentNullException.ThrowIfNull(document);
        if (document.Load is { } load && load.Power.Extremes() is { Least: >= 0 } ends && load.Power.Count > 1)
        {
            yield return new StudyFile("load-profile.svg", Profile(load, [load.Power.Values[ends.Least], load.Power.Values[ends.Most]]));
            yield return new StudyFile("load-duration.svg", Duration(load));
            if (load.HeatMap.Length > 0) yield return new StudyFile("load-by-day-and-hour.svg", HeatMap(load));
        }

        if (VoltageProfile(document) is { } voltages) yield return new StudyFile("voltage-profile.svg", voltages);
        if (Histogram(document) is { } histogram) yield return new StudyFile("voltage-histogram.svg", histogram);
        if (document.Events is { } events && events.Any(found => found.HasMagnitude)) yield return new StudyFile("events.svg", MagnitudeDurationPlot.Of(events, document.Curves));
    }

    private static string Profile(LoadStudy load, double[] sorted)
    {
        var power = load.Power;
        var (from, to) = Span(power);
        var frame = new PlotFrame(
            "Load", FormattableString.Invariant($"Mean power of each interval, from {sorted[0] / 1000:0.##} to {sorted[^1] / 1000:0.##} kW; breaks are gaps."),
            (from, to), Range(Math.Min(sorted[0], 0) / 1000, sorted[^1] / 1000)).TicksY("kW").TicksX(Dates(from, to));
        frame.Line(Thinned(power, 0.001), s_colours[0]);
        if (!load.Peaks.IsEmpty && double.IsFinite(load.Peaks[0].Watts))
        {
            var peak = load.Peaks[0];
            var (x, y) = (frame.X(peak.From.Ticks), frame.Y(peak.Watts / 1000));
            frame.Mark($"<circle cx=\"{x}\" cy=\"{y}\" r=\"5\" fill=\"none\" stroke=\"#a13d00\" stroke-width=\"2\"/>");
            frame.Label(Math.Min(x + 8, 640), Math.Max(y - 8, 40), FormattableString.Invariant($"{peak.Minutes:0.##} min {StudyWords.Kind(peak.Kind)}: {StudyWords.Digits(peak.Watts / 1000, 5)} kW, {StudyWords.Time(peak.From)}"));
        }

        return frame.End();
    }

    private static string Duration(LoadStudy load)
    {
        var curve = load.Duration;
        var frame = new PlotFrame(
            "Load-duration curve", "Power over the share of the time in which it is reached or exceeded.", (0, 100), Range(Math.Min(curve[^1], 0) / 1000, curve[0] / 1000))
            .TicksY("kW").TicksX(Enumerable.Range(0, 11).Select(tenth => (10.0 * tenth, (10 * tenth).ToString(CultureInfo.InvariantCulture))), "% of the time");
        var step = Math.Max(curve.Length / MostPoints, 1);
        return frame.Line(Enumerable.Range(0, curve.Length).Where(index => index % step == 0 || index == curve.Length - 1).Select(index => (100.0 * (index + 1) / curve.Length, curve[index] / 1000)), s_colours[0], width: 2).End();
    }

    private static string HeatMap(LoadStudy load)
    {
        var days = load.HeatMap;
        var values = days.SelectMany(day => day.Watts).Where(double.IsFinite).ToList();
        var (least, most) = (values.Min(), values.Max());
        var frame = new PlotFrame(
            "Load by day and hour", FormattableString.Invariant($"Each cell is the mean of an hour, lightest {least / 1000:0.##} kW, darkest {most / 1000:0.##} kW; crossed cells are not known."), (0, days.Length), (24, 0))
            .TicksY("hour").TicksX(Enumerable.Range(0, days.Length).Where(index => index % Math.Max((days.Length + 9) / 10, 1) == 0).Select(index => (index + 0.5, days[index].Date.ToString("MM-dd", CultureInfo.InvariantCulture))));
        var width = PlotFrame.PlotWidth / days.Length;
        for (var index = 0; index < days.Length; index++)
        {
            for (var hour = 0; hour < 24; hour++)
            {
                var watts = days[index].Watts[hour];
                var (x, y, height) = (frame.X(index), frame.Y(hour), frame.Y(hour + 1) - frame.Y(hour));
                if (!double.IsFinite(watts))
                {
                    frame.Mark($"<path d=\"M{x} {y}l{width} {height}\" stroke=\"#999999\"/>");
                    continue;
                }

                var share = most > least ? (watts - least) / (most - least) : 0;
                var (red, green, blue) = ((int)(244 - (213 * share)), (int)(247 - (169 * share)), (int)(251 - (130 * share)));
                frame.Mark($"<rect x=\"{x}\" y=\"{y}\" width=\"{width + 0.3}\" height=\"{height + 0.3}\" fill=\"#{red.ToString("x2", CultureInfo.InvariantCulture)}{green.ToString("x2", CultureInfo.InvariantCulture)}{blue.ToString("x2", CultureInfo.InvariantCulture)}\"/>");
            }
        }

        return frame.Label(560, 24, FormattableString.Invariant($"light {least / 1000:0.##} kW, dark {most / 1000:0.##} kW")).End();
    }

    private static List<(string Name, StudySeries Series, double Nominal)> Voltages(StudyDocument document)
    {
        LogPlace[][] sets = [[LogPlace.Phase1, LogPlace.Phase2, LogPlace.Phase3], [LogPlace.Pair12, LogPlace.Pair23, LogPlace.Pair31]];
        foreach (var set in sets)
        {
            var found = set.Select(place => (Name: "V" + place.Suffix(), Series: document.Data.Series(LogQuantity.Voltage, place))).Where(found => found.Series is not null).ToList();
            if (found.Count == 0) continue;
            var nominal = set[0] == LogPlace.Phase1 ? document.Data.Nominal?.LineToNeutralVolts : document.Data.Nominal?.LineToLineVolts;
            return [.. found.Select(voltage => (voltage.Name, voltage.Series!, nominal ?? double.NaN))];
        }

        return [];
    }

    // Least and largest sound value of all; empty without one.
    private static double[] EndsOf(List<(string Name, StudySeries Series, double Nominal)> voltages)
    {
        double[] ends = [.. voltages.Select(voltage => (voltage.Series, Ends: voltage.Series.Extremes())).Where(found => found.Ends.Least >= 0)
            .SelectMany(found => new[] { found.Series.Values[found.Ends.Least], found.Series.Values[found.Ends.Most] }).Order()];
        return ends.Length == 0 ? [] : [ends[0], ends[^1]];
    }

    private static string? VoltageProfile(StudyDocument document)
    {
        var voltages = Voltages(document);
        var sorted = EndsOf(voltages);
        if (sorted.Length < 2) return null;
        var (from, to) = Span(voltages[0].Series);
        var nominal = voltages[0].Nominal;
        var frame = new PlotFrame(
            "Voltage", FormattableString.Invariant($"Rms of each interval, from {sorted[0]:0.#} to {sorted[^1]:0.#} V."), (from, to), Range(sorted[0], sorted[^1])).TicksY("V").TicksX(Dates(from, to));
        for (var index = 0; index < voltages.Count; index++)
        {
            frame.Line(Thinned(voltages[index].Series, 1), s_colours[index], s_dashes[index]);
            frame.Label(620 + (100 * index), 24, $"{voltages[index].Name} {(s_dashes[index].Length == 0 ? "full" : index == 1 ? "dashed" : "dotted")}", s_colours[index]);
        }

        if (nominal >= sorted[0] && nominal <= sorted[^1]) frame.Line([(from, nominal), (to, nominal)], "#555555", "1 4");
        return frame.End();
    }

    private static string? Histogram(StudyDocument document)
    {
        const int Bins = 60;
        var voltages = Voltages(document);
        var sorted = EndsOf(voltages);
        if (sorted.Length < 2 || sorted[^1] <= sorted[0]) return null;
        var (least, width) = (sorted[0], (sorted[^1] - sorted[0]) / Bins);
        var shares = voltages.Select(voltage =>
        {
            var counts = new double[Bins];
            var values = voltage.Series.SoundValues();
            foreach (var value in values) counts[Math.Min((int)((value - least) / width), Bins - 1)] += 100.0 / values.Length;
            return counts;
        }).ToArray();
        var frame = new PlotFrame(
            "Voltage, share of the time", FormattableString.Invariant($"Histogram of {Bins} bins of {width:0.###} V."), (sorted[0], sorted[^1]), (0, 1.08 * shares.Max(counts => counts.Max())))
            .TicksY("% of the time").TicksX(Enumerable.Range(0, 7).Select(tick => sorted[0] + (tick * (sorted[^1] - sorted[0]) / 6)).Select(value => (value, value.ToString("0.0", CultureInfo.InvariantCulture))), "V");
        for (var index = 0; index < voltages.Count; index++)
        {
            var counts = shares[index];
            frame.Line(Enumerable.Range(0, Bins).SelectMany(bin => new[] { (least + (bin * width), counts[bin]), (least + ((bin + 1) * width), counts[bin]) }), s_colours[index], s_dashes[index]);
            frame.Label(620 + (100 * index), 24, $"{voltages[index].Name} {(s_dashes[index].Length == 0 ? "full" : index == 1 ? "dashed" : "dotted")}", s_colours[index]);
        }

        return frame.End();
    }

    private static (double From, double To) Span(StudySeries series) => (series.Starts.Span[0], series.Starts.Span[^1] + series.IntervalTicks);

    private static (double From, double To) Range(double least, double most)
    {
        var room = Math.Max(0.06 * (most - least), 1e-3 * Math.Max(Math.Abs(most), 1e-3));
        return (least < 0 || least > 0 ? least - room : 0, most + room);
    }

    // Of more values than the sheet can show, least and largest of each stretch stand for it.
    private static IEnumerable<(double X, double Y)> Thinned(StudySeries series, double factor)
    {
        var step = Math.Max(2 * series.Count / MostPoints, 1);
        var slack = series.IntervalTicks * 3 / 2;
        for (var first = 0; first < series.Count; first += step)
        {
            var (low, high) = (-1, -1);
            if (first > 0 && series.Starts.Span[first] - series.Starts.Span[first - 1] > slack) yield return (series.Starts.Span[first], double.NaN);
            for (var row = first; row < Math.Min(first + step, series.Count); row++)
            {
                if (!series.IsKnown(row)) continue;
                if (low < 0 || series.Values[row] < series.Values[low]) low = row;
                if (high < 0 || series.Values[row] > series.Values[high]) high = row;
            }

            if (low < 0)
            {
                yield return (series.Starts.Span[first], double.NaN);
                continue;
            }

            yield return (series.Starts.Span[Math.Min(low, high)], factor * series.Values[Math.Min(low, high)]);
            if (low != high) yield return (series.Starts.Span[Math.Max(low, high)], factor * series.Values[Math.Max(low, high)]);
        }
    }

    private static IEnumerable<(double Value, string Label)> Dates(double from, double to)
    {
        var days = (to - from) / TimeSpan.TicksPerDay;
        var step = days switch { > 400 => 61, > 100 => 28, > 40 => 14, > 12 => 7, > 2 => 1, > 0.5 => 0.25, > 0.04 => 1.0 / 48, _ => 1.0 / 1440 };
        if (days / step > 16) step *= Math.Ceiling(days / step / 12);
        var length = step * TimeSpan.TicksPerDay;
        for (var tick = Math.Ceiling(from / length) * length; tick <= to; tick += length)
            yield return (tick, new DateTime((long)tick).ToString(step >= 1 ? "yyyy-MM-dd" : "MM-dd HH:mm", CultureInfo.InvariantCulture));
    }
}
