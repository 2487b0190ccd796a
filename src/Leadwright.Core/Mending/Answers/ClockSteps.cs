using Leadwright.Core.Integrity;
using Leadwright.Core.Mending.Maps;

namespace Leadwright.Core.Mending.Answers;

/// <summary>Puts into an energy that a clock which seems to have been set on was a recorder which was off for as long, and began its intervals anew: the times alone hardly tell the two apart.</summary>
internal static class ClockSteps
{
    /// <summary>How likely that is at least, but for the hour of summer time (our choice: recorders that begin their intervals when they come on are common, hands that set a clock within a recording are not).</summary>
    private const double LeastChance = 0.25;
    private const double SummerTimeSeconds = 3600;
    private const double HoursBeside = 1;
    private const double More = 1.5;

    /// <summary>Adds it for every step forward.</summary>
    public static void Add(GuardReport guard, LineSeries lines, RawSeries raw, EnergyMixture mixture)
    {
        foreach (var span in guard.Spans)
        {
            if (span.Kind != SpanKind.ClockJump || span.To <= span.From || !(span.Finding.Seconds > 0)) continue;
            var chance = Math.Abs(span.Finding.Seconds - SummerTimeSeconds) < 2 ? 1 - span.Confidence : Math.Max(LeastChance, 1 - span.Confidence);
            var wattHours = Beside(lines, raw, span.From) * span.Finding.Seconds / 3600;
            if (chance > 0 && double.IsFinite(wattHours)) mixture.AddWays([(chance, wattHours)]);
        }
    }

    /// <summary>Mean power within an hour before or after, the greater, and half as much again, for what runs for some minutes is known no better; NaN where none is known.</summary>
    private static double Beside(LineSeries lines, RawSeries raw, DateTime at)
    {
        double before = 0, after = 0;
        int rowsBefore = 0, rowsAfter = 0;
        for (var slot = 0; slot < raw.Grid.Count; slot++)
        {
            var hours = (raw.Grid.From(slot) - at).TotalHours;
            var watts = Math.Abs(hours) > HoursBeside ? double.NaN : raw.Elements.Sum(element => lines.Watts[element][slot]);
            if (!double.IsFinite(watts)) continue;
            if (hours < 0) (before, rowsBefore) = (before + watts, rowsBefore + 1);
            else (after, rowsAfter) = (after + watts, rowsAfter + 1);
        }

        if (rowsBefore == 0 || rowsAfter == 0) return double.NaN;
        (before, after) = (before / rowsBefore, after / rowsAfter);
        return More * (Math.Abs(before) > Math.Abs(after) ? before : after);
    }
}
