using Leadwright.Core.Logs;
using Leadwright.Core.Studies;
using Leadwright.Core.Studies.Load;
using Leadwright.Documents.Drawings;
using Leadwright.Documents.Words;

namespace Leadwright.Documents.Charts;

/// <summary>The charts of a load study besides power over time.</summary>
internal static class LoadCharts
{
    private const double Half = 231;

    /// <summary>Mean power of each hour of each day as shades of grey; hours that are not known are crossed.</summary>
    public static Drawing HeatMap(LoadStudy load, ReportWords words)
    {
        var days = load.EveryDay;
        var values = days.SelectMany(day => day.Watts).Where(double.IsFinite).ToList();
        var (least, most) = (Math.Min(values.Min(), 0), values.Max());
        const double Left = 62, Width = 480;
        var row = Math.Clamp(250.0 / days.Length, 1.3, 13);
        var board = new DrawingBoard(Width, 14 + (days.Length * row) + 31);
        var cell = (Width - Left - 4) / 24;
        for (var index = 0; index < days.Length; index++)
        {
            var date = days[index].Date.ToDateTime(default);
            var y = 14 + (index * row);
            var isNamed = row > 9 || date.Day == 1 || (row > 3 && date.DayOfWeek == DayOfWeek.Monday);
            if (isNamed) board.Text(Left - 6, y + Math.Min(row, 9) - 0.4 + Math.Max((row - 9) / 2, 0), row > 9 ? words.Day(date) : words.Date(date), 7.6, TextAnchor.End, colour: Palette.Soft);
            for (var hour = 0; hour < 24; hour++)
            {
                var watts = days[index].Watts[hour];
                var gap = row > 5 ? 0.6 : 0;
                if (!double.IsFinite(watts))
                {
                    if (row > 5) board.Rectangle(Left + (hour * cell), y, cell - gap, row - gap, new Ink { Fill = Palette.Board, Pattern = Looks.Cross });
                    continue;
                }

                board.Rectangle(Left + (hour * cell), y, cell - gap, row - gap + (gap == 0 ? 0.2 : 0), new Ink { Fill = Shade(watts, least, most) });
            }
        }

        var bottom = 14 + (days.Length * row);
        for (var hour = 0; hour <= 24; hour += 3) board.Text(Left + (hour * cell), 9, $"{hour:00}", 7.6, TextAnchor.Middle, colour: Palette.Soft);
        for (var step = 0; step < 40; step++)
            board.Rectangle(Left + (step * 3), bottom + 10, 3.2, 8, new Ink { Fill = Shade(least + ((most - least) * step / 39), least, most) });
        board.Rectangle(Left, bottom + 10, 120, 8, new Ink { Stroke = Palette.Grey, StrokeWidth = 0.5 });
        board.Text(Left, bottom + 28, $"{words.Digits(least / 1000, 3)} kW", 7.6, colour: Palette.Soft);
        board.Text(Left + 120, bottom + 28, $"{words.Digits(most / 1000, 3)} kW", 7.6, TextAnchor.End, colour: Palette.Soft);
        board.Text(Left + 132, bottom + 17, words.Of("chart.heat.key"), 7.6, colour: Palette.Soft);
        return board.Finish(words.Of("chart.heat.title"), $"{words.Digits(least / 1000, 3)} – {words.Digits(most / 1000, 3)} kW.");
    }

    /// <summary>Power over the share of the time in which it is reached.</summary>
    public static Drawing Duration(LoadStudy load, ReportWords words)
    {
        var curve = load.Duration;
        var board = new DrawingBoard(Half, 166);
        var (least, most) = (Math.Min(curve[^1], 0) / 1000, Math.Max(curve[0] / 1000, 1e-3));
        var frame = new ChartFrame(board, (40, 22, Half - 8, 140), (0, 100), (least, most * 1.05), words).TicksY("kW", 4)
            .TicksX(Enumerable.Range(0, 5).Select(quarter => (25.0 * quarter, $"{25 * quarter}")), words.Of("chart.share-of-time"));
        var step = Math.Max(curve.Length / 400, 1);
        frame.Curve(
            Enumerable.Range(0, curve.Length).Where(index => index % step == 0 || index == curve.Length - 1).Select(index => (100.0 * (index + 1) / curve.Length, curve[index] / 1000)),
            new Ink { Stroke = Palette.Ink, StrokeWidth = 1.4 });
        var middle = curve[curve.Length / 2] / 1000;
        board.Circle(frame.X(50), frame.Y(middle), 2.4, new Ink { Fill = Palette.Paper, Stroke = Palette.Copper, StrokeWidth = 1.2 });
        board.Text(frame.X(50) + 5, frame.Y(middle) - 5, words.Of("chart.duration.half", ("kw", words.Digits(middle, 3))), 7.8, isBold: true, hasHalo: true);
        return board.Finish(words.Of("chart.duration.title"), words.Of("chart.duration.half", ("kw", words.Digits(middle, 3))));
    }

    /// <summary>The mean day: working days a full line, Saturdays and Sundays a dashed one.</summary>
    public static Drawing? Day(LoadStudy load, ReportWords words)
    {
        var days = load.HeatMap;
        double[] Mean(Func<LoadDay, bool> isWanted)
        {
            var wanted = days.Where(isWanted).ToList();
            return [.. Enumerable.Range(0, 24).Select(hour => wanted.Select(day => day.Watts[hour]).Where(double.IsFinite).DefaultIfEmpty(double.NaN).Average())];
        }

        var work = Mean(day => day.Date.DayOfWeek is not (DayOfWeek.Saturday or DayOfWeek.Sunday));
        var rest = Mean(day => day.Date.DayOfWeek is DayOfWeek.Saturday or DayOfWeek.Sunday);
        var known = work.Concat(rest).Where(double.IsFinite).ToList();
        if (known.Count < 12) return null;
        var board = new DrawingBoard(Half, 166);
        var frame = new ChartFrame(board, (40, 22, Half - 8, 140), (0, 24), (Math.Min(known.Min(), 0) / 1000, Math.Max(known.Max() / 1000, 1e-3) * 1.12), words).TicksY("kW", 4)
            .TicksX(Enumerable.Range(0, 5).Select(quarter => (6.0 * quarter, $"{6 * quarter:00}")), words.Of("chart.hour"));
        frame.Curve(Steps(work), new Ink { Stroke = Palette.Ink, StrokeWidth = 1.4 });
        frame.Curve(Steps(rest), new Ink { Stroke = Palette.Copper, StrokeWidth = 1.4, Dashes = [4, 2] });
        board.Line(44, 10, 60, 10, Palette.Ink, 1.4);
        board.Text(64, 12.6, words.Of("chart.day.work"), 7.6);
        if (rest.Any(double.IsFinite))
        {
            board.Line(128, 10, 144, 10, Palette.Copper, 1.4, 4, 2);
            board.Text(148, 12.6, words.Of("chart.day.rest"), 7.6);
        }

        return board.Finish(words.Of("chart.day.title"), $"{words.Digits(known.Min() / 1000, 3)} – {words.Digits(known.Max() / 1000, 3)} kW.");
    }

    /// <summary>Energy of each day as bars; what rests on estimates is hatched.</summary>
    public static Drawing Days(LoadStudy load, ReportWords words)
    {
        const double Width = 480, Left = 46;
        var rows = load.Days;
        var most = Math.Max(rows.Max(row => row.ImportWattHours) / 1000, 1e-6);
        var least = -rows.Max(row => row.ExportWattHours) / 1000;
        var board = new DrawingBoard(Width, 136);
        var frame = new ChartFrame(board, (Left, 22, Width - 4, 118), (0, rows.Length), (least < -0.01 * most ? least * 1.1 : 0, most * 1.14), words).TicksY("kWh", 4);
        var width = (frame.Right - frame.Left) / rows.Length;
        var every = Math.Max((rows.Length + 9) / 10, 1);
        for (var index = 0; index < rows.Length; index++)
        {
            var row = rows[index];
            var x = frame.Left + (index * width) + (0.14 * width);
            var (kwh, modelled) = (row.ImportWattHours / 1000, row.ModelledWattHours / 1000);
            var ink = new Ink { Fill = Palette.Soft };
            if (kwh > 0) board.Rectangle(x, frame.Y(kwh - modelled), 0.72 * width, frame.Y(0) - frame.Y(kwh - modelled), ink);
            if (modelled > 0.005 * most) board.Rectangle(x, frame.Y(kwh), 0.72 * width, frame.Y(kwh - modelled) - frame.Y(kwh), new Ink { Fill = Palette.CopperLight, Pattern = Looks.Dots, Stroke = Palette.Soft, StrokeWidth = 0.6 });
            if (row.ExportWattHours > 0.01 * 1000 * most) board.Rectangle(x, frame.Y(0), 0.72 * width, frame.Y(-row.ExportWattHours / 1000) - frame.Y(0), new Ink { Fill = Palette.Paper, Stroke = Palette.Soft, StrokeWidth = 0.8 });
            if (index % every == 0) board.Text(x + (0.36 * width), 130, rows.Length <= 10 ? words.Day(row.From) : words.Date(row.From), 7.6, TextAnchor.Middle, colour: Palette.Soft);
            if (rows.Length <= 14) board.Text(x + (0.36 * width), frame.Y(kwh) - 3, $"{words.Digits(kwh, 3)}{(row.KnownSeconds < 0.98 * row.Seconds ? " *" : "")}", 7.8, TextAnchor.Middle, isBold: true);
        }

        return board.Finish(words.Of("chart.days.title"), string.Join("; ", rows.Take(31).Select(row => $"{row.Name} {words.Digits(row.ImportWattHours / 1000, 4)} kWh")));
    }

    /// <summary>True when a series holds nothing but what was measured.</summary>
    public static bool IsAllMeasured(StudySeries series) => Enumerable.Range(0, series.Count).All(row => series.StandingOf(row) == Standing.Measured);

    private static IEnumerable<(double X, double Y)> Steps(double[] hours) =>
        hours.SelectMany((watts, hour) => new[] { ((double)hour, watts / 1000), (hour + 1.0, watts / 1000) });

    private static Colour Shade(double value, double least, double most)
    {
        var share = most > least ? (value - least) / (most - least) : 0;
        byte Part(double light, double dark) => (byte)Math.Round(light + ((dark - light) * share));
        return new Colour(Part(247, 38), Part(244, 36), Part(237, 40));
    }
}
