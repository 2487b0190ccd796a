using System.Collections.Immutable;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity;
using Leadwright.Core.Logs;
using Leadwright.Core.Mending.Maps;

namespace Leadwright.Core.Tests.Mending;

/// <summary>A total of 6 kW, 10, 20 and 30 A: twelve slots on a wye service, of which 4 to 7 lie in a piece of their own.</summary>
public sealed class TotalMapperTests
{
    private const int Count = 12;
    private static readonly DateTime s_start = new(2026, 3, 2);
    private static readonly Hookup s_right = Hookup.Expected([Lead.V1, Lead.V2, Lead.V3, Lead.VN], [Clamp.I1, Clamp.I2, Clamp.I3]);

    [Fact]
    public void A_total_is_right_while_leads_and_clamps_are_exchanged_alike()
    {
        var lines = Map(Leads([1, 2, 0], Clamps([1, 2, 0])));
        Assert.All(lines.States[0], state => Assert.Equal(PowerState.Measured, state));
        Assert.All(lines.Watts[0], watts => Assert.Equal(6000, watts));
        // The clamps alone are not.
        Assert.Equal(PowerState.NeedsFactor, Map(Clamps([1, 2, 0])).States[0][5]);
    }

    [Fact]
    public void While_one_clamp_is_turned_the_total_is_told_by_the_currents_in_those_slots_and_beside_them()
    {
        var lines = Map(Turned());
        // The change itself falls within a slot: neither of the two beside a border is sure.
        Assert.Equal(Enumerable.Range(0, Count).Select(slot => slot is >= 3 and <= 8 ? PowerState.NeedsFactor : PowerState.Measured), lines.States[0]);
        // A turned clamp's current keeps its size, and is its own line's.
        Assert.All(lines.ClampsLost, lost => Assert.Equal(0, lost));
        Assert.Equal([10, 20, 30], lines.Amperes.Select(column => column[5]));
    }

    [Fact]
    public void Of_two_clamps_on_one_line_the_second_tells_nothing()
    {
        // Clamps 1 and 2 on line A: clamp 2, the second bit.
        Assert.Equal((PowerState.NeedsFactor, 2), At(Map(Clamps([0, 0, 2])), 5));
    }

    [Fact]
    public void A_clamp_that_is_off_is_left_out_of_the_currents() => Assert.Equal((PowerState.NeedsFactor, 4), At(Map(Clamps([0, 1, -1])), 5));

    [Fact]
    public void Where_no_clamp_is_left_the_total_is_told_by_its_share_of_the_hours() => Assert.Equal((PowerState.NeedsShare, 7), At(Map(Clamps([-1, -1, -1])), 5));

    [Fact]
    public void With_all_clamps_at_ten_times_the_total_is_divided_exactly_but_for_the_slots_of_the_change()
    {
        var lines = Map(Scaled(10, 10, 10));
        Assert.Equal(
            Enumerable.Range(0, Count).Select(slot => slot is 5 or 6 ? PowerState.Mended : slot is 3 or 4 or 7 or 8 ? PowerState.NeedsFactor : PowerState.Measured), lines.States[0]);
        Assert.Equal((600, 10), (lines.Watts[0][5], lines.Scales[0][5]));
        Assert.Equal([1, 2, 3], lines.Amperes.Select(column => column[5]));
    }

    // Read 10, 20 and 30 A, truly 1, 20 and 30: of loads at one power factor 51 sixtieths of the 6 kW.
    [Fact]
    public void One_clamp_at_ten_times_takes_its_surplus_from_the_total_as_the_currents_share_it()
    {
        var lines = Map(Scaled(10, 1, 1));
        Assert.Equal((PowerState.Mended, 0), At(lines, 5));
        Assert.Equal(5100, lines.Watts[0][5], 1e-9);
        // Did line 1 draw a percent more of its volt-amperes than the others, of 1/51 of 5,100 W it is 1 W, ten times shown, and 60/51 of what is divided: a sixth of an hour of 100 (10 · 51/60 − 1) Wh in two slots.
        Assert.Equal(2 / 6.0 * 100 * ((10 * 51 / 60.0) - 1), lines.SharesMoved[0], 1e-9);
    }

    [Fact]
    public void A_lead_in_the_air_leaves_the_currents() => Assert.Equal((PowerState.NeedsFactor, 0), At(Map(Leads([0, -1, 2], s_right)), 5));

    // 10, 20 and 30 A at one power factor leave √300 A in the neutral; inputs that agree to a percent are 2.3 V off it: four slots, and three where one has no voltages.
    [Theory]
    [InlineData(-1, 4)]
    [InlineData(5, 3)]
    public void A_total_stands_while_the_neutral_lead_is_in_the_air_but_for_the_neutrals_current_over_the_inputs_star_point(int withoutVoltage, int slots)
    {
        var lines = Map(Log(withoutVoltage), s_right with { Leads = s_right.Leads.SetItem(Lead.VN, null) });
        Assert.All(lines.States[0], state => Assert.Equal(PowerState.Measured, state));
        Assert.Equal(slots / 6.0 * 2.3 * Math.Sqrt(300), lines.StarPointWattHours, 1e-9);
    }

    [Fact]
    public void Without_supply_the_total_stands_as_it_was_written()
    {
        var out4 = new GuardSpan(SpanKind.Outage, [Lead.V1], [], s_start.AddMinutes(40), s_start.AddMinutes(80), 0.95, new SpanFinding(default, 5));
        Assert.Equal(PowerState.Measured, Map(Turned(), out4).States[0][5]);
    }

    [Fact]
    public void Rows_that_repeat_as_a_whole_tell_nothing_of_the_total_and_one_current_that_does_is_left_out_of_it()
    {
        GuardSpan Stuck(Lead[] leads, Clamp[] clamps) =>
            new(SpanKind.Stuck, [.. leads], [.. clamps], s_start.AddMinutes(40), s_start.AddMinutes(80), 0.95, new SpanFinding(SpanRelation.ValueRepeated, 5));
        Assert.Equal(PowerState.NeedsShare, Map(s_right, Stuck([Lead.V1, Lead.V2, Lead.V3], [Clamp.I1, Clamp.I2, Clamp.I3])).States[0][5]);
        Assert.Equal((PowerState.NeedsFactor, 1), At(Map(Turned(), Stuck([], [Clamp.I1])), 5));
    }

    private static (PowerState State, int Lost) At(LineSeries lines, int slot) => (lines.States[0][slot], lines.ClampsLost[slot]);

    private static Hookup Turned() => s_right with { Clamps = s_right.Clamps.SetItem(Clamp.I1, new ClampPlace(Conductor.A, true, 1)) };

    private static Hookup Scaled(params double[] scales) =>
        s_right with { Clamps = s_right.Clamps.SetItems(scales.Select((scale, clamp) => KeyValuePair.Create((Clamp)clamp, new ClampPlace((Conductor)clamp, false, scale)))) };

    private static Hookup Clamps(int[] on) =>
        s_right with { Clamps = s_right.Clamps.SetItems(on.Select((line, clamp) => KeyValuePair.Create((Clamp)clamp, new ClampPlace(line < 0 ? null : (Conductor)line, false, 1)))) };

    private static Hookup Leads(int[] on, Hookup hookup) =>
        hookup with { Leads = hookup.Leads.SetItems(on.Select((line, lead) => KeyValuePair.Create((Lead)lead, line < 0 ? null : (Conductor?)line))) };

    private static LineSeries Map(Hookup wrong, params GuardSpan[] spans) => Map(Log(), wrong, spans);

    private static LineSeries Map(IntervalLog log, Hookup wrong, params GuardSpan[] spans)
    {
        DateTime from = s_start.AddMinutes(40), to = s_start.AddMinutes(80);
        var guard = GuardAnswer.Of(
            log,
            [
                new HookupPiece(log.From, from, s_right, Rotation.Abc, 1), new HookupPiece(from, to, wrong, Rotation.Abc, 1),
                new HookupPiece(to, log.To, s_right, Rotation.Abc, 1),
            ],
            spans);
        var grid = new SlotGrid(log, guard);
        var raw = new RawSeries(log, grid, ServiceKind.Wye);
        return new LineMapper(raw, ServiceKind.Wye, new ChannelFlags(grid, guard, raw), guard.Timeline, new NominalVoltage(230, 400)).Map(TestContext.Current.CancellationToken);
    }

    private static IntervalLog Log(int withoutVoltage = -1)
    {
        var columns = ImmutableArray.CreateBuilder<LogColumn>();
        var values = new List<double[]>();
        for (var line = 0; line < 3; line++)
        {
            columns.Add(new LogColumn($"V{line}", LogQuantity.Voltage, LogPlace.Phase1 + line));
            columns.Add(new LogColumn($"I{line}", LogQuantity.Current, LogPlace.Phase1 + line));
            values.AddRange([[.. Enumerable.Range(0, Count).Select(row => row == withoutVoltage ? double.NaN : 230.0)], [.. Enumerable.Repeat(10.0 * (line + 1), Count)]]);
        }

        columns.Add(new LogColumn("P", LogQuantity.ActivePower, LogPlace.Whole));
        values.Add([.. Enumerable.Repeat(6000.0, Count)]);
        return new IntervalLog(columns.ToImmutable(), [.. Enumerable.Range(0, Count).Select(row => s_start.AddMinutes(10 * row).Ticks)], [.. values], 600);
    }
}
