using System.Globalization;
using System.Text;
using Leadwright.Documents.Fonts;

namespace Leadwright.Documents.Pdf;

/// <summary>Embeds the used glyphs of the fonts (ISO 32000-1, clause 9.7: composite fonts with glyph numbers for codes).</summary>
internal static class PdfFonts
{
    /// <summary>Writes them and returns the entries of a resource dictionary.</summary>
    public static string Write(PdfFile file, FontShelf fonts)
    {
        var entries = new StringBuilder();
        foreach (var face in Enum.GetValues<Face>())
        {
            if (fonts.UsedOf(face).Count > 0) entries.Append(CultureInfo.InvariantCulture, $"/F{(int)face} {Write(file, fonts, face)} 0 R");
        }

        return entries.ToString();
    }

    private static int Write(PdfFile file, FontShelf fonts, Face face)
    {
        var font = fonts[face];
        var used = fonts.UsedOf(face);
        // The prefix of a subset: six letters that depend on nothing but its place.
        var name = $"LEADW{(char)('A' + (int)face)}+{font.Name}";
        var program = font.Subset(used.Keys);
        var programNumber = file.AddStream(string.Create(CultureInfo.InvariantCulture, $"/Length1 {program.Length}"), program);
        string Scaled(int value) => ((int)Math.Round(1000.0 * value / font.UnitsPerEm)).ToString(CultureInfo.InvariantCulture);
        var isBold = face is Face.TextBold or Face.NarrowBold;
        var descriptor = file.Add(
            $"<</Type/FontDescriptor/FontName/{name}/Flags 4/FontBBox[{string.Join(' ', font.Box.Select(Scaled))}]/ItalicAngle 0/Ascent {Scaled(font.Ascent)}/Descent {Scaled(font.Descent)}"
            + $"/CapHeight {Scaled(font.CapHeight)}/StemV {(isBold ? 140 : 80)}/FontFile2 {programNumber} 0 R>>");
        var widths = new StringBuilder();
        foreach (var glyph in used.Keys) widths.Append(CultureInfo.InvariantCulture, $"{glyph}[{Scaled(font.WidthOf(glyph))}]");
        var descendant = file.Add(
            $"<</Type/Font/Subtype/CIDFontType2/BaseFont/{name}/CIDSystemInfo<</Registry(Adobe)/Ordering(Identity)/Supplement 0>>/FontDescriptor {descriptor} 0 R/DW 500/W[{widths}]/CIDToGIDMap/Identity>>");
        var letters = file.AddStream("", Encoding.ASCII.GetBytes(Letters(used)));
        return file.Add($"<</Type/Font/Subtype/Type0/BaseFont/{name}/Encoding/Identity-H/DescendantFonts[{descendant} 0 R]/ToUnicode {letters} 0 R>>");
    }

    private static string Letters(IReadOnlyDictionary<ushort, int> used)
    {
        var map = new StringBuilder("/CIDInit /ProcSet findresource begin\n12 dict begin\nbegincmap\n/CIDSystemInfo <</Registry (Adobe) /Ordering (UCS) /Supplement 0>> def\n"
            + "/CMapName /Adobe-Identity-UCS def\n/CMapType 2 def\n1 begincodespacerange\n<0000> <FFFF>\nendcodespacerange\n");
        foreach (var group in used.Chunk(100))
        {
            map.Append(CultureInfo.InvariantCulture, $"{group.Length} beginbfchar\n");
            foreach (var (glyph, letter) in group)
            {
                // A space that does not break is a space to the reader.
                var text = Encoding.BigEndianUnicode.GetBytes(char.ConvertFromUtf32(letter == 0xA0 ? ' ' : letter));
                map.Append(CultureInfo.InvariantCulture, $"<{glyph:X4}> <{Convert.ToHexString(text)}>\n");
            }

            map.Append("endbfchar\n");
        }

        return map.Append("endcmap\nCMapName currentdict /CMap defineresource pop\nend\nend\n").ToString();
    }
}
