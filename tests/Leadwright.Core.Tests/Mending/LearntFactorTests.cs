using System.Collections.Immutable;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity;
using Leadwright.Core.Logs;
using Leadwright.Core.Mending;
using Leadwright.Core.Panels;

namespace Leadwright.Core.Tests.Mending;

/// <summary>A power factor that was seen on one kind of day only.</summary>
public sealed class LearntFactorTests
{
    // 2026-03-07 is a Saturday: the lead of a two-wire service fell off in the evening and stayed off until Thursday.
    [Fact]
    public void What_a_saturday_taught_holds_on_workdays_too()
    {
        const int Count = 120 * 6, On = 20 * 6;
        var random = new SeededRandom(8);
        var start = new DateTime(2026, 3, 7);
        double[] amperes = [.. Enumerable.Range(0, Count).Select(_ => random.Uniform(3, 9))];
        double[] watts = [.. amperes.Select(ampere => 230 * ampere * 0.95)];
        var truth = watts.Sum() / 6;
        IntervalLog log = new(
            [new LogColumn("V", LogQuantity.Voltage, LogPlace.Phase1), new LogColumn("I", LogQuantity.Current, LogPlace.Phase1), new LogColumn("P", LogQuantity.ActivePower, LogPlace.Phase1)],
            [.. Enumerable.Range(0, Count).Select(row => start.AddMinutes(10 * row).Ticks)],
            [[.. Enumerable.Range(0, Count).Select(row => row < On ? 230.0 : 2.7)], amperes, [.. watts.Select((watt, row) => row < On ? watt : watt * 2.7 / 230)]],
            600);
        var right = Hookup.Expected([Lead.V1, Lead.VN], [Clamp.I1]);
        var guard = GuardAnswer.Of(log, (ImmutableArray<HookupPiece>)
        [
            new HookupPiece(start, start.AddHours(20), right, Rotation.Abc, 1),
            new HookupPiece(start.AddHours(20), log.To, right with { Leads = right.Leads.SetItem(Lead.V1, null) }, Rotation.Abc, 1),
        ]);
        var report = IntervalMender.Mend(log, guard, new MendOptions { Service = ServiceKind.Single, Nominal = new NominalVoltage(230, 230) }, TestContext.Current.CancellationToken);
        Assert.Equal(truth, report.Energy!.MendedWattHours, 0.01 * truth);
    }
}
