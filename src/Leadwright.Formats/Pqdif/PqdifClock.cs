using System.Globalization;

namespace Leadwright.Formats.Pqdif;

/// <summary>Brings the times of a file, which are UTC, to the clock of the recorder's place.</summary>
internal static class PqdifClock
{
    /// <summary>What is told of it.</summary>
    /// <param name="offset">What the clock is ahead of UTC.</param>
    public static string Says(TimeSpan offset) => offset == TimeSpan.Zero
        ? "Times of a PQDIF file are in coordinated universal time (UTC). State what the recorder's clock was ahead of it to have them as they were on site."
        : string.Create(CultureInfo.InvariantCulture, $"Times of a PQDIF file are in coordinated universal time (UTC); they are given at UTC{(offset < TimeSpan.Zero ? '-' : '+')}{offset:hh\\:mm}, as was stated.");

    /// <summary>A recording with its start by that clock; one without a date as it is.</summary>
    public static PqdifRecording Moved(PqdifRecording recording, TimeSpan offset) => recording.Recording.Start is not { } start || offset == TimeSpan.Zero
        ? recording : recording with { Recording = recording.Recording with { Start = Moved(start, offset) } };

    /// <summary>A log by that clock; one whose times have no date as it is.</summary>
    public static PqdifLog Moved(PqdifLog log, TimeSpan offset) => offset == TimeSpan.Zero || log.Log.Count == 0 || log.Log.Starts.Span[0] < PqdifTime.FirstTicks
        ? log : log with { Log = log.Log.Moved(offset.Ticks) };

    /// <summary>A time by that clock.</summary>
    public static DateTime Moved(DateTime time, TimeSpan offset) => new(Math.Clamp(time.Ticks + offset.Ticks, 0, DateTime.MaxValue.Ticks), DateTimeKind.Unspecified);
}
