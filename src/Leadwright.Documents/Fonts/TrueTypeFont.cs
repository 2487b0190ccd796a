using System.Buffers.Binary;
using System.Text;

namespace Leadwright.Documents.Fonts;

/// <summary>A TrueType font: which glyph a letter has, how wide it is, and a file with the glyphs that are used.</summary>
/// <remarks>Source: ISO/IEC 14496-22 (OpenType), tables head, hhea, hmtx, maxp, cmap formats 4 and 12, loca, glyf, OS/2, kern-free.</remarks>
internal sealed class TrueTypeFont
{
    // What a PDF viewer needs of an embedded TrueType font (ISO 32000-1, clause 9.9).
    private static readonly string[] s_kept = ["cvt ", "fpgm", "glyf", "head", "hhea", "hmtx", "loca", "maxp", "prep"];

    private readonly byte[] _bytes;
    private readonly Dictionary<string, (int Offset, int Length)> _tables = new(StringComparer.Ordinal);
    private readonly Dictionary<int, ushort> _glyphs = [];
    private readonly int _hmtxCount;
    private readonly bool _isLongLoca;
    private readonly int _glyphCount;

    public TrueTypeFont(string name, byte[] bytes)
    {
        (Name, _bytes) = (name, bytes);
        var count = U16(4);
        for (var index = 0; index < count; index++)
        {
            var record = 12 + (16 * index);
            _tables[Encoding.ASCII.GetString(bytes, record, 4)] = ((int)U32(record + 8), (int)U32(record + 12));
        }

        var head = At("head");
        UnitsPerEm = U16(head + 18);
        Box = [S16(head + 36), S16(head + 38), S16(head + 40), S16(head + 42)];
        _isLongLoca = U16(head + 50) == 1;
        Ascent = S16(At("hhea") + 4);
        Descent = S16(At("hhea") + 6);
        _hmtxCount = U16(At("hhea") + 34);
        _glyphCount = U16(At("maxp") + 4);
        CapHeight = S16(At("OS/2") + 88);
        ReadLetters();
    }

    /// <summary>PostScript name without a subset prefix.</summary>
    public string Name { get; }

    public int UnitsPerEm { get; }

    public int Ascent { get; }

    public int Descent { get; }

    public int CapHeight { get; }

    public int[] Box { get; }

    /// <summary>The glyph of a letter; 0 when the font has none.</summary>
    public ushort GlyphOf(int letter) => _glyphs.GetValueOrDefault(letter);

    /// <summary>Width of a glyph in units.</summary>
    public int WidthOf(ushort glyph) => U16(At("hmtx") + (4 * Math.Min(glyph, _hmtxCount - 1)));

    /// <summary>A font file in which only some glyphs have an outline; their numbers stay.</summary>
    public byte[] Subset(IEnumerable<ushort> glyphs)
    {
        var kept = new SortedSet<ushort> { 0 };
        foreach (var glyph in glyphs) Keep(glyph, kept);
        var outlines = new MemoryStream();
        var loca = new byte[4 * (_glyphCount + 1)];
        for (var glyph = 0; glyph < _glyphCount; glyph++)
        {
            BinaryPrimitives.WriteUInt32BigEndian(loca.AsSpan(4 * glyph), (uint)outlines.Length);
            if (!kept.Contains((ushort)glyph)) continue;
            var (offset, length) = OutlineOf((ushort)glyph);
            outlines.Write(_bytes, offset, length);
            while (outlines.Length % 4 != 0) outlines.WriteByte(0);
        }

        BinaryPrimitives.WriteUInt32BigEndian(loca.AsSpan(4 * _glyphCount), (uint)outlines.Length);
        var tables = new SortedDictionary<string, byte[]>(StringComparer.Ordinal);
        foreach (var name in s_kept)
        {
            if (_tables.TryGetValue(name, out var table)) tables[name] = _bytes.AsSpan(table.Offset, table.Length).ToArray();
        }

        tables["glyf"] = outlines.ToArray();
        tables["loca"] = loca;
        BinaryPrimitives.WriteUInt16BigEndian(tables["head"].AsSpan(50), 1);
        BinaryPrimitives.WriteUInt32BigEndian(tables["head"].AsSpan(8), 0);
        return Assemble(tables);
    }

    private static byte[] Assemble(SortedDictionary<string, byte[]> tables)
    {
        var count = tables.Count;
        var power = 1 << (int)Math.Log2(count);
        var file = new byte[12 + (16 * count) + tables.Values.Sum(table => (table.Length + 3) & ~3)];
        BinaryPrimitives.WriteUInt32BigEndian(file, 0x00010000);
        BinaryPrimitives.WriteUInt16BigEndian(file.AsSpan(4), (ushort)count);
        BinaryPrimitives.WriteUInt16BigEndian(file.AsSpan(6), (ushort)(16 * power));
        BinaryPrimitives.WriteUInt16BigEndian(file.AsSpan(8), (ushort)Math.Log2(power));
        BinaryPrimitives.WriteUInt16BigEndian(file.AsSpan(10), (ushort)(16 * (count - power)));
        var (record, offset) = (12, 12 + (16 * count));
        foreach (var (name, table) in tables)
        {
            Encoding.ASCII.GetBytes(name, file.AsSpan(record));
            table.CopyTo(file, offset);
            var padded = (table.Length + 3) & ~3;
            BinaryPrimitives.WriteUInt32BigEndian(file.AsSpan(record + 4), Sum(file.AsSpan(offset, padded)));
            BinaryPrimitives.WriteUInt32BigEndian(file.AsSpan(record + 8), (uint)offset);
            BinaryPrimitives.WriteUInt32BigEndian(file.AsSpan(record + 12), (uint)table.Length);
            (record, offset) = (record + 16, offset + padded);
        }

        return file;
    }

    private static uint Sum(ReadOnlySpan<byte> table)
    {
        var sum = 0u;
        for (var index = 0; index < table.Length; index += 4) sum += BinaryPrimitives.ReadUInt32BigEndian(table[index..]);
        return sum;
    }

    // A composite glyph needs its parts.
    private void Keep(ushort glyph, SortedSet<ushort> kept)
    {
        if (!kept.Add(glyph)) return;
        var (offset, length) = OutlineOf(glyph);
        if (length == 0 || S16(offset) >= 0) return;
        var at = offset + 10;
        while (true)
        {
            var flags = U16(at);
            Keep(U16(at + 2), kept);
            at += 4 + ((flags & 1) != 0 ? 4 : 2);
            at += (flags & 8) != 0 ? 2 : (flags & 0x40) != 0 ? 4 : (flags & 0x80) != 0 ? 8 : 0;
            if ((flags & 0x20) == 0) return;
        }
    }

    private (int Offset, int Length) OutlineOf(ushort glyph)
    {
        var loca = At("loca");
        var (from, to) = _isLongLoca ? ((int)U32(loca + (4 * glyph)), (int)U32(loca + (4 * glyph) + 4)) : (2 * U16(loca + (2 * glyph)), 2 * U16(loca + (2 * glyph) + 2));
        return (At("glyf") + from, to - from);
    }

    private void ReadLetters()
    {
        var cmap = At("cmap");
        for (var index = 0; index < U16(cmap + 2); index++)
        {
            var table = cmap + (int)U32(cmap + 8 + (8 * index));
            if (U16(table) == 4) ReadSegments(table);
            else if (U16(table) == 12) ReadGroups(table);
        }
    }

    private void ReadSegments(int table)
    {
        var count = U16(table + 6) / 2;
        for (var segment = 0; segment < count; segment++)
        {
            var end = U16(table + 14 + (2 * segment));
            var start = U16(table + 16 + (2 * (count + segment)));
            var delta = U16(table + 16 + (2 * ((2 * count) + segment)));
            var place = table + 16 + (2 * ((3 * count) + segment));
            var range = U16(place);
            for (var letter = (int)start; letter <= end && letter != 0xFFFF; letter++)
            {
                var glyph = range == 0 ? (ushort)(letter + delta) : U16(place + range + (2 * (letter - start)));
                if (range != 0 && glyph != 0) glyph = (ushort)(glyph + delta);
                if (glyph != 0) _glyphs.TryAdd(letter, glyph);
            }
        }
    }

    private void ReadGroups(int table)
    {
        for (var group = 0; group < U32(table + 12); group++)
        {
            var record = table + 16 + (12 * group);
            var (start, end, first) = (U32(record), U32(record + 4), U32(record + 8));
            for (var letter = start; letter <= end; letter++) _glyphs.TryAdd((int)letter, (ushort)(first + letter - start));
        }
    }

    private int At(string table) => _tables[table].Offset;

    private ushort U16(int offset) => BinaryPrimitives.ReadUInt16BigEndian(_bytes.AsSpan(offset));

    private short S16(int offset) => BinaryPrimitives.ReadInt16BigEndian(_bytes.AsSpan(offset));

    private uint U32(int offset) => BinaryPrimitives.ReadUInt32BigEndian(_bytes.AsSpan(offset));
}
