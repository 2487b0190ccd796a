using System.Buffers.Binary;

namespace Leadwright.Formats.Tables;

/// <summary>Sets the least and greatest times right that stand in the footer of a Parquet file.</summary>
/// <remarks>
/// Parquet.Net 6.1 counts them in milliseconds whatever the unit of the column is; an engine that goes by them then leaves out row groups that it should read.
/// Here the wrong numbers of the groups that were just written are sought in the footer, each behind its length byte, and written in microseconds.
/// </remarks>
public sealed class ParquetTimeStatistics
{
    private const byte Length = 8;
    private readonly List<DateTime> _times = [];

    /// <summary>Takes note of a column of microseconds in a row group.</summary>
    /// <param name="least">Its least time.</param>
    /// <param name="greatest">Its greatest.</param>
    public void Add(DateTime least, DateTime greatest)
    {
        _times.Add(least);
        _times.Add(greatest);
    }

    /// <summary>Takes note of a column of microseconds in a row group.</summary>
    /// <param name="times">Its times; null where empty.</param>
    public void Add(ReadOnlySpan<DateTime?> times)
    {
        DateTime? least = null, greatest = null;
        foreach (var time in times)
        {
            if (time is not { } at) continue;
            if (least is null || at < least) least = at;
            if (greatest is null || at > greatest) greatest = at;
        }

        if (least is { } from && greatest is { } to) Add(from, to);
    }

    /// <summary>Mends a footer, and forgets what was noted.</summary>
    /// <param name="footer">The bytes behind the last row group.</param>
    public void Mend(Span<byte> footer)
    {
        Span<byte> wrong = stackalloc byte[1 + Length];
        wrong[0] = Length;
        foreach (var time in _times.Distinct())
        {
            var ticks = time.Ticks - DateTime.UnixEpoch.Ticks;
            var (milliseconds, microseconds) = (FloorOf(ticks, TimeSpan.TicksPerMillisecond), FloorOf(ticks, TimeSpan.TicksPerMicrosecond));
            BinaryPrimitives.WriteInt64LittleEndian(wrong[1..], milliseconds);
            for (var at = 0; footer[at..].IndexOf(wrong) is >= 0 and var found; at += found + wrong.Length)
                BinaryPrimitives.WriteInt64LittleEndian(footer[(at + found + 1)..], microseconds);
        }

        _times.Clear();
    }

    private static long FloorOf(long ticks, long unit) => (long)Math.Floor((decimal)ticks / unit);
}
