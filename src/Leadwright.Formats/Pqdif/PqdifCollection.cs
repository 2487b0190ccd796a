using System.Buffers.Binary;
using System.Globalization;

namespace Leadwright.Formats.Pqdif;

/// <summary>A collection of elements.</summary>
internal sealed class PqdifCollection
{
    // Channel definitions reach a depth of five.
    private const int MostDepth = 32;

    private readonly PqdifElement[] _elements;

    private PqdifCollection(PqdifBody body, PqdifElement[] elements) => (Body, _elements) = (body, elements);

    /// <summary>The record's body.</summary>
    public PqdifBody Body { get; }

    /// <summary>The elements in their order.</summary>
    public ReadOnlySpan<PqdifElement> Elements => _elements;

    /// <summary>Reads the entries.</summary>
    /// <param name="body">The record's body.</param>
    /// <param name="offset">Where in the body it begins.</param>
    /// <param name="size">Bytes that it may take, by its link.</param>
    /// <param name="depth">How many collections it stands in.</param>
    /// <param name="field">What it is, for messages.</param>
    public static PqdifCollection Read(PqdifBody body, long offset, long size, int depth, string field)
    {
        if (depth > MostDepth) throw body.Bad("collections of a few levels", $"more than {Of(MostDepth)}", field);
        var count = BinaryPrimitives.ReadInt32LittleEndian(body.Slice(offset, 4, field));
        var needed = 4 + ((long)count * PqdifBody.EntrySize);
        if (count < 0 || needed > size) throw body.Bad($"a count of elements that fits into {Of(size)} bytes", Of(count), field);
        var bytes = body.Slice(offset, needed, field);
        body.Take(count, field);
        var elements = new PqdifElement[count];
        for (var index = 0; index < count; index++)
        {
            var at = 4 + (index * PqdifBody.EntrySize);
            var entry = bytes[at..];
            var tag = new Guid(entry[..16]);
            if (!PqdifTag.IsKnown(tag)) body.Unknown(tag);
            elements[index] = new PqdifElement(
                body, tag, (PqdifElementType)entry[16], (PqdifPhysicalType)entry[17], entry[18] != 0, (int)offset + at + 20, depth);
        }

        return new PqdifCollection(body, elements);
    }

    /// <summary>The first element with a tag; null when there is none.</summary>
    public PqdifElement? Find(Guid tag)
    {
        foreach (var element in _elements)
        {
            if (element.Tag == tag) return element;
        }

        return null;
    }

    /// <summary>The element with a tag.</summary>
    /// <exception cref="FormatReadException">There is none.</exception>
    public PqdifElement Need(Guid tag) => Find(tag) ?? throw Body.Bad($"an element {PqdifTag.NameOf(tag)}", "none");

    /// <summary>The collections with a tag, in their order.</summary>
    public IEnumerable<PqdifCollection> All(Guid tag) => _elements.Where(element => element.Tag == tag).Select(element => element.AsCollection());

    /// <summary>Text; null when there is none.</summary>
    public string? Text(Guid tag) => Find(tag)?.AsText().Trim() is { Length: > 0 } text ? text : null;

    /// <summary>A whole number; null when there is none.</summary>
    public uint? Unsigned(Guid tag) => Find(tag)?.AsUnsigned();

    /// <summary>A number; null when there is none.</summary>
    public double? Number(Guid tag) => Find(tag)?.AsNumber();

    /// <summary>An identifier; null when there is none.</summary>
    public Guid? Identifier(Guid tag) => Find(tag)?.AsGuid();

    private static string Of(long value) => value.ToString(CultureInfo.InvariantCulture);
}
