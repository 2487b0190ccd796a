using System.Collections.Immutable;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity;
using Leadwright.Core.Logs;
using Leadwright.Core.Mending;

namespace Leadwright.Core.Tests.Mending;

/// <summary>What wrong connections read is turned back to what there was.</summary>
/// <remarks>Ratios: tests/vectors/wrong-connections (derived closed forms, not from a handbook).</remarks>
public sealed class WrongConnectionMendTests
{
    private const int Rows = 8;
    private static readonly int[][] s_orders = [[0, 1, 2], [0, 2, 1], [1, 0, 2], [1, 2, 0], [2, 0, 1], [2, 1, 0]];
    private static readonly double[] s_factors = [1, 0.95, 0.9, 0.85, 0.8, 0.7, 0.5];

    [Fact]
    public void All_forty_eight_four_wire_arrangements_come_back_to_one()
    {
        var table = RepositoryFile.Table("vectors/wrong-connections/four-wire.csv");
        foreach (var factor in s_factors)
        {
            var tangent = Math.Sqrt(1 - (factor * factor)) / factor;
            foreach (var order in s_orders)
            {
                for (var signs = 0; signs < 8; signs++)
                {
                    int[] turned = [(signs & 1) != 0 ? -1 : 1, (signs & 2) != 0 ? -1 : 1, (signs & 4) != 0 ? -1 : 1];
                    var report = FourWire(factor, order, turned);
                    var truth = 3 * 230 * 10 * factor * Rows / 6.0;
                    Assert.Equal(1, report.Energy!.MendedWattHours / truth, 1e-9);
                    Assert.Equal(factor, report.After.PowerFactor, 1e-9);
                    var read = report.Energy.RecordedWattHours / truth;
                    Assert.Contains(table, row => Math.Abs(row.Number("a") + (row.Number("b") * tangent) - read) < 1e-6);
                }
            }
        }
    }

    [Fact]
    public void Every_two_element_arrangement_of_leads_and_clamps_comes_back_to_one()
    {
        var table = RepositoryFile.Table("vectors/wrong-connections/two-element.csv");
        var met = 0;
        foreach (var factor in s_factors)
        {
            var tangent = Math.Sqrt(1 - (factor * factor)) / factor;
            foreach (var leads in s_orders)
            {
                for (var way = 0; way < 8; way++)
                {
                    int[] clamps = (way & 1) == 0 ? [0, -1, 2] : [2, -1, 0];
                    int[] turned = [(way & 2) != 0 ? -1 : 1, 1, (way & 4) != 0 ? -1 : 1];
                    var report = TwoElement(factor, leads, clamps, turned);
                    var truth = 3 * 230 * 10 * factor * Rows / 6.0;
                    Assert.Equal(1, report.Energy!.MendedWattHours / truth, 1e-9);
                    // Two voltages between lines times two line currents are 2/√3 of the apparent power of a balanced load.
                    Assert.Equal(factor, report.After.PowerFactor, 1e-9);
                    var read = report.Energy.RecordedWattHours / truth;
                    if (table.Any(row => Math.Abs(row.Number("a") + (row.Number("b") * tangent) - read) < 1e-6)) met++;
                }
            }
        }

        // The table names the common ones; those at least were made and undone.
        Assert.True(met >= 20 * s_factors.Length / 2, $"{met}");
    }

    [Fact]
    public void Without_vars_a_turn_is_still_exact_and_an_exchange_is_said_to_be_open()
    {
        var turned = FourWire(0.8, [0, 1, 2], [1, -1, 1], hasVars: false);
        Assert.Equal(3 * 230 * 10 * 0.8 * Rows / 6.0, turned.Energy!.MendedWattHours, 1e-6);
        Assert.Empty(turned.Unmendable);
        var exchanged = FourWire(0.8, [1, 0, 2], [1, 1, 1], hasVars: false);
        Assert.Contains(exchanged.Unmendable, entry => entry.Reason == Leadwright.Core.Mending.Answers.UnmendableReason.NoVars);
        Assert.True(exchanged.Energy!.HighWattHours - exchanged.Energy.LowWattHours > 0.02 * exchanged.Energy.MendedWattHours);
    }

    [Fact]
    public void A_common_lead_in_the_air_reads_one_half_at_any_power_factor_and_comes_back_to_one()
    {
        // Two elements, equal input impedances: docs/methods/wrong-connection-effects.md, derived.
        foreach (var factor in s_factors)
        {
            var report = TwoElement(factor, [0, -1, 2], [0, -1, 2], [1, 1, 1]);
            var truth = 3 * 230 * 10 * factor * Rows / 6.0;
            Assert.Equal(0.5, report.Energy!.RecordedWattHours / truth, 1e-9);
            Assert.Equal(1, report.Energy.MendedWattHours / truth, 0.003);
            Assert.InRange(truth, report.Energy.LowWattHours, report.Energy.HighWattHours);
        }
    }

    [Fact]
    public void A_lead_off_from_first_to_last_reads_two_thirds_and_the_rest_is_a_stated_guess()
    {
        foreach (var factor in s_factors)
        {
            var report = FourWire(factor, [0, 1, 2], [1, 1, 1], openLead: 0);
            var truth = 3 * 230 * 10 * factor * Rows / 6.0;
            Assert.Equal(2.0 / 3, report.Energy!.RecordedWattHours / truth, 1e-9);
            Assert.InRange(truth, report.Energy.LowWattHours, report.Energy.HighWattHours);
            Assert.True(report.Energy.HighWattHours - report.Energy.LowWattHours > 0.02 * truth, "What no lead saw is not known exactly.");
            Assert.Contains(report.Unmendable, entry => entry.Reason == Leadwright.Core.Mending.Answers.UnmendableReason.NothingToLearnFrom);
        }
    }

    [Theory]
    [InlineData(10, 4)]
    [InlineData(0.1, 0.7)]
    [InlineData(0.5, 2.5 / 3)]
    public void One_wrong_ratio_of_three_reads_as_arithmetic_says_and_comes_back_to_one(double scale, double ratio)
    {
        var report = FourWire(0.8, [0, 1, 2], [1, 1, 1], scale: scale);
        var truth = 3 * 230 * 10 * 0.8 * Rows / 6.0;
        Assert.Equal(ratio, report.Energy!.RecordedWattHours / truth, 1e-9);
        Assert.Equal(1, report.Energy.MendedWattHours / truth, 1e-9);
    }

    private static MendReport FourWire(double factor, int[] order, int[] turned, bool hasVars = true, int openLead = -1, double scale = 1)
    {
        var columns = ImmutableArray.CreateBuilder<LogColumn>();
        var values = new List<double[]>();
        for (var phase = 0; phase < 3; phase++)
        {
            var place = LogPlace.Phase1 + phase;
            var reads = phase == 2 ? scale : 1;
            var volts = phase == openLead ? 0 : 230;
            var power = volts / 230.0 * Line(phase) * (reads * turned[phase] * Current(order[phase], factor)).Conjugate;
            Add(new LogColumn($"V{phase}", LogQuantity.Voltage, place), volts);
            Add(new LogColumn($"I{phase}", LogQuantity.Current, place), 10 * reads);
            Add(new LogColumn($"P{phase}", LogQuantity.ActivePower, place), power.Real);
            if (hasVars) Add(new LogColumn($"Q{phase}", LogQuantity.ReactivePower, place), power.Imaginary);
        }

        var hookup = Hookup.Expected([Lead.V1, Lead.V2, Lead.V3, Lead.VN], [Clamp.I1, Clamp.I2, Clamp.I3]);
        for (var clamp = 0; clamp < 3; clamp++)
            hookup = hookup with { Clamps = hookup.Clamps.SetItem((Clamp)clamp, new ClampPlace((Conductor)order[clamp], turned[clamp] < 0, clamp == 2 ? scale : 1)) };
        if (openLead >= 0) hookup = hookup with { Leads = hookup.Leads.SetItem((Lead)openLead, null) };
        return Mend(ServiceKind.Wye, columns, values, hookup);

        void Add(LogColumn column, double value)
        {
            columns.Add(column);
            values.Add([.. Enumerable.Repeat(value, Rows)]);
        }
    }

    private static MendReport TwoElement(double factor, int[] leads, int[] clamps, int[] turned)
    {
        var columns = ImmutableArray.CreateBuilder<LogColumn>();
        var values = new List<double[]>();
        // A lead in the air stands at the mean of the others.
        Phasor Point(int lead) => leads[lead] >= 0 ? Line(leads[lead]) : (Line(leads[(lead + 1) % 3]) + Line(leads[(lead + 2) % 3])) / 2;
        for (var pair = 0; pair < 3; pair++) Add(new LogColumn($"V{pair}", LogQuantity.Voltage, LogPlace.Pair12 + pair), (Point(pair) - Point((pair + 1) % 3)).Magnitude);
        foreach (var element in (int[])[0, 2])
        {
            var across = Point(element) - Point(1);
            var power = across * (turned[element] * Current(clamps[element], factor)).Conjugate;
            Add(new LogColumn($"I{element}", LogQuantity.Current, LogPlace.Phase1 + element), 10);
            Add(new LogColumn($"P{element}", LogQuantity.ActivePower, LogPlace.Phase1 + element), power.Real);
            Add(new LogColumn($"Q{element}", LogQuantity.ReactivePower, LogPlace.Phase1 + element), power.Imaginary);
        }

        var hookup = new Hookup(
            Enumerable.Range(0, 3).ToImmutableSortedDictionary(lead => (Lead)lead, lead => leads[lead] < 0 ? null : (Conductor?)leads[lead]),
            ImmutableSortedDictionary<Clamp, ClampPlace>.Empty
                .Add(Clamp.I1, new ClampPlace((Conductor)clamps[0], turned[0] < 0, 1)).Add(Clamp.I3, new ClampPlace((Conductor)clamps[2], turned[2] < 0, 1)));
        return Mend(ServiceKind.DeltaTwoClamp, columns, values, hookup);

        void Add(LogColumn column, double value)
        {
            columns.Add(column);
            values.Add([.. Enumerable.Repeat(value, Rows)]);
        }
    }

    private static MendReport Mend(ServiceKind service, ImmutableArray<LogColumn>.Builder columns, List<double[]> values, Hookup hookup)
    {
        var start = new DateTime(2026, 3, 2);
        var log = new IntervalLog(columns.ToImmutable(), [.. Enumerable.Range(0, Rows).Select(row => start.AddMinutes(10 * row).Ticks)], [.. values], 600);
        return IntervalMender.Mend(log, GuardAnswer.Of(log, hookup), new MendOptions { Service = service }, TestContext.Current.CancellationToken);
    }

    private static Phasor Line(int line) => Phasor.FromDegrees(230, line switch { 0 => 0, 1 => -120, _ => 120 });

    private static Phasor Current(int line, double factor) => Phasor.FromRadians(10, Line(line).AngleRadians - Math.Acos(factor));
}

/// <summary>Answers of a guard, made by hand.</summary>
internal static class GuardAnswer
{
    public static GuardReport Of(IntervalLog log, Hookup hookup, params GuardSpan[] spans) =>
        Of(log, [new HookupPiece(log.From, log.To, hookup, Rotation.Abc, 1)], spans);

    public static GuardReport Of(IntervalLog log, ImmutableArray<HookupPiece> pieces, params GuardSpan[] spans) => new(
        log.From, log.To, [.. spans], new HookupTimeline(pieces), ImmutableSortedDictionary<Channel, double>.Empty, []);
}
