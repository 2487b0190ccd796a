using System.Collections.Immutable;
using Leadwright.Core.Logs;
using Leadwright.Core.Mending.Answers;
using Leadwright.Core.Studies;
using Leadwright.Documents.Drawings;
using Leadwright.Documents.Words;

namespace Leadwright.Documents.Charts;

/// <summary>Power over time, each stretch drawn by its standing: measured a full line, mended a full line over hatching, modelled a dotted one with its uncertainty, lost a crossed field.</summary>
internal static class PowerChart
{
    private const double Width = 480, Left = 46;

    /// <summary>Draws it.</summary>
    /// <param name="power">The power, W.</param>
    /// <param name="recorded">What the recorder wrote, W, drawn behind it; null for nothing.</param>
    /// <param name="corrections">Modelled stretches with uncertainties.</param>
    /// <param name="mark">A moment to name, with its text and value in watts; null for none.</param>
    /// <param name="title">What it is.</param>
    /// <param name="words">The words.</param>
    /// <param name="height">Height of the area of values.</param>
    public static Drawing Draw(
        StudySeries power, StudySeries? recorded, ImmutableArray<Correction> corrections, (DateTime At, double Watts, string Text)? mark, string title, ReportWords words, double height = 150)
    {
        var known = Enumerable.Range(0, power.Count).Where(power.IsKnown).Select(row => power.Values[row] / 1000).ToList();
        if (recorded is not null) known.AddRange(Enumerable.Range(0, recorded.Count).Where(recorded.IsKnown).Select(row => recorded.Values[row] / 1000));
        if (known.Count == 0) known.Add(0);
        var (least, most) = (Math.Min(known.Min(), 0), Math.Max(known.Max(), 1e-3));
        var room = 0.08 * (most - least);
        var standings = Thinned.Stretches(power).ToList();
        var shown = standings.Select(stretch => stretch.Standing).Distinct().Order().ToList();
        var hasStrip = shown.Count > 1 || shown[0] != Standing.Measured;
        var bottom = 26 + height;
        var stripTop = bottom + 4;
        var axis = hasStrip ? stripTop + 11 : bottom;
        var ends = ChartFrame.RoomOfTime(power.Starts.Span[0], power.Starts.Span[^1] + power.IntervalTicks);
        var board = new DrawingBoard(Width, axis + ends + (hasStrip || recorded is not null ? 15 : 1));
        var frame = new ChartFrame(board, (Left, 26, Width - 4, bottom), (power.Starts.Span[0], power.Starts.Span[^1] + power.IntervalTicks), (least < 0 ? least - room : 0, most + room), words);
        foreach (var (from, to, standing) in standings)
        {
            if (standing == Standing.Lost) board.Rectangle(frame.X(from), frame.Top, Math.Max(frame.X(to) - frame.X(from), 0.8), bottom - frame.Top, new Ink { Fill = Palette.Board, Pattern = Looks.Cross });
            else if (standing == Standing.Modelled) board.Rectangle(frame.X(from), frame.Top, Math.Max(frame.X(to) - frame.X(from), 0.8), bottom - frame.Top, new Ink { Fill = Palette.CopperLight, FillOpacity = 0.55 });
        }

        frame.TicksY("kW").TicksOfTime(axis);
        if (recorded is not null) frame.Curve(Thinned.Points(recorded, 0.001, _ => true), new Ink { Stroke = Palette.Grey, StrokeWidth = 0.8, Dashes = [3, 2] });
        frame.Curve(Thinned.Points(power, 0.001, standing => standing <= Standing.Mended), new Ink { Stroke = Palette.Ink, StrokeWidth = 0.95 });
        frame.Curve(Thinned.Points(power, 0.001, standing => standing == Standing.Modelled), new Ink { Stroke = Palette.Copper, StrokeWidth = 1.15, Dashes = [1.1, 1.6] });
        foreach (var correction in corrections) Bar(frame, power, correction);
        if (mark is { } peak) Mark(frame, peak);
        if (hasStrip) Strip(frame, standings, stripTop);
        if (hasStrip || recorded is not null) Legend(frame, shown, recorded is not null, axis + ends + 5);
        return board.Finish(title, Describe(power, standings, words));
    }

    // The mean power of a modelled stretch, give or take one standard deviation.
    private static void Bar(ChartFrame frame, StudySeries power, Correction correction)
    {
        if (correction.Basis != CorrectionBasis.Modelled || !(correction.UncertaintyWattHours > 0)) return;
        var hours = (correction.To - correction.From).TotalHours;
        var (sum, count) = (0.0, 0);
        for (var row = 0; row < power.Count; row++)
        {
            var start = power.StartOf(row);
            if (start < correction.From || start >= correction.To || !power.IsKnown(row)) continue;
            sum += power.Values[row];
            count++;
        }

        if (count == 0 || hours <= 0) return;
        var (mean, spread) = (sum / count / 1000, correction.UncertaintyWattHours / hours / 1000);
        var x = frame.X((correction.From.Ticks + correction.To.Ticks) / 2.0);
        var (low, high) = (Math.Min(frame.Y(mean - spread), frame.Bottom), Math.Max(frame.Y(mean + spread), frame.Top));
        frame.Board.Line(x, low, x, high, Palette.Copper, 1.2);
        frame.Board.Line(x - 3, low, x + 3, low, Palette.Copper, 1.2);
        frame.Board.Line(x - 3, high, x + 3, high, Palette.Copper, 1.2);
        frame.Board.Circle(x, frame.Y(mean), 1.8, new Ink { Fill = Palette.Paper, Stroke = Palette.Copper, StrokeWidth = 1.1 });
    }

    private static void Mark(ChartFrame frame, (DateTime At, double Watts, string Text) peak)
    {
        var (x, y) = (frame.X(peak.At.Ticks), frame.Y(peak.Watts / 1000));
        frame.Board.Circle(x, y, 3.2, new Ink { Stroke = Palette.Copper, StrokeWidth = 1.3 });
        // Above the field of values, where no curve runs through it.
        frame.Board.Line(x, y - 3.2, x, frame.Top, Palette.Copper, 0.7, 2, 1.5);
        var isRight = x > frame.Left + (0.6 * (frame.Right - frame.Left));
        frame.Board.Text(isRight ? x + 4 : x - 4, frame.Top - 5, peak.Text, 8, isRight ? TextAnchor.End : TextAnchor.Start, isBold: true);
    }

    private static void Strip(ChartFrame frame, List<(long From, long To, Standing Standing)> standings, double top)
    {
        frame.Board.Text(frame.Left - 5, top + 7.4, frame.Words.Of("standing.head"), 7.4, TextAnchor.End, colour: Palette.Soft);
        foreach (var (from, to, standing) in standings)
            frame.Board.Rectangle(frame.X(from), top, Math.Max(frame.X(to) - frame.X(from), 0.4), 8, LooksOf(standing));
        frame.Board.Rectangle(frame.Left, top, frame.Right - frame.Left, 8, new Ink { Stroke = Palette.Grey, StrokeWidth = 0.5 });
    }

    private static void Legend(ChartFrame frame, List<Standing> shown, bool hasRecorded, double y)
    {
        var x = frame.Left;
        foreach (var standing in shown)
        {
            frame.Board.Rectangle(x, y, 16, 8, LooksOf(standing) with { Stroke = Palette.Grey, StrokeWidth = 0.5 });
            var text = frame.Words.Of($"standing.{standing.ToString().ToLowerInvariant()}.long");
            frame.Board.Text(x + 20, y + 7, text, 7.6);
            x += 30 + (text.Length * 3.55);
        }

        if (!hasRecorded) return;
        frame.Board.Line(x, y + 4, x + 16, y + 4, Palette.Grey, 1, 3, 2);
        frame.Board.Text(x + 20, y + 7, frame.Words.Of("chart.as-recorded"), 7.6);
    }

    private static Ink LooksOf(Standing standing) => standing switch
    {
        Standing.Measured => new Ink { Fill = Palette.Paper },
        Standing.Mended => new Ink { Fill = Palette.Paper, Pattern = Looks.Hatch },
        Standing.Modelled => new Ink { Fill = Palette.CopperLight, Pattern = Looks.Dots },
        _ => new Ink { Fill = Palette.Board, Pattern = Looks.Cross },
    };

    private static string Describe(StudySeries power, List<(long From, long To, Standing Standing)> standings, ReportWords words)
    {
        var total = (double)standings.Sum(stretch => stretch.To - stretch.From);
        var shares = standings.GroupBy(stretch => stretch.Standing).OrderBy(group => group.Key)
            .Select(group => $"{words.Number(100 * group.Sum(stretch => stretch.To - stretch.From) / total, "0.#")} % {words.Of($"standing.{group.Key.ToString().ToLowerInvariant()}")}");
        var known = Enumerable.Range(0, power.Count).Where(power.IsKnown).Select(row => power.Values[row] / 1000).ToList();
        return known.Count == 0 ? string.Join(", ", shares) : $"{words.Digits(known.Min(), 3)} – {words.Digits(known.Max(), 3)} kW; {string.Join(", ", shares)}.";
    }
}
