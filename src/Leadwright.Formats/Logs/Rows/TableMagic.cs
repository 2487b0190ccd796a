namespace Leadwright.Formats.Logs.Rows;

/// <summary>Tells tables that are no text by their first bytes.</summary>
internal static class TableMagic
{
    /// <summary>True for Parquet.</summary>
    public static bool IsParquet(ReadOnlySpan<byte> head) => head.StartsWith("PAR1"u8);

    /// <summary>True for a workbook: a zip archive, or a compound file of old.</summary>
    public static bool IsWorkbook(ReadOnlySpan<byte> head) =>
        head.StartsWith("PK\u0003\u0004"u8) || head.StartsWith((ReadOnlySpan<byte>)[0xD0, 0xCF, 0x11, 0xE0, 0xA1, 0xB1, 0x1A, 0xE1]);
}
