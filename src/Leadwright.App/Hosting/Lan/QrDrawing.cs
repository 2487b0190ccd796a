using System.Globalization;
using System.Text;
using QRCoder;

namespace Leadwright.App.Hosting.Lan;

/// <summary>Draws an address as a QR code (ISO/IEC 18004), for a page and for a terminal.</summary>
internal static class QrDrawing
{
    private const int Quiet = 4;

    /// <summary>As a drawing for a page: black on white in either theme, since cameras want it so.</summary>
    /// <param name="text">The address.</param>
    public static string Svg(string text)
    {
        using var data = Data(text);
        var rows = data.ModuleMatrix;
        var path = new StringBuilder();
        for (var y = 0; y < rows.Count; y++)
        {
            for (var x = 0; x < rows[y].Count; x++)
            {
                if (rows[y][x]) path.Append(CultureInfo.InvariantCulture, $"M{x} {y}h1v1h-1z");
            }
        }

        return string.Create(
            CultureInfo.InvariantCulture,
            $"""<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {rows.Count} {rows.Count}" width="280" height="280" role="img" aria-label="QR code of the address above"><path fill="#fff" d="M0 0h{rows.Count}v{rows.Count}H0z"/><path fill="#000" shape-rendering="crispEdges" d="{path}"/></svg>""");
    }

    /// <summary>As signs for a terminal, two rows of the code to a line.</summary>
    /// <param name="text">The address.</param>
    public static string Terminal(string text)
    {
        using var data = Data(text);
        var rows = data.ModuleMatrix;
        var lines = new StringBuilder();
        // Light on dark in most terminals: what is dark in the code stays unpainted.
        for (var y = Quiet - 2; y < rows.Count - Quiet + 2; y += 2)
        {
            lines.Append("  ");
            for (var x = Quiet - 2; x < rows[y].Count - Quiet + 2; x++)
            {
                var below = y + 1 >= rows.Count || rows[y + 1][x];
                lines.Append((rows[y][x], below) switch { (false, false) => '█', (false, true) => '▀', (true, false) => '▄', _ => ' ' });
            }

            lines.AppendLine();
        }

        return lines.ToString();
    }

    private static QRCodeData Data(string text)
    {
        using var generator = new QRCodeGenerator();
        return generator.CreateQrCode(text, QRCodeGenerator.ECCLevel.M);
    }
}
