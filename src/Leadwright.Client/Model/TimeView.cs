namespace Leadwright.Client.Model;

/// <summary>The part of a recording that is in sight.</summary>
/// <param name="WholeFrom">Start of the recording.</param>
/// <param name="WholeTo">Its end.</param>
/// <param name="From">Start of what is in sight.</param>
/// <param name="To">Its end.</param>
public readonly record struct TimeView(DateTime WholeFrom, DateTime WholeTo, DateTime From, DateTime To)
{
    /// <summary>The shortest time that can be brought to fill the width: one cycle of 50 Hz.</summary>
    public static readonly TimeSpan Shortest = TimeSpan.FromMilliseconds(20);

    /// <summary>How long what is in sight is.</summary>
    public TimeSpan Length => To - From;

    /// <summary>True when all of it is in sight.</summary>
    public bool IsWhole => From == WholeFrom && To == WholeTo;

    /// <summary>All of a recording.</summary>
    public static TimeView Whole(DateTime from, DateTime to) => new(from, to, from, to);

    /// <summary>Zooms about the middle: a factor below 1 brings closer.</summary>
    public TimeView Zoomed(double factor) => About(From.Ticks + (Length.Ticks / 2), Length * factor);

    /// <summary>Moves by a share of what is in sight, later when positive.</summary>
    public TimeView Moved(double share) => About(From.Ticks + (Length.Ticks / 2) + (Length * share).Ticks, Length);

    /// <summary>A length of time about a moment, kept within the recording.</summary>
    public TimeView Around(DateTime middle, TimeSpan length) => About(middle.Ticks, length);

    // In ticks: before the earliest date there is none, and half of a length may reach there.
    private TimeView About(long middle, TimeSpan length)
    {
        var whole = WholeTo - WholeFrom;
        if (length < Shortest) length = Shortest;
        if (length >= whole) return this with { From = WholeFrom, To = WholeTo };
        var start = Math.Clamp(middle - (length.Ticks / 2), WholeFrom.Ticks, WholeTo.Ticks - length.Ticks);
        return this with { From = new DateTime(start), To = new DateTime(start + length.Ticks) };
    }

    /// <summary>Where a time is, in percent of the width; outside 0 to 100 where it is out of sight.</summary>
    public double Percent(DateTime time) => Length == TimeSpan.Zero ? 0 : 100.0 * (time - From).Ticks / Length.Ticks;
}
