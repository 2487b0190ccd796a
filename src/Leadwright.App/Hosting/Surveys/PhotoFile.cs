using System.Buffers.Binary;

namespace Leadwright.App.Hosting.Surveys;

/// <summary>A photo by its bytes: what kind of picture it is, and whether it says where it was taken. Its name and what the browser calls it count for nothing.</summary>
/// <remarks>Signatures: JPEG ISO/IEC 10918-1 annex B; PNG ISO/IEC 15948; WebP RFC 9649. The position: Exif 2.32 (CIPA DC-008), tag 0x8825 of the first directory, which leads to
/// a directory with latitude (2) and longitude (4).</remarks>
internal static class PhotoFile
{
    /// <summary>The most that a photo may have, bytes.</summary>
    public const long MostBytes = 25L << 20;

    private const ushort PositionTag = 0x8825;
    private const int MostEntries = 512;

    /// <summary>The media type; null when it is no picture of a kind that is taken.</summary>
    /// <param name="bytes">The file, or its beginning.</param>
    public static string? TypeOf(ReadOnlySpan<byte> bytes)
    {
        if (bytes.StartsWith((ReadOnlySpan<byte>)[0xFF, 0xD8, 0xFF])) return "image/jpeg";
        if (bytes.StartsWith((ReadOnlySpan<byte>)[0x89, 0x50, 0x4E, 0x47, 0x0D, 0x0A, 0x1A, 0x0A])) return "image/png";
        return bytes.Length >= 12 && bytes.StartsWith("RIFF"u8) && bytes[8..].StartsWith("WEBP"u8) ? "image/webp" : null;
    }

    /// <summary>True when the picture says where on earth it was taken.</summary>
    /// <param name="bytes">The whole file.</param>
    public static bool HasPosition(ReadOnlySpan<byte> bytes) => TypeOf(bytes) switch
    {
        "image/jpeg" => JpegHasPosition(bytes),
        "image/png" => PngHasPosition(bytes),
        "image/webp" => WebpHasPosition(bytes),
        _ => false,
    };

    private static bool JpegHasPosition(ReadOnlySpan<byte> bytes)
    {
        var at = 2;
        while (at + 4 <= bytes.Length && bytes[at] == 0xFF)
        {
            var marker = bytes[at + 1];
            // The picture itself begins: no more about it follows.
            if (marker is 0xDA or 0xD9) return false;
            var length = BinaryPrimitives.ReadUInt16BigEndian(bytes[(at + 2)..]);
            if (length < 2 || at + 2 + length > bytes.Length) return false;
            var segment = bytes.Slice(at + 4, length - 2);
            if (marker == 0xE1 && segment.StartsWith("Exif\0\0"u8) && TiffHasPosition(segment[6..])) return true;
            at += 2 + length;
        }

        return false;
    }

    private static bool PngHasPosition(ReadOnlySpan<byte> bytes)
    {
        for (var at = 8; at + 12 <= bytes.Length;)
        {
            var length = BinaryPrimitives.ReadUInt32BigEndian(bytes[at..]);
            if (length > bytes.Length - at - 12) return false;
            if (bytes[(at + 4)..].StartsWith("eXIf"u8) && TiffHasPosition(bytes.Slice(at + 8, (int)length))) return true;
            at += 12 + (int)length;
        }

        return false;
    }

    private static bool WebpHasPosition(ReadOnlySpan<byte> bytes)
    {
        for (var at = 12; at + 8 <= bytes.Length;)
        {
            var length = BinaryPrimitives.ReadUInt32LittleEndian(bytes[(at + 4)..]);
            if (length > bytes.Length - at - 8) return false;
            var chunk = bytes.Slice(at + 8, (int)length);
            if (bytes[at..].StartsWith("EXIF"u8) && TiffHasPosition(chunk.StartsWith("Exif\0\0"u8) ? chunk[6..] : chunk)) return true;
            at += 8 + (int)length + (int)(length & 1);
        }

        return false;
    }

    private static bool TiffHasPosition(ReadOnlySpan<byte> tiff)
    {
        if (tiff.Length < 8) return false;
        var isLittle = tiff.StartsWith("II"u8);
        if (!isLittle && !tiff.StartsWith("MM"u8)) return false;
        var position = Entry(tiff, Long(tiff, 4, isLittle), PositionTag, isLittle);
        return position is { } directory && (Entry(tiff, directory, 2, isLittle) is not null || Entry(tiff, directory, 4, isLittle) is not null);
    }

    // The value of an entry of a directory; null when it is not there.
    private static uint? Entry(ReadOnlySpan<byte> tiff, uint directory, ushort tag, bool isLittle)
    {
        if (directory > (uint)tiff.Length - 2) return null;
        var count = Math.Min((int)Short(tiff, (int)directory, isLittle), MostEntries);
        for (var index = 0; index < count; index++)
        {
            var at = (long)directory + 2 + (12L * index);
            if (at + 12 > tiff.Length) return null;
            if (Short(tiff, (int)at, isLittle) == tag) return Long(tiff, (int)at + 8, isLittle);
        }

        return null;
    }

    private static ushort Short(ReadOnlySpan<byte> tiff, int at, bool isLittle) =>
        isLittle ? BinaryPrimitives.ReadUInt16LittleEndian(tiff[at..]) : BinaryPrimitives.ReadUInt16BigEndian(tiff[at..]);

    private static uint Long(ReadOnlySpan<byte> tiff, int at, bool isLittle) =>
        isLittle ? BinaryPrimitives.ReadUInt32LittleEndian(tiff[at..]) : BinaryPrimitives.ReadUInt32BigEndian(tiff[at..]);
}
