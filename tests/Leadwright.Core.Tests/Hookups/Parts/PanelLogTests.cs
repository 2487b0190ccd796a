using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Logs;

namespace Leadwright.Core.Tests.Hookups.Parts;

/// <summary>A stretch of a log as readings of the check, with means worked by hand.</summary>
public sealed class PanelLogTests
{
    [Fact]
    public void Every_column_counts_the_first_too()
    {
        var readings = PanelLog.Read(Log(), 0, 4, ServiceKind.Wye, null)!;
        Assert.Equal(232, readings.Channels[Channel.V1].Rms!.Value, 9);
        Assert.Equal(231, readings.Channels[Channel.V2].Rms!.Value, 9);
        Assert.Equal(13, readings.Channels[Channel.I1].Rms!.Value, 9);
        Assert.Equal(2900, readings.Phases[1].Watts!.Value, 9);
    }

    [Fact]
    public void Intervals_without_the_supply_and_those_outside_the_stretch_are_left_out()
    {
        // Of rows 2 to 4 the last is dead.
        var readings = PanelLog.Read(Log(), 2, 3, ServiceKind.Wye, null)!;
        Assert.Equal(233, readings.Channels[Channel.V1].Rms!.Value, 9);
        Assert.Equal(14, readings.Channels[Channel.I1].Rms!.Value, 9);
    }

    private static IntervalLog Log()
    {
        var start = new DateTime(2026, 3, 2).Ticks;
        LogColumn[] columns =
        [
            new("V1", LogQuantity.Voltage, LogPlace.Phase1), new("V2", LogQuantity.Voltage, LogPlace.Phase2), new("V3", LogQuantity.Voltage, LogPlace.Phase3),
            new("I1", LogQuantity.Current, LogPlace.Phase1), new("P1", LogQuantity.ActivePower, LogPlace.Phase1),
        ];
        return new IntervalLog(
            [.. columns], [.. Enumerable.Range(0, 5).Select(row => start + (row * TimeSpan.FromMinutes(10).Ticks))],
            [[230, 232, 232, 234, 0], [231, 231, 231, 231, 0], [229, 229, 229, 229, 0], [12, 12, 14, 14, 0], [2800, 2800, 3000, 3000, 0]], 600);
    }
}
