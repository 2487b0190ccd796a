using System.Collections.Immutable;

namespace Leadwright.Core.Integrity;

/// <summary>What one more row, or one look at the clock, brought.</summary>
/// <param name="Raised">Alarms that are new.</param>
/// <param name="Cleared">Alarms whose cause is cured, with their whole span.</param>
public sealed record GuardNews(ImmutableArray<GuardSpan> Raised, ImmutableArray<GuardSpan> Cleared)
{
    /// <summary>Nothing new.</summary>
    public static GuardNews None { get; } = new([], []);

    /// <summary>Alarms that stay up under another name, because more rows tell better what the trouble is.</summary>
    public ImmutableArray<RenamedAlarm> Renamed { get; init; } = [];

    /// <summary>Alarms that are taken back: the rows since no longer bear them out, and none shows a cure. Up to when they were borne out is their end.</summary>
    public ImmutableArray<GuardSpan> Withdrawn { get; init; } = [];

    /// <summary>This news, and then that.</summary>
    internal GuardNews And(GuardNews next) => new([.. Raised, .. next.Raised], [.. Cleared, .. next.Cleared])
    {
        Renamed = [.. Renamed, .. next.Renamed], Withdrawn = [.. Withdrawn, .. next.Withdrawn],
    };
}

/// <summary>An alarm that goes by another name from now on.</summary>
/// <param name="Before">As it was told last.</param>
/// <param name="Now">As it is told now.</param>
public sealed record RenamedAlarm(GuardSpan Before, GuardSpan Now);
