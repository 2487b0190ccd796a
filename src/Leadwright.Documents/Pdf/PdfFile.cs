using System.Globalization;
using System.IO.Compression;
using System.Text;

namespace Leadwright.Documents.Pdf;

/// <summary>The objects of a PDF file and how they are written (ISO 32000-1, clause 7). The same objects give the same bytes.</summary>
internal sealed class PdfFile
{
    private readonly List<byte[]> _objects = [];

    /// <summary>Takes a number for an object that is written later.</summary>
    public int Reserve()
    {
        _objects.Add([]);
        return _objects.Count;
    }

    public int Add(string body)
    {
        var number = Reserve();
        Set(number, body);
        return number;
    }

    public void Set(int number, string body) => _objects[number - 1] = Encoding.Latin1.GetBytes(body);

    /// <summary>Adds a stream.</summary>
    /// <param name="entries">Entries of its dictionary besides length and filter.</param>
    /// <param name="data">Its bytes.</param>
    /// <param name="isDeflated">True to compress it here.</param>
    public int AddStream(string entries, byte[] data, bool isDeflated = true)
    {
        var number = Reserve();
        SetStream(number, entries, data, isDeflated);
        return number;
    }

    public void SetStream(int number, string entries, byte[] data, bool isDeflated = true)
    {
        var bytes = isDeflated ? Deflated(data) : data;
        var head = Encoding.Latin1.GetBytes(string.Create(CultureInfo.InvariantCulture, $"<<{entries}{(isDeflated ? "/Filter/FlateDecode" : "")}/Length {bytes.Length}>>stream\n"));
        _objects[number - 1] = [.. head, .. bytes, .. "\nendstream"u8];
    }

    /// <summary>The whole file.</summary>
    /// <param name="root">Number of the catalog.</param>
    /// <param name="info">Number of the information dictionary.</param>
    /// <param name="identity">Sixteen bytes that name the document.</param>
    public byte[] Finish(int root, int info, ReadOnlySpan<byte> identity)
    {
        var file = new MemoryStream();
        file.Write("%PDF-1.7\n%\u00e2\u00e3\u00cf\u00d3\n"u8);
        var offsets = new long[_objects.Count];
        for (var index = 0; index < _objects.Count; index++)
        {
            offsets[index] = file.Length;
            Write(file, $"{index + 1} 0 obj\n");
            file.Write(_objects[index]);
            Write(file, "\nendobj\n");
        }

        var table = file.Length;
        Write(file, $"xref\n0 {_objects.Count + 1}\n0000000000 65535 f \n");
        foreach (var offset in offsets) Write(file, string.Create(CultureInfo.InvariantCulture, $"{offset:0000000000} 00000 n \n"));
        var id = Convert.ToHexString(identity);
        Write(file, string.Create(CultureInfo.InvariantCulture, $"trailer\n<</Size {_objects.Count + 1}/Root {root} 0 R/Info {info} 0 R/ID[<{id}><{id}>]>>\nstartxref\n{table}\n%%EOF\n"));
        return file.ToArray();
    }

    /// <summary>A text as a string object, in whatever letters.</summary>
    public static string Text(string text)
    {
        var isPlain = text.All(letter => letter is >= ' ' and <= '~');
        if (isPlain) return $"({text.Replace("\\", "\\\\", StringComparison.Ordinal).Replace("(", "\\(", StringComparison.Ordinal).Replace(")", "\\)", StringComparison.Ordinal)})";
        return $"<FEFF{Convert.ToHexString(Encoding.BigEndianUnicode.GetBytes(text))}>";
    }

    /// <summary>A number as PDF has it: to a thousandth, never with an exponent.</summary>
    public static string Number(double value) => Math.Round(value, 3).ToString("0.###", CultureInfo.InvariantCulture);

    private static byte[] Deflated(byte[] data)
    {
        var packed = new MemoryStream();
        using (var stream = new ZLibStream(packed, CompressionLevel.Optimal, leaveOpen: true)) stream.Write(data);
        return packed.ToArray();
    }

    private static void Write(MemoryStream file, string text) => file.Write(Encoding.Latin1.GetBytes(text));
}
