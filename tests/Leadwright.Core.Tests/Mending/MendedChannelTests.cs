using System.Collections.Immutable;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity;
using Leadwright.Core.Logs;
using Leadwright.Core.Mending;
using Leadwright.Core.Tests.Integrity;

namespace Leadwright.Core.Tests.Mending;

/// <summary>What the mended table says of the channels themselves: none is called measured that read something else than its line.</summary>
public sealed class MendedChannelTests
{
    private static readonly MendOptions s_options = new() { Service = ServiceKind.Wye, Nominal = new NominalVoltage(230, 400) };
    private static readonly Hookup s_right = Hookup.Expected([Lead.V1, Lead.V2, Lead.V3, Lead.VN], [Clamp.I1, Clamp.I2, Clamp.I3]);

    [Fact]
    public void What_a_clamp_did_not_show_beyond_its_range_is_lost_after_its_ratio_was_put_right_as_well()
    {
        const double Range = 20;
        var made = new MadeLog();
        var cut = Enumerable.Range(0, MadeLog.Rows).Where(row => made.Amperes[1][row] > Range).ToList();
        foreach (var row in cut) made.WithAmperes(row, row + 1, 1, Range / made.Amperes[1][row]);
        var log = made.WithAmperes(0, MadeLog.Rows, 1, 10).ToLog();
        var hookup = s_right with { Clamps = s_right.Clamps.SetItem(Clamp.I2, new ClampPlace(Conductor.B, false, 10)) };
        var spans = cut.Select(row => new GuardSpan(SpanKind.OverRange, [], [Clamp.I2], MadeLog.At(row), MadeLog.At(row + 1), 0.97, new SpanFinding(SpanRelation.ValuesPileUp, 4)));
        var report = IntervalMender.Mend(log, GuardAnswer.Of(log, hookup, [.. spans]), s_options, TestContext.Current.CancellationToken);
        var (amperes, watts) = (log.IndexOf(LogQuantity.Current, LogPlace.Phase2), log.IndexOf(LogQuantity.ActivePower, LogPlace.Phase2));
        Assert.NotEmpty(cut);
        foreach (var row in cut)
        {
            Assert.Equal((double.NaN, Standing.Lost), (report.Log.Values(amperes)[row], report.Standings[amperes].Span[row]));
            Assert.Equal(Standing.Modelled, report.Standings[watts].Span[row]);
        }

        var free = Enumerable.Range(0, MadeLog.Rows).First(row => made.Amperes[1][row] < 10 * 0.5 * Range);
        Assert.Equal((made.Amperes[1][free] / 10, Standing.Mended), (report.Log.Values(amperes)[free], report.Standings[amperes].Span[free]));
    }

    [Fact]
    public void Beside_a_total_a_lead_in_the_air_and_a_clamp_on_nothing_are_lost_and_a_ratio_is_divided_out()
    {
        var made = new MadeLog().WithVolts(150, 200, 1, 0.03, 1).WithAmperes(150, 200, 0, 0.004).WithAmperes(150, 200, 2, 10);
        var log = WithTotal(made.ToLog());
        var wrong = s_right with
        {
            Leads = s_right.Leads.SetItem(Lead.V2, null),
            Clamps = s_right.Clamps.SetItem(Clamp.I1, new ClampPlace(null, false, 1)).SetItem(Clamp.I3, new ClampPlace(Conductor.C, true, 10)),
        };
        ImmutableArray<HookupPiece> pieces =
        [
            new(log.From, MadeLog.At(150), s_right, Rotation.Abc, 1), new(MadeLog.At(150), MadeLog.At(200), wrong, Rotation.Abc, 1), new(MadeLog.At(200), log.To, s_right, Rotation.Abc, 1),
        ];
        var report = IntervalMender.Mend(log, GuardAnswer.Of(log, pieces), s_options, TestContext.Current.CancellationToken);
        Assert.Equal((double.NaN, Standing.Lost), At(LogQuantity.Voltage, LogPlace.Phase2, 170));
        Assert.Equal((made.Volts[0][170], Standing.Measured), At(LogQuantity.Voltage, LogPlace.Phase1, 170));
        Assert.Equal((double.NaN, Standing.Lost), At(LogQuantity.Current, LogPlace.Phase1, 170));
        Assert.Equal((made.Amperes[1][170], Standing.Measured), At(LogQuantity.Current, LogPlace.Phase2, 170));
        Assert.Equal((made.Amperes[2][170] / 10, Standing.Mended), At(LogQuantity.Current, LogPlace.Phase3, 170));
        foreach (var quantity in (LogQuantity[])[LogQuantity.Voltage, LogQuantity.Current])
        {
            for (var place = LogPlace.Phase1; place <= LogPlace.Phase3; place++) Assert.Equal(Standing.Measured, At(quantity, place, 100).Item2);
        }

        (double, Standing) At(LogQuantity quantity, LogPlace place, int row)
        {
            var column = log.IndexOf(quantity, place);
            return (report.Log.Values(column)[row], report.Standings[column].Span[row]);
        }
    }

    // Volts and amperes by phase, and of the watts their sum alone.
    private static IntervalLog WithTotal(IntervalLog log)
    {
        int[] kept = [.. Enumerable.Range(0, log.Columns.Length).Where(column => log.Columns[column].Quantity is LogQuantity.Voltage or LogQuantity.Current)];
        var total = new double[log.Count];
        for (var phase = LogPlace.Phase1; phase <= LogPlace.Phase3; phase++)
        {
            var watts = log.Values(log.IndexOf(LogQuantity.ActivePower, phase));
            for (var row = 0; row < total.Length; row++) total[row] += watts[row];
        }

        return new IntervalLog(
            [.. kept.Select(column => log.Columns[column]), new LogColumn("P", LogQuantity.ActivePower, LogPlace.Whole)], [.. log.Starts.ToArray()],
            [.. kept.Select(column => log.Values(column).ToArray()), total], log.IntervalSeconds);
    }
}
