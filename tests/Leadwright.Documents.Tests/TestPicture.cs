using System.Buffers.Binary;
using System.IO.Compression;
using System.Text;

namespace Leadwright.Documents.Tests;

/// <summary>A small picture made by hand (ISO/IEC 15948): rows with every filter, with opacity.</summary>
internal static class TestPicture
{
    public static byte[] Png(int width, int height)
    {
        var raw = new MemoryStream();
        for (var row = 0; row < height; row++)
        {
            raw.WriteByte((byte)(row % 5));
            for (var index = 0; index < 4 * width; index++) raw.WriteByte((byte)(11 * index));
        }

        var packed = new MemoryStream();
        using (var stream = new ZLibStream(packed, CompressionLevel.Optimal, leaveOpen: true)) stream.Write(raw.ToArray());
        var file = new MemoryStream();
        file.Write([0x89, (byte)'P', (byte)'N', (byte)'G', 13, 10, 26, 10]);
        var head = new byte[13];
        BinaryPrimitives.WriteInt32BigEndian(head, width);
        BinaryPrimitives.WriteInt32BigEndian(head.AsSpan(4), height);
        (head[8], head[9]) = (8, 6);
        Chunk(file, "IHDR", head);
        Chunk(file, "IDAT", packed.ToArray());
        Chunk(file, "IEND", []);
        return file.ToArray();
    }

    // The check sum of a chunk is left at nothing: our reader does not look at it.
    private static void Chunk(MemoryStream file, string name, byte[] data)
    {
        var length = new byte[4];
        BinaryPrimitives.WriteInt32BigEndian(length, data.Length);
        file.Write(length);
        file.Write(Encoding.ASCII.GetBytes(name));
        file.Write(data);
        file.Write(new byte[4]);
    }
}
