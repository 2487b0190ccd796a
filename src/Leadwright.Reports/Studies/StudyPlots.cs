using System.Globalization;
using Leadwright.Core.Logs;
using Leadwright.Core.Studies;
using Leadwright.Core.Studies.Load;

namespace Leadwright.Reports.Studies;

/// <summary>The plots of a study as SVG.</summary>
public static class StudyPlots
{
    private const int MostPoints = 1800;
    private const string Line = "#1f4e79", Estimated = "#a13d00";

    // A histogram of fewer values shows their number, not their spread.
    private const int LeastForHistogram = 24;

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
        var hasEstimates = HasEstimates(power);
        var frame = new PlotFrame(
            "Load", FormattableString.Invariant($"Mean power of each interval, from {sorted[0] / 1000:0.##} to {sorted[^1] / 1000:0.##} kW; breaks are gaps{(hasEstimates ? ", dotted stretches are estimates" : "")}."),
            (from, to), Range(Math.Min(sorted[0], 0) / 1000, sorted[^1] / 1000)).TicksY("kW").TicksX(Dates(from, to), YearOf(from, to));
        Curve(frame, power, 0.001);
        if (hasEstimates) frame.Label(PlotFrame.PlotEnd, 42, "dotted: estimated", Estimated, "end");
        if (!load.Peaks.IsEmpty && double.IsFinite(load.Peaks[0].Watts))
        {
            var peak = load.Peaks[0];
            var (x, end, y) = (frame.X(peak.From.Ticks), frame.X(peak.To.Ticks), frame.Y(peak.Watts / 1000));
            frame.Mark($"<path d=\"M{Math.Min(x, end - 8)} {y}H{end}\" stroke=\"#a13d00\" stroke-width=\"4\"/>");
            frame.Label(PlotFrame.PlotEnd, 24, FormattableString.Invariant($"Thick mark: highest {peak.Minutes:0.##} min {StudyWords.Kind(peak.Kind)}: {StudyWords.Digits(peak.Watts / 1000, 4)} kW, {StudyWords.Time(peak.From)}"), Estimated, "end");
        }

        return frame.End();
    }

    private static bool HasEstimates(StudySeries series) => Enumerable.Range(0, series.Count).Any(row => series.StandingOf(row) == Standing.Modelled);

    // What was measured or mended in full, what is only estimated dotted and in another colour.
    private static void Curve(PlotFrame frame, StudySeries series, double factor)
    {
        frame.Line(Thinned(series, factor, standing => standing <= Standing.Mended), Line);
        if (HasEstimates(series)) frame.Line(Thinned(series, factor, standing => standing == Standing.Modelled), Estimated, "2 3", 2);
    }

    private static string Duration(LoadStudy load)
    {
        var curve = load.Duration;
        var frame = new PlotFrame(
            "Load-duration curve", "Power over the share of the time in which it is reached or exceeded.", (0, 100), Range(Math.Min(curve[^1], 0) / 1000, curve[0] / 1000))
            .TicksY("kW").TicksX(Enumerable.Range(0, 11).Select(tenth => (10.0 * tenth, (10 * tenth).ToString(CultureInfo.InvariantCulture))), "% of the time");
        var step = Math.Max(curve.Length / MostPoints, 1);
        return frame.Line(Enumerable.Range(0, curve.Length).Where(index => index % step == 0 || index == curve.Length - 1).Select(index => (100.0 * (index + 1) / curve.Length, curve[index] / 1000)), Line, width: 2).End();
    }

    private static string HeatMap(LoadStudy load)
    {
        var days = load.EveryDay;
        var values = days.SelectMany(day => day.Watts).Where(double.IsFinite).ToList();
        var (least, most) = (values.Min(), values.Max());
        var frame = new PlotFrame(
            "Load by day and hour", FormattableString.Invariant($"Each cell is the mean of an hour, lightest {least / 1000:0.##} kW, darkest {most / 1000:0.##} kW; crossed cells are not known."), (0, days.Length), (24, 0))
            .TicksY("hour", Enumerable.Range(0, 9).Select(tick => (3.0 * tick, $"{3 * tick:00}")))
            .TicksX(Enumerable.Range(0, days.Length).Where(index => index % Math.Max((days.Length + 7) / 8, 1) == 0).Select(index => (index + 0.5, RecordTime.Text(days[index].Date, "yyyy-MM-dd"))));
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
                frame.Mark($"<rect x=\"{x}\" y=\"{y}\" width=\"{width + 0.3}\" height=\"{height + 0.3}\" fill=\"{Shade(share)}\"/>");
            }
        }

        if (values.Count < 24 * days.Length) frame.Label(PlotFrame.PlotEnd, 44, "crossed: not measured", "#555555", "end");
        // The scale: a box for each fifth.
        frame.Label(690, 24, $"{StudyWords.Digits(least / 1000, 3)} kW", anchor: "end");
        for (var step = 0; step <= 5; step++) frame.Mark($"<rect x=\"{698 + (26 * step)}\" y=\"12\" width=\"26\" height=\"14\" fill=\"{Shade(step / 5.0)}\" stroke=\"#d0d0d0\" stroke-width=\"0.5\"/>");
        return frame.Label(862, 24, $"{StudyWords.Digits(most / 1000, 3)} kW").End();
    }

    // Lightness alone tells them apart: it stays readable in black and white.
    private static string Shade(double share) => FormattableString.Invariant($"#{(int)(244 - (213 * share)):x2}{(int)(247 - (169 * share)):x2}{(int)(251 - (130 * share)):x2}");

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

    // A panel for each lead, all of one scale: lines on top of each other would hide one another.
    private static string? VoltageProfile(StudyDocument document)
    {
        var voltages = Voltages(document);
        var sorted = EndsOf(voltages);
        if (sorted.Length < 2 || voltages[0].Series.Count < 3) return null;
        var (from, to) = Span(voltages[0].Series);
        var nominal = voltages[0].Nominal;
        var hasEstimates = voltages.Any(voltage => HasEstimates(voltage.Series));
        var frame = new PlotFrame(
            "Voltage", FormattableString.Invariant($"Rms of each interval, from {sorted[0]:0.#} to {sorted[^1]:0.#} V{(hasEstimates ? "; dotted stretches are estimates" : "")}."), (from, to), Range(sorted[0], sorted[^1]))
            .TicksX(Dates(from, to), YearOf(from, to));
        if (double.IsFinite(nominal)) frame.Label(PlotFrame.PlotEnd, 24, FormattableString.Invariant($"finely dotted: nominal, {nominal:0.#} V{(hasEstimates ? "; dotted: estimated" : "")}"), "#555555", "end");
        for (var index = 0; index < voltages.Count; index++)
        {
            frame.Panel(index, voltages.Count, Range(sorted[0], sorted[^1])).TicksY(index == 0 ? "V" : "", voltages.Count == 1 ? 6 : 3);
            if (nominal >= sorted[0] && nominal <= sorted[^1]) frame.Line([(from, nominal), (to, nominal)], "#555555", "1 4");
            Curve(frame, voltages[index].Series, 1);
            frame.Label(16, (frame.Y(Range(sorted[0], sorted[^1]).From) + frame.Y(Range(sorted[0], sorted[^1]).To)) / 2, voltages[index].Name, isBold: true);
        }

        return frame.End();
    }

    private static string? Histogram(StudyDocument document)
    {
        const int Bins = 60;
        var voltages = Voltages(document);
        var gone = LoggedInterruptions.Of(document.Data);
        var values = voltages.Select(voltage => ValuesOf(voltage.Series, gone)).ToArray();
        if (values.Length == 0 || !values.Any(own => own.Length >= LeastForHistogram)) return null;
        // Single dips and outages would make all else one bar: what lies beyond a thousandth of the time stands in the first and the last bar.
        var all = values.SelectMany(own => own).ToArray();
        var (least, most) = (Percentile.OfUnsorted(all, 0.1), Percentile.OfUnsorted(all, 99.9));
        if (!(most > least)) return null;
        var width = (most - least) / Bins;
        var shares = values.Select(own =>
        {
            var counts = new double[Bins];
            foreach (var value in own) counts[(int)Math.Clamp((value - least) / width, 0, Bins - 1)] += 100.0 / own.Length;
            return counts;
        }).ToArray();
        var range = (0, 1.12 * shares.Max(counts => counts.Max()));
        var frame = new PlotFrame(
            "Voltage, share of the time", FormattableString.Invariant($"Histogram of {Bins} bars of {width:0.###} V; the first and the last hold what lies beyond them{(gone.Contains(true) ? "; interruptions of the supply are left out" : "")}."), (least, most), range)
            .TicksX("V", 8);
        if (gone.Contains(true)) frame.Label(PlotFrame.PlotEnd, 24, "without interruptions of the supply", "#555555", "end");
        for (var index = 0; index < voltages.Count; index++)
        {
            var counts = shares[index];
            frame.Panel(index, voltages.Count, range).TicksY(index == 0 ? "% of the time" : "", voltages.Count == 1 ? 6 : 3);
            for (var bin = 0; bin < Bins; bin++)
            {
                if (counts[bin] > 0) frame.Mark($"<rect x=\"{frame.X(least + (bin * width))}\" y=\"{frame.Y(counts[bin])}\" width=\"{(PlotFrame.PlotWidth / Bins) - 1}\" height=\"{frame.Y(0) - frame.Y(counts[bin])}\" fill=\"{Line}\"/>");
            }

            frame.Label(16, (frame.Y(0) + frame.Y(range.Item2)) / 2, voltages[index].Name, isBold: true);
        }

        return frame.End();
    }

    // While the supply is gone there is no level of the voltage.
    private static double[] ValuesOf(StudySeries series, bool[] gone) =>
        [.. Enumerable.Range(0, series.Count).Where(row => series.IsSound(row) && !(row < gone.Length && gone[row])).Select(row => series.Values[row])];

    private static (double From, double To) Span(StudySeries series) => (series.Starts.Span[0], series.Starts.Span[^1] + series.IntervalTicks);

    private static (double From, double To) Range(double least, double most)
    {
        var room = Math.Max(0.06 * (most - least), 1e-3 * Math.Max(Math.Abs(most), 1e-3));
        return (least < 0 || least > 0 ? least - room : 0, most + room);
    }

    // Of more values than the sheet can show, least and largest of each stretch stand for it.
    private static IEnumerable<(double X, double Y)> Thinned(StudySeries series, double factor, Func<Standing, bool> isWanted)
    {
        var step = Math.Max(2 * series.Count / MostPoints, 1);
        var slack = series.IntervalTicks * 3 / 2;
        for (var first = 0; first < series.Count; first += step)
        {
            var (low, high) = (-1, -1);
            if (first > 0 && series.Starts.Span[first] - series.Starts.Span[first - 1] > slack) yield return (series.Starts.Span[first], double.NaN);
            for (var row = first; row < Math.Min(first + step, series.Count); row++)
            {
                if (!isWanted(series.StandingOf(row)) || !series.IsKnown(row)) continue;
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

    // The shortest step of the clock or the calendar that leaves room for its labels.
    private static readonly double[] s_steps = [1, 2, 5, 15, 30, 60, 120, 300, 600, 1800, 3600, 7200, 10800, 21600, 43200, 86400, 2 * 86400, 7 * 86400, 14 * 86400, 28 * 86400, 61 * 86400];

    private static IEnumerable<(double Value, string Label)> Dates(double from, double to)
    {
        var seconds = (to - from) / TimeSpan.TicksPerSecond;
        var step = s_steps.FirstOrDefault(candidate => seconds / candidate <= 8.5, Math.Ceiling(seconds / 8 / 86400) * 86400);
        var length = step * TimeSpan.TicksPerSecond;
        for (var tick = Math.Ceiling(from / length) * length; tick <= to; tick += length)
            yield return (tick, RecordTime.Text(new DateTime((long)tick), step >= 86400 ? "yyyy-MM-dd" : step >= 60 ? "MM-dd HH:mm" : "HH:mm:ss"));
    }

    // Labels of hours bear no year.
    private static string YearOf(double from, double to) => to - from > 4.25 * TimeSpan.TicksPerDay || !RecordTime.IsDated(new DateTime((long)from)) ? "" : new DateTime((long)from).ToString(to - from < 8.5 * TimeSpan.TicksPerMinute ? "yyyy-MM-dd" : "yyyy", CultureInfo.InvariantCulture);
}
