using Leadwright.Core.Logs;
using Leadwright.Reports.Guarding;

namespace Leadwright.Reports.Tests.Guarding;

public sealed class ClockWordingTests
{
    private static readonly long s_before = new DateTime(2026, 3, 2, 10, 0, 0).Ticks;
    private static readonly long s_at = new DateTime(2026, 3, 2, 11, 0, 0).Ticks;

    [Fact]
    public void Every_kind_has_its_own_word_and_sentence()
    {
        var kinds = Enum.GetValues<ClockFindingKind>();
        Assert.Equal(kinds.Length, kinds.Select(ClockWording.WordOf).Distinct().Count());
        Assert.Equal(kinds.Length, kinds.Select(kind => ClockWording.Of(new ClockFinding(kind, 1, 4, s_before, s_at, 3600))).Distinct().Count());
        foreach (var kind in kinds) Assert.Equal(kind, ClockWording.KindOf(ClockWording.WordOf(kind)));
        Assert.Null(ClockWording.KindOf("of-a-later-version"));
    }

    [Theory]
    [InlineData(ClockFindingKind.Gap, 1, "1 interval is missing between 2026-03-02 10:00:00 and 2026-03-02 11:00:00.")]
    [InlineData(ClockFindingKind.Gap, 4, "4 intervals are missing between 2026-03-02 10:00:00 and 2026-03-02 11:00:00.")]
    [InlineData(ClockFindingKind.Drift, 4, "The clock crept against the interval by 3600 s, running late, over 4 rows from 2026-03-02 10:00:00 to 2026-03-02 11:00:00.")]
    public void Sentences_bear_the_recorders_times(ClockFindingKind kind, int rows, string says) =>
        Assert.Equal(says, ClockWording.Of(new ClockFinding(kind, 1, rows, s_before, s_at, 3600)));
}
