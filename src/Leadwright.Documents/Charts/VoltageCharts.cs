using System.Collections.Immutable;
using Leadwright.Core.Logs;
using Leadwright.Core.Studies;
using Leadwright.Core.Studies.Events;
using Leadwright.Documents.Drawings;
using Leadwright.Documents.Words;

namespace Leadwright.Documents.Charts;

/// <summary>The charts of voltages and events.</summary>
internal static class VoltageCharts
{
    private const double Width = 480, Left = 46, Margin = 44;

    // Curves differ by their dashes too.
    private static readonly (Colour Colour, ImmutableArray<double> Dashes)[] s_curveLooks =
        [(Palette.Steel, []), (Palette.Verdigris, [5, 2.5]), (Palette.Ink, [1.2, 2.2]), (Palette.Soft, [7, 2.5, 1.5, 2.5])];

    /// <summary>A panel for each voltage, all of one scale, with nominal voltage and limits.</summary>
    /// <param name="voltages">Names and series.</param>
    /// <param name="nominal">Nominal voltage of them; NaN when not known.</param>
    /// <param name="limits">Least and largest allowed, V; NaN for none.</param>
    /// <param name="words">The words.</param>
    public static Drawing Panels(IReadOnlyList<(string Name, StudySeries Series)> voltages, double nominal, (double Least, double Most) limits, ReportWords words)
    {
        var sorted = voltages.SelectMany(voltage => Enumerable.Range(0, voltage.Series.Count).Where(voltage.Series.IsKnown).Select(row => voltage.Series.Values[row])).Order().ToArray();
        // What is far off the nominal voltage (a lead that is off, an outage) must not flatten everything else.
        var (least, most) = (sorted[(int)(0.002 * (sorted.Length - 1))], sorted[(int)(0.998 * (sorted.Length - 1))]);
        var usual = double.IsFinite(nominal) ? nominal : sorted[sorted.Length / 2];
        (least, most) = (Math.Max(least, 0.8 * usual), Math.Min(Math.Max(most, 0.85 * usual), 1.2 * usual));
        if (double.IsFinite(limits.Least) && limits.Least > least - (2.2 * (most - least))) least = Math.Min(least, limits.Least);
        if (double.IsFinite(limits.Most) && limits.Most < most + (2.2 * (most - least))) most = Math.Max(most, limits.Most);
        var room = Math.Max(0.08 * (most - least), 0.002 * Math.Abs(most));
        const double Panel = 58, Gap = 12;
        var (from, to) = (voltages[0].Series.Starts.Span[0], voltages[0].Series.Starts.Span[^1] + voltages[0].Series.IntervalTicks);
        var board = new DrawingBoard(Width, 18 + (voltages.Count * (Panel + Gap)) - Gap + ChartFrame.RoomOfTime(from, to) + 1);
        for (var index = 0; index < voltages.Count; index++)
        {
            var top = 18 + (index * (Panel + Gap));
            var frame = new ChartFrame(board, (Left, top, Width - Margin, top + Panel), (from, to), (least - room, most + room), words).TicksY(index == 0 ? "V" : "", 3);
            var series = voltages[index].Series;
            foreach (var (start, end, standing) in Thinned.Stretches(series))
            {
                if (standing >= Standing.Modelled)
                    board.Rectangle(frame.X(start), top, Math.Max(frame.X(end) - frame.X(start), 0.8), Panel, standing == Standing.Lost ? new Ink { Fill = Palette.Board, Pattern = Looks.Cross } : new Ink { Fill = Palette.CopperLight, FillOpacity = 0.55 });
            }

            Bound(frame, limits.Least, words.Of("chart.limit"), true, true);
            Bound(frame, limits.Most, words.Of("chart.limit"), true, true);
            var isClear = !new[] { limits.Least, limits.Most }.Any(limit => double.IsFinite(limit) && Math.Abs(frame.Y(limit) - frame.Y(nominal)) < 8);
            Bound(frame, nominal, words.Of("chart.nominal"), false, isClear);
            IEnumerable<(double X, double Y)> Within(Func<Standing, bool> isWanted) =>
                Thinned.Points(series, 1, isWanted).Select(point => (point.X, double.IsFinite(point.Y) ? Math.Clamp(point.Y, least - room, most + room) : double.NaN));
            frame.Curve(Within(standing => standing <= Standing.Mended), new Ink { Stroke = Palette.Ink, StrokeWidth = 0.8 });
            frame.Curve(Within(standing => standing == Standing.Modelled), new Ink { Stroke = Palette.Copper, StrokeWidth = 1.1, Dashes = [1.1, 1.6] });
            board.Line(Left, top + Panel, frame.Right, top + Panel, Palette.Grey, 0.5);
            board.Text(2, top + (Panel / 2) + 3, voltages[index].Name, 9.4, isBold: true);
            if (index == voltages.Count - 1) frame.TicksOfTime(top + Panel);
        }

        return board.Finish(words.Of("chart.voltage.title"), string.Join("; ", voltages.Select(voltage => Describe(voltage, words))));
    }

    /// <summary>Events by duration and magnitude with the tolerance curves.</summary>
    public static Drawing Events(ImmutableArray<StudyEvent> events, ImmutableArray<ToleranceCurve> curves, ReportWords words)
    {
        const double Shortest = 0.0002, Longest = 600;
        var shown = events.Where(found => found.HasMagnitude).ToList();
        var most = Math.Max(150, 1.05 * shown.Max(found => found.ExtremePercent));
        var board = new DrawingBoard(Width, 218);
        var frame = new ChartFrame(board, (Left, 26, Width - 4, 180), (Shortest, Longest), (0, most), words, isLogX: true).TicksY("%", 6)
            .TicksX([(0.001, "1 ms"), (0.01, "10 ms"), (0.1, "0.1 s"), (1, "1 s"), (10, "10 s"), (100, "100 s")], words.Of("chart.events.duration"));
        (double X, double Y)[] Steps(ImmutableArray<ToleranceStep> steps) =>
            [.. steps.SelectMany(step => new[] { (Math.Max(step.FromSeconds, Shortest), step.StartPercent), (Math.Min(step.ToSeconds, Longest), step.EndPercent) }).Where(point => point.Item2 <= most)];
        var taken = new List<(double X, double Y)>();
        foreach (var (index, curve) in curves.Index())
        {
            var (colour, dashes) = s_curveLooks[index % s_curveLooks.Length];
            var ink = new Ink { Stroke = colour, StrokeWidth = 1.2, Dashes = dashes };
            frame.Curve(Steps(curve.Lower), ink).Curve(Steps(curve.Upper), ink);
            var steps = curve.Lower.IsEmpty ? curve.Upper : curve.Lower;
            if (steps.IsEmpty) continue;
            // A curve without end is named above its end, another one below its first step that asks for something.
            var isEndless = steps[^1].ToSeconds >= Longest;
            var step = steps.FirstOrDefault(found => found.StartPercent > 0, steps[0]);
            var (x, y) = isEndless ? (frame.X(60), frame.Y(Math.Min(steps[^1].EndPercent, most)) - 4) : (frame.X(Math.Max(step.FromSeconds, Shortest) * 1.1), frame.Y(Math.Min(step.StartPercent, most)) + 10);
            while (taken.Exists(at => Math.Abs(at.X - x) < 90 && Math.Abs(at.Y - y) < 9)) y += 9;
            taken.Add((x, y));
            board.Text(x, y, curve.Name, 7.8, isBold: true, colour: colour, hasHalo: true);
        }

        foreach (var found in shown)
        {
            var (x, y) = (frame.X(Math.Clamp(found.Seconds, Shortest, Longest)), frame.Y(Math.Min(found.ExtremePercent, most)));
            var ink = new Ink { Stroke = Palette.Copper, StrokeWidth = 1.3 };
            switch (found.Kind)
            {
                case "swell": board.Path([.. PathShapes.Line(x - 4, y, x + 4, y), .. PathShapes.Line(x, y - 4, x, y + 4)], ink); break;
                case "interruption": board.Path([.. PathShapes.Line(x - 3.4, y - 3.4, x + 3.4, y + 3.4), .. PathShapes.Line(x + 3.4, y - 3.4, x - 3.4, y + 3.4)], ink); break;
                default: board.Circle(x, y, 3.4, ink); break;
            }
        }

        board.Text(Left, 12, words.Of("chart.events.signs"), 7.8, colour: Palette.Soft);
        return board.Finish(words.Of("chart.events.title"), string.Join("; ", shown.Take(20).Select(found => $"{words.Of($"event.{found.Kind}")} {words.Digits(found.ExtremePercent, 3)} % {words.Length(found.Seconds)}")));
    }

    private static void Bound(ChartFrame frame, double volts, string text, bool isLimit, bool isNamed)
    {
        if (!double.IsFinite(volts) || frame.Y(volts) < frame.Top - 0.5 || frame.Y(volts) > frame.Bottom + 0.5) return;
        if (isLimit) frame.Board.Line(frame.Left, frame.Y(volts), frame.Right, frame.Y(volts), Palette.Copper, 0.9, 6, 2.5);
        else frame.Board.Line(frame.Left, frame.Y(volts), frame.Right, frame.Y(volts), Palette.Soft, 0.6, 1.2, 2.2);
        if (isNamed) frame.Board.Text(frame.Right + 4, frame.Y(volts) + 2.5, $"{frame.Words.Number(volts, "0.#")} {text}", 7.2, isBold: isLimit, colour: isLimit ? Palette.Copper : Palette.Soft);
    }

    private static string Describe((string Name, StudySeries Series) voltage, ReportWords words)
    {
        var known = Enumerable.Range(0, voltage.Series.Count).Where(voltage.Series.IsKnown).Select(row => voltage.Series.Values[row]).ToList();
        return known.Count == 0 ? $"{voltage.Name} –" : $"{voltage.Name} {words.Digits(known.Min(), 4)} – {words.Digits(known.Max(), 4)} V";
    }
}
