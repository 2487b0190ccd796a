using Leadwright.Formats.Logs.Rows;

namespace Leadwright.Formats.Tables;

/// <summary>Looks a Parquet file through before it is given to the library, which can run without end on a damaged one.</summary>
public static class ParquetSoundness
{
    /// <summary>True when the footer of a Parquet file is whole and its tree of columns ends.</summary>
    /// <param name="stream">The file, with seeking; left at its start.</param>
    public static bool IsWhole(Stream stream)
    {
        ArgumentNullException.ThrowIfNull(stream);
        var isWhole = ParquetFooter.IsSound(stream);
        stream.Position = 0;
        return isWhole;
    }
}
