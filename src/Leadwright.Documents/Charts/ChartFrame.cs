using Leadwright.Core.Logs;
using Leadwright.Documents.Drawings;
using Leadwright.Documents.Words;

namespace Leadwright.Documents.Charts;

/// <summary>Axes of a chart on a drawing board, and places of values on it. Sizes are points of the printed page.</summary>
internal sealed class ChartFrame
{
    public const double TextSize = 7.6;

    private readonly double _fromX, _toX, _fromY, _toY;
    private readonly bool _isLogX;

    /// <summary>A frame within a board.</summary>
    /// <param name="board">The board.</param>
    /// <param name="area">Edges of the area that values are drawn in.</param>
    /// <param name="x">Values at its left and right edge.</param>
    /// <param name="y">Values at its lower and upper edge.</param>
    /// <param name="words">The words.</param>
    /// <param name="isLogX">True for a logarithmic axis.</param>
    public ChartFrame(
        DrawingBoard board, (double Left, double Top, double Right, double Bottom) area, (double From, double To) x, (double From, double To) y, ReportWords words, bool isLogX = false)
    {
        (Board, Left, Top, Right, Bottom, Words) = (board, area.Left, area.Top, area.Right, area.Bottom, words);
        (_fromX, _toX, _fromY, _toY, _isLogX) = (x.From, x.To, y.From, y.To, isLogX);
    }

    public DrawingBoard Board { get; }

    public double Left { get; }

    public double Top { get; }

    public double Right { get; }

    public double Bottom { get; }

    public ReportWords Words { get; }

    public double X(double value) => Left + ((Right - Left) * (_isLogX ? Math.Log(value / _fromX) / Math.Log(_toX / _fromX) : (value - _fromX) / (_toX - _fromX)));

    public double Y(double value) => Bottom - ((Bottom - Top) * (value - _fromY) / (_toY - _fromY));

    /// <summary>Level lines at even values, with their numbers.</summary>
    public ChartFrame TicksY(string unit, int about = 5)
    {
        var step = EvenStep((_toY - _fromY) / about);
        var format = step >= 1 ? "0" : step >= 0.1 ? "0.0" : "0.00";
        for (var tick = Math.Ceiling((_fromY / step) - 1e-9); tick * step <= _toY + (1e-9 * step); tick++)
        {
            var value = tick * step;
            Board.Line(Left, Y(value), Right, Y(value), Math.Abs(value) < 1e-9 ? Palette.Soft : Palette.Faint, 0.5);
            Board.Text(Left - 5, Y(value) + 2.6, Words.Number(value, format), TextSize, TextAnchor.End, colour: Palette.Soft);
        }

        if (unit.Length > 0) Board.Text(Left - 5, Top - 6, unit, TextSize, TextAnchor.End, isBold: true, colour: Palette.Soft);
        return this;
    }

    /// <summary>Upright lines at given values, with their labels.</summary>
    public ChartFrame TicksX(IEnumerable<(double Value, string Label)> ticks, string unit = "")
    {
        foreach (var (value, label) in ticks)
        {
            Board.Line(X(value), Top, X(value), Bottom, Palette.Faint, 0.5);
            Board.Text(X(value), Bottom + 11, label, TextSize, TextAnchor.Middle, colour: Palette.Soft);
        }

        if (unit.Length > 0) Board.Text(Right, Bottom + 22, unit, TextSize, TextAnchor.End, isBold: true, colour: Palette.Soft);
        return this;
    }

    /// <summary>Lines at midnights (or hours, or months) with dates between them.</summary>
    public ChartFrame TicksOfTime(double bottom)
    {
        var (from, to) = (new DateTime((long)_fromX), new DateTime((long)_toX));
        var days = (to - from).TotalDays;
        if (days <= 1.6)
        {
            var hours = EvenHours(days * 24);
            for (var at = from.Date; at <= to; at = at.AddHours(hours))
            {
                if (at < from) continue;
                Board.Line(X(at.Ticks), Top, X(at.Ticks), bottom, Palette.Faint, 0.5);
                Board.Text(X(at.Ticks), bottom + 10, RecordTime.Text(at, days * 24 < 2 ? "HH:mm" : "HH':00'"), TextSize, TextAnchor.Middle, colour: Palette.Soft);
            }

            Board.Text(Left, bottom + 20, Words.Day(from), TextSize, isBold: true, colour: Palette.Soft);
            return this;
        }

        var step = days switch { <= 10 => 1, <= 24 => 2, <= 75 => 7, _ => 0 };
        if (step == 0)
        {
            for (var at = new DateTime(from.Year, from.Month, 1).AddMonths(1); at < to; at = at.AddMonths(1))
            {
                Board.Line(X(at.Ticks), Top, X(at.Ticks), bottom, Palette.Faint, 0.5);
                Board.Text(X(at.Ticks), bottom + 10, Words.Date(at), TextSize, TextAnchor.Middle, colour: Palette.Soft);
            }

            return this;
        }

        for (var at = from.Date; at < to; at = at.AddDays(1))
        {
            if (at > from && (step <= 2 || (at - from.Date).Days % step == 0)) Board.Line(X(at.Ticks), Top, X(at.Ticks), bottom, Palette.Faint, 0.5);
            if ((at - from.Date).Days % step != 0) continue;
            // The name of a day stands in its middle, where the day is whole enough on the chart.
            var (left, right) = (Math.Max(X(at.Ticks), Left), Math.Min(X(at.AddDays(step).Ticks), Right));
            if (right - left > 24) Board.Text(step == 1 ? (left + right) / 2 : left + 2, bottom + 10, days <= 10 ? Words.Day(at) : Words.Date(at), TextSize, step == 1 ? TextAnchor.Middle : TextAnchor.Start, colour: Palette.Soft);
        }

        return this;
    }

    /// <summary>How much room below the axis the labels of <see cref="TicksOfTime"/> need.</summary>
    public static double RoomOfTime(long from, long to) => new TimeSpan(to - from).TotalDays <= 1.6 ? 23 : 13;

    /// <summary>A line through values; it breaks where one is not known.</summary>
    public ChartFrame Curve(IEnumerable<(double X, double Y)> points, Ink ink)
    {
        Board.Path(PathShapes.Through(points.Select(point => (X(point.X), double.IsFinite(point.Y) ? Y(point.Y) : double.NaN))), ink);
        return this;
    }

    public static double EvenStep(double rough)
    {
        var power = Math.Pow(10, Math.Floor(Math.Log10(rough)));
        return (rough / power) switch { < 1.5 => 1, < 3.5 => 2, < 7.5 => 5, _ => 10 } * power;
    }

    private static double EvenHours(double hours) => hours switch { > 20 => 4, > 10 => 2, > 4 => 1, > 2 => 0.5, > 1 => 0.25, _ => 1.0 / 12 };
}
