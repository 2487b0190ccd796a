using System.Buffers.Binary;
using System.Globalization;
using System.IO.Compression;

namespace Leadwright.Documents.Pdf;

/// <summary>A picture for a letterhead: JPEG as it is, or PNG (8 bits a channel, not interlaced).</summary>
internal sealed class PdfImage
{
    private readonly byte[] _data;
    private readonly byte[] _opacity;
    private readonly int _channels;
    private readonly bool _isJpeg;

    private PdfImage(int width, int height, int channels, byte[] data, byte[] opacity, bool isJpeg) =>
        (Width, Height, _channels, _data, _opacity, _isJpeg) = (width, height, channels, data, opacity, isJpeg);

    public int Width { get; }

    public int Height { get; }

    /// <summary>Reads a picture.</summary>
    /// <exception cref="FormatException">It is neither, or of a kind that is not read.</exception>
    public static PdfImage Read(byte[] bytes) =>
        bytes.Length > 28 && bytes[0] == 0x89 && bytes.AsSpan(1).StartsWith("PNG"u8) ? ReadPng(bytes)
        : bytes.Length > 4 && bytes[0] == 0xFF && bytes[1] == 0xD8 ? ReadJpeg(bytes)
        : throw new FormatException("The logo is no PNG and no JPEG picture.");

    /// <summary>Writes it.</summary>
    /// <returns>The number of its object.</returns>
    public int Write(PdfFile file)
    {
        var space = _channels switch { 1 => "/DeviceGray", 4 => "/DeviceCMYK", _ => "/DeviceRGB" };
        var size = string.Create(CultureInfo.InvariantCulture, $"/Type/XObject/Subtype/Image/Width {Width}/Height {Height}/BitsPerComponent 8");
        if (_isJpeg) return file.AddStream($"{size}/ColorSpace{space}/Filter/DCTDecode", _data, isDeflated: false);
        var mask = _opacity.Length == 0 ? "" : $"/SMask {file.AddStream($"{size}/ColorSpace/DeviceGray", _opacity)} 0 R";
        return file.AddStream($"{size}/ColorSpace{space}{mask}", _data);
    }

    private static PdfImage ReadJpeg(byte[] bytes)
    {
        for (var at = 2; at + 9 < bytes.Length;)
        {
            if (bytes[at] != 0xFF) break;
            var marker = bytes[at + 1];
            if (marker is >= 0xC0 and <= 0xCF and not 0xC4 and not 0xC8 and not 0xCC)
                return new PdfImage(U16(bytes, at + 7), U16(bytes, at + 5), bytes[at + 9], bytes, [], true);
            at += 2 + U16(bytes, at + 2);
        }

        throw new FormatException("The logo's JPEG holds no picture.");
    }

    private static PdfImage ReadPng(byte[] bytes)
    {
        var (width, height, depth, kind, isInterlaced) = ((int)U32(bytes, 16), (int)U32(bytes, 20), bytes[24], bytes[25], bytes[28] != 0);
        if (depth != 8 || isInterlaced) throw new FormatException("The logo's PNG has other than 8 bits a channel, or is interlaced: save it anew as a plain PNG or JPEG.");
        var packed = new MemoryStream();
        byte[] palette = [], paletteOpacity = [];
        for (var at = 8; at + 8 <= bytes.Length;)
        {
            var length = (int)U32(bytes, at);
            var name = System.Text.Encoding.ASCII.GetString(bytes, at + 4, 4);
            if (name == "IDAT") packed.Write(bytes, at + 8, length);
            if (name == "PLTE") palette = bytes.AsSpan(at + 8, length).ToArray();
            if (name == "tRNS") paletteOpacity = bytes.AsSpan(at + 8, length).ToArray();
            at += 12 + length;
        }

        packed.Position = 0;
        var samples = kind switch { 0 or 3 => 1, 2 => 3, 4 => 2, _ => 4 };
        var raw = new byte[height * ((width * samples) + 1)];
        using (var stream = new ZLibStream(packed, CompressionMode.Decompress)) stream.ReadExactly(raw);
        var rows = Unfiltered(raw, width * samples, height, samples);
        var channels = kind is 0 or 4 ? 1 : 3;
        var data = new byte[width * height * channels];
        var opacity = kind is 4 or 6 || paletteOpacity.Length > 0 && kind == 3 ? new byte[width * height] : [];
        for (var pixel = 0; pixel < width * height; pixel++)
        {
            for (var channel = 0; channel < channels; channel++)
                data[(pixel * channels) + channel] = kind == 3 ? palette[(3 * rows[pixel]) + channel] : rows[(pixel * samples) + channel];
            if (opacity.Length > 0)
                opacity[pixel] = kind == 3 ? rows[pixel] < paletteOpacity.Length ? paletteOpacity[rows[pixel]] : (byte)255 : rows[(pixel * samples) + samples - 1];
        }

        return new PdfImage(width, height, channels, data, opacity, false);
    }

    // The five filters of a PNG row (ISO/IEC 15948, clause 9).
    private static byte[] Unfiltered(byte[] raw, int stride, int height, int samples)
    {
        var rows = new byte[stride * height];
        for (var row = 0; row < height; row++)
        {
            var (source, target) = ((stride + 1) * row, stride * row);
            var filter = raw[source];
            for (var index = 0; index < stride; index++)
            {
                int left = index >= samples ? rows[target + index - samples] : 0;
                int above = row > 0 ? rows[target + index - stride] : 0;
                int corner = index >= samples && row > 0 ? rows[target + index - stride - samples] : 0;
                var guess = filter switch { 1 => left, 2 => above, 3 => (left + above) / 2, 4 => Paeth(left, above, corner), _ => 0 };
                rows[target + index] = (byte)(raw[source + 1 + index] + guess);
            }
        }

        return rows;
    }

    private static int Paeth(int left, int above, int corner)
    {
        var estimate = left + above - corner;
        var (toLeft, toAbove, toCorner) = (Math.Abs(estimate - left), Math.Abs(estimate - above), Math.Abs(estimate - corner));
        return toLeft <= toAbove && toLeft <= toCorner ? left : toAbove <= toCorner ? above : corner;
    }

    private static int U16(byte[] bytes, int at) => BinaryPrimitives.ReadUInt16BigEndian(bytes.AsSpan(at));

    private static uint U32(byte[] bytes, int at) => BinaryPrimitives.ReadUInt32BigEndian(bytes.AsSpan(at));
}
