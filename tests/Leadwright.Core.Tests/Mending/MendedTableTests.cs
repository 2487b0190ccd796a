using System.Collections.Immutable;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity;
using Leadwright.Core.Logs;
using Leadwright.Core.Mending;
using Leadwright.Core.Mending.Answers;
using Leadwright.Core.Tests.Integrity;

namespace Leadwright.Core.Tests.Mending;

/// <summary>The mended table against the values that were changed by arithmetic.</summary>
public sealed class MendedTableTests
{
    private static readonly MendOptions s_options = new() { Service = ServiceKind.Wye, Nominal = new NominalVoltage(230, 400) };
    private static readonly Hookup s_right = Hookup.Expected([Lead.V1, Lead.V2, Lead.V3, Lead.VN], [Clamp.I1, Clamp.I2, Clamp.I3]);

    [Fact]
    public void A_turned_clamp_comes_back_exactly_but_for_the_interval_it_was_turned_in()
    {
        var truth = new MadeLog().ToLog();
        var log = new MadeLog().WithReversed(100, 250, 1).ToLog();
        var wrong = s_right with { Clamps = s_right.Clamps.SetItem(Clamp.I2, new ClampPlace(Conductor.B, true, 1)) };
        var report = Mend(log, Pieces(log, wrong, 100, 250));
        var column = log.IndexOf(LogQuantity.ActivePower, LogPlace.Phase2);
        for (var row = 0; row < log.Count; row++)
        {
            var isEdge = row is 99 or 100 or 249 or 250;
            var standing = report.Standings[column].Span[row];
            Assert.Equal(isEdge ? Standing.Modelled : row is > 100 and < 249 ? Standing.Mended : Standing.Measured, standing);
            if (!isEdge) Assert.Equal(truth.Values(column)[row], report.Log.Values(column)[row]);
        }

        // What the corrections say they bring is what they bring.
        Assert.Equal(report.After.WattHours - report.Before.WattHours, report.Corrections.Sum(entry => entry.WattHours), 1e-6 * report.After.WattHours);
        var within = Enumerable.Range(101, 148).Sum(row => 2 * truth.Values(column)[row] / 6);
        Assert.Equal(within, report.Corrections.Single(entry => entry.Kind == CorrectionKind.ClampReversed).WattHours, 1e-6 * within);
        Assert.Contains(report.Corrections, entry => entry is { Kind: CorrectionKind.ClampReversed, Basis: CorrectionBasis.Exact } && entry.From == MadeLog.At(100) && entry.To == MadeLog.At(250));
        Assert.InRange(Energy(truth), report.Energy!.LowWattHours, report.Energy.HighWattHours);
        Assert.True(report.Energy.HighWattHours - report.Energy.LowWattHours < 0.006 * Energy(truth), "A pure turn is known to 0.3 %.");
    }

    [Fact]
    public void A_wrong_ratio_is_divided_out_to_rounding()
    {
        var truth = new MadeLog().ToLog();
        var log = new MadeLog().WithAmperes(0, MadeLog.Rows, 2, 10).ToLog();
        var report = Mend(log, GuardAnswer.Of(log, s_right with { Clamps = s_right.Clamps.SetItem(Clamp.I3, new ClampPlace(Conductor.C, false, 10)) }));
        foreach (var quantity in (LogQuantity[])[LogQuantity.Current, LogQuantity.ActivePower, LogQuantity.ReactivePower])
        {
            var column = log.IndexOf(quantity, LogPlace.Phase3);
            for (var row = 0; row < log.Count; row++)
                Assert.Equal(truth.Values(column)[row], report.Log.Values(column)[row], 1e-9 * Math.Abs(truth.Values(column)[row]));
        }

        Assert.Equal(Energy(truth), report.Energy!.MendedWattHours, 1e-6 * Energy(truth));
    }

    [Fact]
    public void A_lead_that_was_off_a_day_leaves_its_volts_modelled_its_vars_lost_and_its_energy_known()
    {
        var truth = new MadeLog().ToLog();
        var log = new MadeLog().WithVolts(150, 294, 1, 0.03, 1).ToLog();
        var report = Mend(log, Pieces(log, s_right with { Leads = s_right.Leads.SetItem(Lead.V2, null) }, 150, 294));
        var (volts, vars) = (log.IndexOf(LogQuantity.Voltage, LogPlace.Phase2), log.IndexOf(LogQuantity.ReactivePower, LogPlace.Phase2));
        for (var row = 152; row < 292; row++)
        {
            Assert.Equal(Standing.Modelled, report.Standings[volts].Span[row]);
            Assert.Equal(truth.Values(volts)[row], report.Log.Values(volts)[row], 0.02 * 230);
            Assert.Equal(Standing.Lost, report.Standings[vars].Span[row]);
        }

        Assert.Equal(
            report.After.WattHours - report.Before.WattHours, report.Corrections.Where(entry => double.IsFinite(entry.WattHours)).Sum(entry => entry.WattHours), 1e-6 * report.After.WattHours);
        Assert.InRange(Energy(truth), report.Energy!.LowWattHours, report.Energy.HighWattHours);
        Assert.True(report.Energy.HighWattHours - report.Energy.LowWattHours < 0.03 * Energy(truth));
        Assert.Contains(report.Unmendable, entry => entry.Reason == UnmendableReason.VoltageQuality && entry.Leads.SequenceEqual([Lead.V2]));
    }

    [Fact]
    public void Intervals_that_are_missing_are_filled_and_never_set_the_peak()
    {
        var truth = new MadeLog().ToLog();
        var before = Mend(truth, GuardAnswer.Of(truth, s_right), s_options with { DemandMinutes = 10 });
        Assert.Empty(before.Corrections);
        Assert.False(before.After.PeakIsAtLeast);
        var peakRow = (int)((before.After.PeakAt - MadeLog.Start).TotalMinutes / 10);
        var log = Without(truth, peakRow - 3, peakRow + 6);
        var report = Mend(log, GuardAnswer.Of(log, s_right), s_options with { DemandMinutes = 10 });
        Assert.Equal(truth.Count, report.Log.Count);
        Assert.Equal(truth.Starts.ToArray(), report.Log.Starts.ToArray());
        Assert.True(report.After.PeakIsAtLeast);
        Assert.True(report.After.PeakWatts < before.After.PeakWatts);
        var watts = log.IndexOf(LogQuantity.ActivePower, LogPlace.Phase1);
        Assert.Equal(Standing.Modelled, report.Standings[watts].Span[peakRow]);
        Assert.Equal(Standing.Lost, report.Standings[log.IndexOf(LogQuantity.Voltage, LogPlace.Phase1)].Span[peakRow]);
        Assert.Contains(report.Corrections, entry => entry.Kind == CorrectionKind.NoData);
        Assert.Contains(report.Unmendable, entry => entry.Reason == UnmendableReason.RecorderOff);
    }

    [Fact]
    public void A_demand_that_intervals_make_up_in_no_whole_number_is_taken_over_the_next_multiple_and_called_at_least()
    {
        // Ten-minute values make no fifteen minutes: half an hour is the shortest span that both fill.
        var log = new MadeLog().ToLog();
        var report = Mend(log, GuardAnswer.Of(log, s_right), s_options with { DemandMinutes = 15 });
        var half = Mend(log, GuardAnswer.Of(log, s_right), s_options with { DemandMinutes = 30 });
        Assert.Equal(30, report.After.PeakMinutes);
        Assert.True(report.After.PeakIsAtLeast);
        Assert.Equal(half.After.PeakWatts, report.After.PeakWatts);
        Assert.Equal(half.After.PeakAt, report.After.PeakAt);
        Assert.False(half.After.PeakIsAtLeast);
    }

    [Fact]
    public void An_outage_that_the_recorder_rode_through_is_zero_energy_and_no_gap()
    {
        var made = new MadeLog().WithVolts(200, 206, 0, 0, 0);
        foreach (var phase in made.Amperes) Array.Clear(phase, 200, 6);
        var log = made.ToLog();
        var report = IntervalMender.Mend(log, made.Guard(), s_options, TestContext.Current.CancellationToken);
        Assert.Empty(report.Corrections);
        Assert.Equal(Energy(log), report.Energy!.MendedWattHours, 1e-6);
    }

    [Fact]
    public void Volts_and_amperes_alone_give_no_energy_and_are_told_so()
    {
        var full = new MadeLog().ToLog();
        int[] kept = [0, 1, 4, 5, 8, 9];
        var log = new IntervalLog([.. kept.Select(index => full.Columns[index])], full.Starts.ToArray(), [.. kept.Select(index => full.Values(index).ToArray())], 600);
        var report = Mend(log, GuardAnswer.Of(log, s_right));
        Assert.Null(report.Energy);
        Assert.Contains(report.Unmendable, entry => entry.Reason == UnmendableReason.NoPower);
    }

    private static MendReport Mend(IntervalLog log, GuardReport guard, MendOptions? options = null) => IntervalMender.Mend(log, guard, options ?? s_options, TestContext.Current.CancellationToken);

    private static GuardReport Pieces(IntervalLog log, Hookup wrong, int from, int to) => GuardAnswer.Of(log,
        (ImmutableArray<HookupPiece>)
        [
            new HookupPiece(log.From, MadeLog.At(from), s_right, Rotation.Abc, 1), new HookupPiece(MadeLog.At(from), MadeLog.At(to), wrong, Rotation.Abc, 1),
            new HookupPiece(MadeLog.At(to), log.To, s_right, Rotation.Abc, 1),
        ]);

    private static double Energy(IntervalLog log)
    {
        var sum = 0.0;
        for (var phase = LogPlace.Phase1; phase <= LogPlace.Phase3; phase++)
            foreach (var watts in log.Values(log.IndexOf(LogQuantity.ActivePower, phase))) sum += watts / 6;
        return sum;
    }

    private static IntervalLog Without(IntervalLog log, int from, int to)
    {
        int[] rows = [.. Enumerable.Range(0, log.Count).Where(row => row < from || row >= to)];
        return new IntervalLog(
            log.Columns, [.. rows.Select(row => log.Starts.Span[row])], [.. Enumerable.Range(0, log.Columns.Length).Select(column => rows.Select(row => log.Values(column)[row]).ToArray())],
            log.IntervalSeconds);
    }
}
