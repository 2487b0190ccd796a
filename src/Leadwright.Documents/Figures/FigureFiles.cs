using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using Leadwright.Documents.Drawings;
using Leadwright.Documents.Model;

namespace Leadwright.Documents.Figures;

/// <summary>Every drawing of a document as files of their own.</summary>
public static class FigureFiles
{
    // A drawing as wide as the column, 480 units, becomes 1,600 pixels wide: 240 to the inch in print.
    private const double PixelsPerUnit = 1600 / 480.0;

    /// <summary>The files: an SVG with its fonts in it and a PNG of each drawing, named by the figure's number and its part.</summary>
    /// <param name="document">The document.</param>
    public static IEnumerable<(string Name, byte[] Bytes)> Of(ReportDocument document)
    {
        ArgumentNullException.ThrowIfNull(document);
        var number = 0;
        foreach (var part in document.Parts)
        {
            var unnumbered = 0;
            foreach (var figure in Figures(part.Blocks))
            {
                var name = figure.IsOptional || figure.Caption.Length == 0
                    ? string.Create(CultureInfo.InvariantCulture, $"{part.Id}-{++unnumbered}") : string.Create(CultureInfo.InvariantCulture, $"figure-{++number:00}-{part.Id}");
                yield return (name + ".svg", Encoding.UTF8.GetBytes(SvgText.Write(figure.Drawing, "f", isWholeFile: true)));
                yield return (name + ".png", PngPicture.Write(figure.Drawing, figure.Drawing.Width > 0 ? Math.Max(PixelsPerUnit, 800 / figure.Drawing.Width) : PixelsPerUnit));
            }
        }
    }

    private static IEnumerable<FigureBlock> Figures(ImmutableArray<Block> blocks) => blocks.SelectMany(block => block switch
    {
        FigureBlock figure => [figure],
        FigurePairBlock pair => [pair.Left, pair.Right],
        ColumnsBlock columns => Figures(columns.Left).Concat(Figures(columns.Right)),
        _ => Enumerable.Empty<FigureBlock>(),
    });
}
