using System.Buffers.Binary;

namespace Leadwright.Formats.Pqdif;

/// <summary>Time stamps: a day number and seconds since midnight, UTC.</summary>
/// <remarks>Day n is 1899-12-30 + n: the standard's own constant for 1970-01-01 is 25569.</remarks>
internal static class PqdifTime
{
    /// <summary>Bytes of a time stamp.</summary>
    public const int Size = 12;

    private static readonly DateTime s_dayZero = new(1899, 12, 30, 0, 0, 0, DateTimeKind.Unspecified);

    /// <summary>Ticks of the first time that is a date: the year before stands for times of no known date, counted from day 0.</summary>
    public static long FirstTicks { get; } = new DateTime(1901, 1, 1, 0, 0, 0, DateTimeKind.Unspecified).Ticks;

    /// <summary>A time of no known date.</summary>
    /// <param name="ticks">Ticks after the beginning; less than a year.</param>
    public static DateTime Undated(long ticks) => s_dayZero.AddTicks(Math.Max(ticks, 0));

    /// <summary>Splits a time stamp.</summary>
    /// <param name="time">The time stamp; null for none.</param>
    /// <param name="undatedTicks">Receives the ticks of a time of no known date; 0 for a date.</param>
    /// <returns>The date; null when it is not known.</returns>
    public static DateTime? DateOf(DateTime? time, out long undatedTicks)
    {
        var isDated = time is { } known && known.Ticks >= FirstTicks;
        undatedTicks = isDated || time is null ? 0 : time.Value.Ticks - s_dayZero.Ticks;
        return isDated ? time : null;
    }

    /// <summary>Reads a time stamp; null where there is no such time.</summary>
    public static DateTime? Read(ReadOnlySpan<byte> bytes)
    {
        var day = BinaryPrimitives.ReadUInt32LittleEndian(bytes);
        var seconds = BinaryPrimitives.ReadDoubleLittleEndian(bytes[4..]);
        // No calendar here goes past the year 9999, and a day has no more seconds than this, leap seconds included.
        if (day > 2_958_465 || seconds is not (>= 0 and < 86_401)) return null;
        var ticks = s_dayZero.Ticks + (day * TimeSpan.TicksPerDay) + (long)Math.Round(seconds * TimeSpan.TicksPerSecond);
        return ticks <= DateTime.MaxValue.Ticks ? new DateTime(ticks, DateTimeKind.Unspecified) : null;
    }

    /// <summary>Writes a time stamp; day 0 for no time.</summary>
    public static void Write(DateTime? time, Span<byte> bytes)
    {
        var ticks = time is { } known && known > s_dayZero ? known.Ticks - s_dayZero.Ticks : 0;
        BinaryPrimitives.WriteUInt32LittleEndian(bytes, (uint)(ticks / TimeSpan.TicksPerDay));
        BinaryPrimitives.WriteDoubleLittleEndian(bytes[4..], ticks % TimeSpan.TicksPerDay / (double)TimeSpan.TicksPerSecond);
    }
}
