namespace Leadwright.Documents.Fonts;

/// <summary>The shipped fonts, read once for a document, with what it uses of them.</summary>
internal sealed class FontShelf
{
    private static readonly string[] s_names = ["Barlow-Regular", "Barlow-Bold", "BarlowSemiCondensed-Medium", "BarlowSemiCondensed-Bold", "IBMPlexSans-Regular"];

    private readonly TrueTypeFont[] _fonts = [.. s_names.Select(Load)];
    private readonly SortedDictionary<ushort, int>[] _used = [.. s_names.Select(_ => new SortedDictionary<ushort, int>())];

    public TrueTypeFont this[Face face] => _fonts[(int)face];

    /// <summary>The glyphs that were used of a face, with the letter each stands for.</summary>
    public IReadOnlyDictionary<ushort, int> UsedOf(Face face) => _used[(int)face];

    /// <summary>Width of a text.</summary>
    /// <param name="text">The text.</param>
    /// <param name="face">Its face.</param>
    /// <param name="size">Its size; the width is in the same unit.</param>
    public double Width(string text, Face face, double size)
    {
        var width = 0.0;
        foreach (var rune in text.EnumerateRunes())
        {
            var (font, glyph) = GlyphOf(rune.Value, face);
            width += (double)_fonts[(int)font].WidthOf(glyph) / _fonts[(int)font].UnitsPerEm;
        }

        return width * size;
    }

    /// <summary>The glyphs of a text, in stretches of one face.</summary>
    public List<(Face Face, List<ushort> Glyphs)> Shape(string text, Face face)
    {
        var stretches = new List<(Face Face, List<ushort> Glyphs)>();
        foreach (var rune in text.EnumerateRunes())
        {
            var (font, glyph) = GlyphOf(rune.Value, face);
            if (stretches.Count == 0 || stretches[^1].Face != font) stretches.Add((font, []));
            stretches[^1].Glyphs.Add(glyph);
            _used[(int)font].TryAdd(glyph, rune.Value);
        }

        return stretches;
    }

    private (Face Font, ushort Glyph) GlyphOf(int letter, Face face)
    {
        if (_fonts[(int)face].GlyphOf(letter) is > 0 and var own) return (face, own);
        if (_fonts[(int)Face.Fallback].GlyphOf(letter) is > 0 and var other) return (Face.Fallback, other);
        return letter is '?' ? (face, (ushort)0) : GlyphOf('?', face);
    }

    /// <summary>The shipped font files, in the order of <see cref="Face"/>.</summary>
    public static IEnumerable<byte[]> Files() => s_names.Select(Read);

    /// <summary>The file of a face.</summary>
    public static byte[] FileOf(Face face) => Read(s_names[(int)face]);

    private static TrueTypeFont Load(string name) => new(name, Read(name));

    private static byte[] Read(string name)
    {
        using var stream = typeof(FontShelf).Assembly.GetManifestResourceStream($"Fonts.{name}")
            ?? throw new InvalidOperationException($"This is a bug in Leadwright: the font {name} is not in the program.");
        var bytes = new byte[stream.Length];
        stream.ReadExactly(bytes);
        return bytes;
    }
}
