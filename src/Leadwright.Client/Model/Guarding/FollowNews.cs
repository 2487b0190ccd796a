using System.Collections.Immutable;
using System.Globalization;
using Leadwright.Client.Surveys;

namespace Leadwright.Client.Model.Guarding;

/// <summary>What a look at a followed recorder brought, in words to be read out: each change of an alarm once.</summary>
public static class FollowNews
{
    // More at once is heard by nobody; all of them stand in the list.
    private const int MostAtOnce = 3;

    /// <summary>What is new; empty for nothing.</summary>
    /// <param name="before">What the look before had; null for the first, which has nothing to be held against.</param>
    /// <param name="now">What this look has.</param>
    public static string Of(FollowSheet? before, FollowSheet now)
    {
        ArgumentNullException.ThrowIfNull(now);
        if (before is null) return "";
        // A watch that began anew counts its alarms from one.
        var known = before.Path == now.Path && before.Since == now.Since ? before.Alarms.ToDictionary(alarm => alarm.Number) : [];
        var told = now.Alarms.OrderBy(alarm => alarm.Number).Select(alarm => Of(known.GetValueOrDefault(alarm.Number), alarm)).Where(text => text.Length > 0).ToList();
        if (told.Count > MostAtOnce) told = [.. told[..MostAtOnce], string.Create(CultureInfo.InvariantCulture, $"And {told.Count - MostAtOnce} more in the list.")];
        if (now.Problem.Length > 0 && now.Problem != before.Problem) told.Add($"The watch ended: {now.Problem}");
        return string.Join(' ', told);
    }

    private static string Of(FollowAlarm? before, FollowAlarm now)
    {
        if (now.Cleared is not null)
        {
            var became = now.IsWithdrawn ? "taken back" : "over";
            return before is { Cleared: not null } ? "" : before is null ? $"Alarm that was already {became}: {now.Says}" : $"Alarm {became}: {now.Says}";
        }

        if (before is null) return $"Alarm: {now.Says}";
        return before.Says == now.Says ? "" : $"Alarm renamed: {now.Says} Told before as: {now.Was}";
    }

    /// <summary>The alarms that last, and those that are over, each the last first.</summary>
    /// <param name="sheet">What is followed.</param>
    public static (ImmutableArray<FollowAlarm> Lasting, ImmutableArray<FollowAlarm> Over) Split(FollowSheet sheet)
    {
        ArgumentNullException.ThrowIfNull(sheet);
        return ([.. sheet.Alarms.Where(alarm => alarm.Cleared is null)], [.. sheet.Alarms.Where(alarm => alarm.Cleared is not null).OrderByDescending(alarm => alarm.Cleared)]);
    }
}
