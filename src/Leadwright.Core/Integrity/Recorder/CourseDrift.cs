using Leadwright.Core.Integrity.Pieces;

namespace Leadwright.Core.Integrity.Recorder;

/// <summary>Finds a clamp that opens slowly by its current alone: small and large values lose the same share, hour by hour, against those of like hours in which the other lines carry as much.</summary>
/// <remarks>The fall of the gain, straight from 1 to a rest and steady from there or ended, is weighed against none by what is left, n/2 ln(S0/S1), n the number of windows that say
/// something of their own: fewer, the more a window's rest is that of the one before. A leap to any ratio, and a load that goes bit by bit or at once, must explain it less well.</remarks>
internal static class CourseDrift
{
    /// <summary>People live another way at the week's end: what begins there must say more.</summary>
    private const double Idle = 0.003;
    private const double OfWeekend = 8;
    private const double HoursBefore = 8;
    private const double LeastOdds = 20;
    private const double OverRivals = 4;

    public static Drift? Fit(Chained chained, int clamp, bool[] isUsable)
    {
        if (CourseWindows.Of(chained.Frame, clamp, isUsable, Idle) is not { } windows) return null;
        if (new CourseFit(windows).BestFall() is not { } best) return null;
        var (odds, frame) = (best.Odds, chained.Frame);
        // A week's end begins on the evening before.
        if (frame.From(best.Onset * windows.Rows).AddHours(HoursBefore).DayOfWeek is DayOfWeek.Saturday or DayOfWeek.Sunday) odds -= OfWeekend;
        if (odds < LeastOdds || best.Odds < best.Rival + OverRivals) return null;
        var to = best.To == windows.Count ? frame.Count - 1 : Math.Min(frame.Count, best.To * windows.Rows) - 1;
        return new Drift(best.Onset * windows.Rows, to, best.Rest, Math.Min(40, odds - LeastOdds + 6)) { IsByCourse = true, LowFrom = Math.Min(to, (best.Onset + best.Fall) * windows.Rows) };
    }
}
