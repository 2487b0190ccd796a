namespace Leadwright.Formats.Logs.Times;

/// <summary>What was found of the order of dates.</summary>
/// <param name="Order">The order.</param>
/// <param name="IsOpen">True when the dates leave the order open and it is an assumption.</param>
/// <param name="Why">What it rests on.</param>
internal readonly record struct FoundDateOrder(DateOrder Order, bool IsOpen, string Why);

/// <summary>Decides in which order the parts of dates stand, from all rows.</summary>
internal static class DateOrderSearch
{
    /// <summary>Decides; null when no date leaves a choice.</summary>
    /// <param name="stamps">All stamps.</param>
    public static FoundDateOrder? Of(List<StampParts> stamps)
    {
        var candidates = new List<DateOrder> { DateOrder.DayMonthYear, DateOrder.MonthDayYear, DateOrder.YearMonthDay };
        bool isAny = false, hasHalf = false, hasPoints = false, arePointed = true;
        var dates = 0;
        Span<int> fits = stackalloc int[3];
        foreach (var stamp in stamps)
        {
            if (!stamp.HasDate || stamp.IsOrdered || stamp.IsNamed) continue;
            isAny = true;
            dates++;
            hasHalf |= stamp.HasHalf;
            hasPoints |= stamp.HasPoints;
            arePointed &= stamp.HasPoints;
            for (var order = 0; order < 3; order++)
            {
                if (stamp.Ticks((DateOrder)order) is not null && !(order == 2 && stamp.C > 31)) fits[order]++;
            }
        }

        if (!isAny) return null;
        // A damaged row must not turn the rest: an order that fits nearly all rows is in the running.
        var most = Math.Max(fits[0], Math.Max(fits[1], fits[2]));
        for (var order = 2; order >= 0; order--)
        {
            if (fits[order] < most - (dates / 1000)) candidates.RemoveAt(order);
        }

        if (candidates.Count == 1) return new(candidates[0], false, "no other order gives dates in every row");
        var shared = StepsWithinDays(stamps);
        var scores = candidates.Select(order => (Order: order, Score: Regularity(stamps, order, shared))).OrderByDescending(entry => entry.Score).ToList();
        if (scores[0].Score > scores[1].Score) return new(scores[0].Order, false, "only so do the rows follow each other evenly");
        var tied = scores.Where(entry => entry.Score == scores[0].Score).Select(entry => entry.Order).ToList();
        // No locale of the Unicode CLDR writes the month first with points (from memory).
        if (arePointed && !hasHalf && tied.Contains(DateOrder.DayMonthYear)) return new(DateOrder.DayMonthYear, false, "dates with points stand day first");
        var custom = hasHalf && !hasPoints && tied.Contains(DateOrder.MonthDayYear) ? DateOrder.MonthDayYear : tied.Contains(DateOrder.DayMonthYear) ? DateOrder.DayMonthYear : tied[0];
        return new(custom, true, hasHalf && custom == DateOrder.MonthDayYear ? "AM and PM go with it" : "it is the commoner one");
    }

    // Steps between rows of one date are the same in any order.
    private static Dictionary<long, int> StepsWithinDays(List<StampParts> stamps)
    {
        var steps = new Dictionary<long, int>();
        for (var row = 1; row < stamps.Count; row++)
        {
            if (IsSameDate(stamps[row], stamps[row - 1])) Count(steps, stamps[row].TimeTicks - stamps[row - 1].TimeTicks);
        }

        return steps;
    }

    // How many rows follow the row before by the commonest step.
    private static int Regularity(List<StampParts> stamps, DateOrder order, Dictionary<long, int> shared)
    {
        var steps = new Dictionary<long, int>();
        for (var row = 1; row < stamps.Count; row++)
        {
            if (IsSameDate(stamps[row], stamps[row - 1])) continue;
            if (stamps[row].Ticks(order) is { } now && stamps[row - 1].Ticks(order) is { } before) Count(steps, now - before);
        }

        var most = shared.Values.DefaultIfEmpty(0).Max();
        foreach (var (step, count) in steps) most = Math.Max(most, count + shared.GetValueOrDefault(step));
        return most;
    }

    private static bool IsSameDate(StampParts one, StampParts other) => one.A == other.A && one.B == other.B && one.C == other.C;

    private static void Count(Dictionary<long, int> steps, long step)
    {
        // A clock that never ticks evenly must not fill the memory.
        if (steps.Count < 100_000 || steps.ContainsKey(step)) steps[step] = steps.GetValueOrDefault(step) + 1;
    }
}
