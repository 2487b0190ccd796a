using System.Globalization;
using System.Text;

namespace Leadwright.Reports.Hookups;

/// <summary>Writes the marks of a drawing.</summary>
internal sealed class SvgWriter
{
    private readonly StringBuilder _svg = new(8192);

    /// <summary>Adds marks as they are; numbers in the interpolation are written in the invariant culture, to a tenth.</summary>
    public SvgWriter Add(FormattableString marks)
    {
        var values = marks.GetArguments();
        var texts = new object?[values.Length];
        for (var index = 0; index < values.Length; index++)
        {
            texts[index] = values[index] is double number
                ? Math.Round(number, 1).ToString("0.#", CultureInfo.InvariantCulture)
                : values[index];
        }

        _svg.AppendFormat(CultureInfo.InvariantCulture, marks.Format, texts).Append('\n');
        return this;
    }

    /// <summary>Text made fit to stand in an element or an attribute.</summary>
    public static string Escaped(string text) => text
        .Replace("&", "&amp;", StringComparison.Ordinal)
        .Replace("<", "&lt;", StringComparison.Ordinal)
        .Replace(">", "&gt;", StringComparison.Ordinal)
        .Replace("\"", "&quot;", StringComparison.Ordinal);

    /// <inheritdoc/>
    public override string ToString() => _svg.ToString();
}
