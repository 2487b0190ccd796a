using System.Globalization;
using System.Text;

namespace Leadwright.Reports.Studies;

/// <summary>The frame of a plot: axes with ticks, and places of values on the sheet.</summary>
/// <remarks>Colours are never alone: lines differ by dashes too. Every plot has a title and a description for those who can't see it; its numbers stand in a table beside it.</remarks>
internal sealed class PlotFrame
{
    private const int Width = 960, Height = 420, Left = 78, Right = 20, Top = 54, Bottom = 50;

    private readonly StringBuilder _svg = new(16384);
    private readonly double _fromX, _toX;
    private readonly bool _isLogX;
    private double _top = Top, _bottom = Height - Bottom, _fromY, _toY;

    public PlotFrame(string title, string description, (double From, double To) x, (double From, double To) y, bool isLogX = false)
    {
        (_fromX, _toX, _fromY, _toY, _isLogX) = (x.From, x.To, y.From, y.To, isLogX);
        Mark($"<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {Width} {Height}\" role=\"img\" aria-labelledby=\"t d\" font-family=\"sans-serif\" font-size=\"13\" fill=\"#1b1b1b\">");
        Mark($"<title id=\"t\">{Escaped(title)}</title><desc id=\"d\">{Escaped(description)}</desc>");
        Mark($"<rect width=\"{Width}\" height=\"{Height}\" fill=\"#ffffff\"/>");
        Mark($"<text x=\"{Left}\" y=\"24\" font-size=\"16\" font-weight=\"bold\">{Escaped(title)}</text>");
    }

    public static double PlotWidth => Width - Left - Right;

    public static double PlotEnd => Width - Right;

    /// <summary>Turns to one of several panels that stand above each other with one axis of time.</summary>
    /// <param name="index">Which, 0 on top.</param>
    /// <param name="count">How many there are.</param>
    /// <param name="y">Its range.</param>
    public PlotFrame Panel(int index, int count, (double From, double To) y)
    {
        const double Gap = 14;
        var height = (Height - Bottom - Top - (Gap * (count - 1))) / count;
        (_top, _fromY, _toY) = (Top + (index * (height + Gap)), y.From, y.To);
        _bottom = _top + height;
        return this;
    }

    public double X(double value) => Left + (Share(value, _fromX, _toX, _isLogX) * (Width - Left - Right));

    public double Y(double value) => _bottom - (Share(value, _fromY, _toY, false) * (_bottom - _top));

    public PlotFrame Mark(FormattableString mark)
    {
        var values = mark.GetArguments().Select(value => value is double number ? Math.Round(number, 1).ToString("0.#", CultureInfo.InvariantCulture) : value).ToArray();
        _svg.AppendFormat(CultureInfo.InvariantCulture, mark.Format, values).Append('\n');
        return this;
    }

    /// <summary>Ticks of a range by round numbers.</summary>
    /// <param name="unit">The unit; empty for none.</param>
    /// <param name="count">Some so many.</param>
    public PlotFrame TicksY(string unit, int count = 6)
    {
        foreach (var value in RoundTicks(_fromY, _toY, count))
        {
            Mark($"<line x1=\"{Left}\" y1=\"{Y(value)}\" x2=\"{Width - Right}\" y2=\"{Y(value)}\" stroke=\"#d0d0d0\"/>");
            Mark($"<text x=\"{Left - 8}\" y=\"{Y(value) + 4}\" text-anchor=\"end\">{value.ToString("0.###", CultureInfo.InvariantCulture)}</text>");
        }

        return unit.Length == 0 ? this : Mark($"<text x=\"16\" y=\"{Top - 10}\">{Escaped(unit)}</text>");
    }

    /// <summary>Ticks at stated places.</summary>
    public PlotFrame TicksY(string unit, IEnumerable<(double Value, string Label)> ticks)
    {
        foreach (var (value, label) in ticks) Mark($"<text x=\"{Left - 8}\" y=\"{Y(value) + 4}\" text-anchor=\"end\">{Escaped(label)}</text>");
        return Mark($"<text x=\"16\" y=\"{Top - 10}\">{Escaped(unit)}</text>");
    }

    /// <summary>Ticks along the foot by round numbers.</summary>
    /// <param name="unit">The unit.</param>
    /// <param name="count">Some so many.</param>
    public PlotFrame TicksX(string unit, int count) => TicksX(RoundTicks(_fromX, _toX, count).Select(value => (value, value.ToString("0.###", CultureInfo.InvariantCulture))), unit);

    public PlotFrame TicksX(IEnumerable<(double Value, string Label)> ticks, string unit = "")
    {
        foreach (var (value, label) in ticks)
        {
            Mark($"<line x1=\"{X(value)}\" y1=\"{Top}\" x2=\"{X(value)}\" y2=\"{Height - Bottom}\" stroke=\"#e4e4e4\"/>");
            // A label that would be cut at the edge ends there.
            var isCut = X(value) + (3.6 * label.Length) > Width;
            Mark($"<text x=\"{(isCut ? Width - 2 : X(value))}\" y=\"{Height - Bottom + 18}\" text-anchor=\"{(isCut ? "end" : "middle")}\">{Escaped(label)}</text>");
        }

        return unit.Length == 0 ? this : Mark($"<text x=\"{Width - Right}\" y=\"{Height - 10}\" text-anchor=\"end\">{Escaped(unit)}</text>");
    }

    /// <summary>A line through points; it breaks where a value is not known.</summary>
    public PlotFrame Line(IEnumerable<(double X, double Y)> points, string colour, string dashes = "", double width = 1.5)
    {
        var path = new StringBuilder();
        var isOpen = false;
        foreach (var (x, y) in points)
        {
            if (!double.IsFinite(y))
            {
                isOpen = false;
                continue;
            }

            path.Append(CultureInfo.InvariantCulture, $"{(isOpen ? 'L' : 'M')}{X(x):0.#} {Y(y):0.#}");
            isOpen = true;
        }

        return Mark($"<path d=\"{path.ToString()}\" fill=\"none\" stroke=\"{colour}\" stroke-width=\"{width}\"{(dashes.Length > 0 ? $" stroke-dasharray=\"{dashes}\"" : "")}/>");
    }

    /// <summary>A text on the sheet, white behind its letters so that lines do not run through it.</summary>
    public PlotFrame Label(double x, double y, string text, string colour = "#1b1b1b", string anchor = "start", bool isBold = false) =>
        Mark($"<text x=\"{x}\" y=\"{y}\" fill=\"{colour}\" text-anchor=\"{anchor}\"{(isBold ? " font-weight=\"bold\"" : "")} stroke=\"#ffffff\" stroke-width=\"3\" paint-order=\"stroke\">{Escaped(text)}</text>");

    public string End() => _svg.Append("</svg>\n").ToString();

    public static string Escaped(string text) => text.Replace("&", "&amp;", StringComparison.Ordinal).Replace("<", "&lt;", StringComparison.Ordinal).Replace(">", "&gt;", StringComparison.Ordinal);

    /// <summary>Even ticks of 1, 2 or 5 times a power of ten.</summary>
    private static IEnumerable<double> RoundTicks(double from, double to, int count)
    {
        var rough = (to - from) / count;
        var power = Math.Pow(10, Math.Floor(Math.Log10(rough)));
        var step = (rough / power) switch { < 1.5 => 1, < 3.5 => 2, < 7.5 => 5, _ => 10 } * power;
        for (var tick = Math.Ceiling((from / step) - 1e-9); tick * step <= to + (1e-9 * step); tick++) yield return (tick * step) + 0.0;
    }

    private static double Share(double value, double from, double to, bool isLog) =>
        isLog ? Math.Log(value / from) / Math.Log(to / from) : (value - from) / (to - from);
}
