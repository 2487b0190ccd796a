using System.Collections.Immutable;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity;
using Leadwright.Core.Logs;
using Leadwright.Core.Mending.Maps;

namespace Leadwright.Core.Tests.Mending;

/// <summary>From rows to slots, and from sizes of voltages to potentials.</summary>
public sealed class MapTests
{
    private static readonly DateTime s_start = new(2026, 3, 2, 8, 0, 0);
    private static readonly Hookup s_right = Hookup.Expected([Lead.V1, Lead.V2, Lead.V3], [Clamp.I1, Clamp.I2, Clamp.I3]);

    [Fact]
    public void Missing_rows_leave_slots_without_a_row()
    {
        int[] minutes = [0, 10, 40, 50];
        var log = Log([.. minutes.Select(minute => s_start.AddMinutes(minute))]);
        var grid = new SlotGrid(log, GuardAnswer.Of(log, s_right));
        Assert.Equal([0, 1, -1, -1, 2, 3], grid.Rows.ToArray());
        Assert.Equal(1.0 / 6, grid.Hours, 1e-12);
        Assert.Equal(s_start.AddMinutes(20), grid.From(2));
        Assert.Equal(s_start.AddMinutes(40), grid.To(3));
        Assert.Equal([7, 7, double.NaN, double.NaN, 7, 7], grid.Spread([7, 7, 7, 7]));
        Assert.All(grid.Spread([]), value => Assert.True(double.IsNaN(value)));
        var marked = new List<int>();
        grid.Mark(s_start.AddMinutes(10), s_start.AddMinutes(35), marked.Add);
        Assert.Equal([1, 2], marked);
    }

    [Fact]
    public void Where_the_clock_was_set_no_time_is_missing_but_before_and_after_it_is()
    {
        // Set forward by an hour after the second row; set forward by 25 minutes after the fourth; then two rows are really missing.
        DateTime[] starts = [s_start, s_start.AddMinutes(10), s_start.AddMinutes(80), s_start.AddMinutes(90), s_start.AddMinutes(125), s_start.AddMinutes(155)];
        var log = Log(starts);
        var grid = new SlotGrid(log, GuardAnswer.Of(log, s_right, Jump(starts[1].AddMinutes(10), starts[2]), Jump(starts[3].AddMinutes(10), starts[4])));
        Assert.Equal([0, 1, 2, 3, 4, -1, -1, 5], grid.Rows.ToArray());
        Assert.Equal(starts[4], grid.From(4));
        Assert.Equal(starts[5], grid.From(7));
    }

    [Fact]
    public void A_doubtful_jump_of_the_clock_is_missing_time()
    {
        DateTime[] starts = [s_start, s_start.AddMinutes(10), s_start.AddMinutes(40)];
        var log = Log(starts);
        Assert.Equal([0, 1, -1, -1, 2], new SlotGrid(log, GuardAnswer.Of(log, s_right, Jump(starts[1].AddMinutes(10), starts[2]) with { Confidence = 0.5 })).Rows.ToArray());
    }

    [Theory]
    [InlineData(Rotation.Abc)]
    [InlineData(Rotation.Acb)]
    public void Three_voltages_between_lines_make_the_triangle_they_were_measured_on(Rotation rotation)
    {
        // Lines of 231, 224 and 236 V to earth, a little off their angles: only the sizes between the lines are given.
        var turn = rotation == Rotation.Abc ? -1 : 1;
        Phasor[] lines = [Phasor.FromDegrees(231, 0), Phasor.FromDegrees(224, 121.5 * turn), Phasor.FromDegrees(236, -119 * turn)];
        double[] pairs = [(lines[0] - lines[1]).Magnitude, (lines[1] - lines[2]).Magnitude, (lines[2] - lines[0]).Magnitude];
        var (potentials, map) = ThreeWire(pairs, s_right, rotation, _ => true);
        for (var line = 0; line < 3; line++)
        {
            // As between the lines, in size and in angle against the first pair.
            var (found, wanted) = (potentials.Of[line] - potentials.Of[(line + 1) % 3], lines[line] - lines[(line + 1) % 3]);
            Assert.Equal(wanted.Magnitude, found.Magnitude, 1e-9);
            Assert.Equal(0, Angle.WrapDegrees((found / (potentials.Of[0] - potentials.Of[1])).AngleDegrees - (wanted / (lines[0] - lines[1])).AngleDegrees), 1e-9);
            Assert.True(potentials.IsKnown[line]);
        }

        // Against the star point of the lines, which is where the three sum to nothing.
        Assert.Equal(0, (potentials.Of[0] + potentials.Of[1] + potentials.Of[2]).Magnitude, 1e-9);
        Assert.Equal(0, (potentials.Element(1, map)!.Value - potentials.Of[1]).Magnitude, 1e-9);
    }

    [Fact]
    public void Leads_that_are_exchanged_give_the_same_triangle()
    {
        // V1 on B, V2 on A: V12 is still A-B, V23 is A-C, V31 is C-B.
        var exchanged = new Hookup(
            new Dictionary<Lead, Conductor?> { [Lead.V1] = Conductor.B, [Lead.V2] = Conductor.A, [Lead.V3] = Conductor.C }.ToImmutableSortedDictionary(), s_right.Clamps);
        var (right, _) = ThreeWire([400, 390, 410], s_right, Rotation.Abc, _ => true);
        var (found, map) = ThreeWire([400, 410, 390], exchanged, Rotation.Abc, _ => true);
        for (var line = 0; line < 3; line++) Assert.Equal(0, (right.Of[line] - found.Of[line]).Magnitude, 1e-9);
        Assert.Equal(0, (found.Element(0, map)!.Value - found.Of[1]).Magnitude, 1e-9);
    }

    [Fact]
    public void A_voltage_that_is_not_there_is_the_mean_of_the_others_by_its_ratio()
    {
        var (potentials, _) = ThreeWire([400, 390, 12], s_right, Rotation.Abc, pair => pair != 2, [1, 1, 1.02]);
        Assert.Equal(400, (potentials.Of[0] - potentials.Of[1]).Magnitude, 1e-9);
        Assert.Equal(390, (potentials.Of[1] - potentials.Of[2]).Magnitude, 1e-9);
        Assert.Equal(1.02 * 395, (potentials.Of[2] - potentials.Of[0]).Magnitude, 1e-9);
        Assert.Equal([true, true, false], potentials.IsKnown.ToArray());
    }

    private static (Potentials Potentials, HookupMap Map) ThreeWire(double[] pairs, Hookup hookup, Rotation rotation, Func<int, bool> isGood, double[]? ratios = null)
    {
        LogColumn[] columns = [.. Enumerable.Range(0, 3).Select(pair => new LogColumn($"V{pair}", LogQuantity.Voltage, LogPlace.Pair12 + pair))];
        var log = new IntervalLog([.. columns], [s_start.Ticks], [.. pairs.Select(volts => new[] { volts })], 600);
        var raw = new RawSeries(log, new SlotGrid(log, GuardAnswer.Of(log, hookup)), ServiceKind.Delta);
        var map = new HookupMap(new HookupPiece(log.From, log.To, hookup, rotation, 1), raw);
        var potentials = new Potentials(ServiceKind.Delta, raw, ratios ?? [1, 1, 1], 230);
        potentials.Find(0, map, isGood);
        return (potentials, map);
    }

    private static GuardSpan Jump(DateTime from, DateTime to) => new(SpanKind.ClockJump, [], [], from, to, 0.95, new SpanFinding(default, 5));

    private static IntervalLog Log(DateTime[] starts) =>
        new([new LogColumn("V1", LogQuantity.Voltage, LogPlace.Phase1)], [.. starts.Select(start => start.Ticks)], [[.. starts.Select(_ => 230.0)]], 600);
}
