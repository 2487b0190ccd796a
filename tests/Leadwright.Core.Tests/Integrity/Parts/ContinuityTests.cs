using Leadwright.Core.Circuits;
using Leadwright.Core.Integrity.Pieces;
using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Tests.Integrity.Parts;

/// <summary>What reads on where: rows 0 to 4 before a change, 5 to 9 behind it.</summary>
public sealed class ContinuityTests
{
    private const int Count = 10;
    private static readonly Arrangement s_right = new([0, 1, 2, 3], [0, 1, 2, 3], new bool[4], 0);
    private static readonly List<(int Anchor, int Piece)> s_across = [(4, 5)];

    [Fact]
    public void Rows_beside_a_change_are_held_against_each_other_with_the_mixed_one_between_them_left_out()
    {
        var key = default(RowKey);
        List<RowPiece> anchors = [new(0, 99, key), new(161, 200, key)];
        Assert.Equal([(98, 101), (162, 159)], Continuity.Bounds([new(100, 160, key)], anchors, 201));
        // A piece of two rows has no row to leave out; one that is next to no anchor, or to the end, has nothing beside it.
        Assert.Equal([(98, 100)], Continuity.Bounds([new(100, 101, key)], anchors, 201));
        Assert.Empty(Continuity.Bounds([new(110, 150, key)], anchors, 201));
        Assert.Equal([(98, 101)], Continuity.Bounds([new(100, 160, key)], anchors, 162));
        Assert.Empty(Continuity.Bounds([new(1, 60, key)], [new(0, 0, key)], 201));
    }

    [Fact]
    public void Clamps_that_were_exchanged_go_on_with_each_others_currents()
    {
        var frame = Amperes([10, 20, 35], [20, 10, 35]);
        var exchanged = s_right with { Clamps = [1, 0, 2, 3] };
        // All three go on exactly: each says ln(0.8·(0.8/0.12) + 0.2).
        Assert.Equal(3 * Math.Log((0.8 * 0.8 / 0.12) + 0.2), Say(frame, exchanged), 1e-9);
        Assert.Equal((2 * Student(Math.Log(2), 0.12, 0.8)) + Math.Log((0.8 * 0.8 / 0.12) + 0.2), Say(frame, s_right), 1e-9);
    }

    [Fact]
    public void A_current_that_turned_to_nothing_and_a_clamp_in_the_air_say_nothing()
    {
        var frame = Amperes([10, 20, 35], [0, 20, 35]);
        Assert.Equal(2 * Math.Log((0.8 * 0.8 / 0.12) + 0.2), Say(frame, s_right), 1e-9);
        Assert.Equal(2 * Math.Log((0.8 * 0.8 / 0.12) + 0.2), Say(Amperes([10, 20, 35], [99, 20, 35]), s_right with { Clamps = [-1, 1, 2, 3] }), 1e-9);
    }

    [Fact]
    public void Leads_that_were_exchanged_read_on_each_others_voltages_whatever_the_supply_did_to_all()
    {
        // Lines at 229, 230 and 232 V; all have risen by 1 V when the first two leads are exchanged.
        var log = new PartLog { Nominal = new NominalVoltage(230, 400) };
        double[] before = [229, 230, 232], behind = [231, 230, 233];
        for (var line = 0; line < 3; line++) log.Volts(line, PartLog.Rows(Count, row => row < 5 ? before[line] : behind[line]));
        var frame = log.ToFrame();
        var same = Math.Log((0.8 * 0.01 / 0.002) + 0.2);
        Assert.Equal(3 * same, Say(frame, s_right with { Leads = [1, 0, 2, 3] }), 1e-9);
        Assert.Equal(same + Student(1 / 230.0, 0.002, 0.01) + Student(-1 / 230.0, 0.002, 0.01), Say(frame, s_right), 1e-9);
    }

    [Fact]
    public void A_pair_is_read_on_by_whichever_channel_has_its_leads()
    {
        // With the leads of lines 1 and 2 exchanged the first channel reads its pair still, the second that of lines 1 and 3, the third that of 2 and 3.
        double[] before = [400, 404, 396], behind = [400, 396, 404];
        var log = new PartLog(ServiceKind.Delta) { Nominal = new NominalVoltage(400 / Math.Sqrt(3), 400) };
        for (var pair = 0; pair < 3; pair++) log.Pair(pair, PartLog.Rows(Count, row => row < 5 ? before[pair] : behind[pair]));
        var frame = log.ToFrame();
        // Each of the two goes on exactly, against a fiftieth off where nothing moved.
        var wanted = 2 * (Student(0, 0.002, 0.01) - Student(0.02, 0.002, 0.01));
        Assert.Equal(wanted, Say(frame, s_right with { Leads = [1, 0, 2, 3] }), 1e-9);
        Assert.Equal(0, Say(frame, s_right));
    }

    private static double Say(GuardFrame frame, Arrangement moved) => Continuity.Say(frame, PartLog.Sound(frame), s_right, moved, s_across);

    private static GuardFrame Amperes(double[] before, double[] behind)
    {
        var log = new PartLog();
        for (var line = 0; line < 3; line++) log.Amperes(line, PartLog.Rows(Count, row => row < 5 ? before[line] : behind[line]));
        return log.ToFrame();
    }

    // Student's density of four degrees, narrow in eight of ten, against the wide one alone.
    private static double Student(double off, double narrow, double wide)
    {
        double Density(double spread) => Math.Pow(1 + (off * off / (4 * spread * spread)), -2.5) / spread;
        return Math.Log(((0.8 * Density(narrow)) + (0.2 * Density(wide))) / Density(wide));
    }
}
