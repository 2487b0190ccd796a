using Parquet;
using Parquet.Meta;
using Parquet.Schema;

namespace Leadwright.Formats.Logs.Rows;

/// <summary>Looks through the headers of a column's pages before the library reads them: it makes room for whatever size they claim.</summary>
/// <remarks>Source: Apache Parquet format (parquet.thrift, PageHeader: 2 uncompressed_page_size, 3 compressed_page_size).</remarks>
internal static class ParquetPages
{
    private const int MostHeaderBytes = 1 << 16;
    private const int UsualHeaderBytes = 512;

    // What packs well grows some hundred times; a page of constant values is short whatever it becomes.
    private const long FreeBytes = 16L << 20;
    private const long MostGrowth = 2000;

    /// <summary>True when the pages of a column lie in the file, one behind the other, and none claims more than it can become.</summary>
    /// <param name="stream">The file; left where it was.</param>
    /// <param name="rows">The row group.</param>
    /// <param name="field">The column.</param>
    public static bool AreSound(Stream stream, ParquetRowGroupReader rows, DataField field)
    {
        if (rows.GetMetadata(field)?.MetaData is not { } column) return false;
        var before = stream.Position;
        try
        {
            var at = column.DictionaryPageOffset is > 0 and var dictionary && dictionary < column.DataPageOffset ? dictionary : column.DataPageOffset;
            var end = at + column.TotalCompressedSize;
            if (at < 4 || column.TotalCompressedSize <= 0 || end > stream.Length) return false;
            while (at < end)
            {
                var (length, packed, whole, plain) = Header(stream, at, end);
                if (length == 0 || packed < 0 || whole < 0 || packed > end - at - length || !CanBecome(packed, whole)) return false;
                if (column.Codec == CompressionCodec.SNAPPY && plain >= 0 && plain < packed && !CanBecome(packed, SnappyLength(stream, at + length + plain, packed - plain))) return false;
                at += length + packed;
            }

            return true;
        }
        finally
        {
            stream.Position = before;
        }
    }

    private static bool CanBecome(long packed, long whole) => whole <= FreeBytes + (MostGrowth * packed);

    // Snappy (format_description.txt, section 1) states the length again, and its library makes room for that.
    private static long SnappyLength(Stream stream, long at, long most)
    {
        stream.Position = at;
        var length = 0L;
        for (var place = 0; place < Math.Min(5, most); place++)
        {
            var unit = stream.ReadByte();
            length |= (long)(unit & 0x7F) << (7 * place);
            if (unit < 0x80) break;
        }

        return length;
    }

    private static (int Length, long Packed, long Whole, long Plain) Header(Stream stream, long at, long end)
    {
        for (var wanted = UsualHeaderBytes; ; wanted = MostHeaderBytes)
        {
            var bytes = new byte[(int)Math.Min(wanted, end - at)];
            stream.Position = at;
            stream.ReadExactly(bytes);
            if (ParquetFooter.TryPage(bytes, out var length, out var packed, out var whole, out var plain)) return (length, packed, whole, plain);
            if (wanted == MostHeaderBytes || bytes.Length < wanted) return default;
        }
    }
}
