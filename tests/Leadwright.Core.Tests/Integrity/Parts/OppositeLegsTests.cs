using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity.Pieces;
using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Tests.Integrity.Parts;

public sealed class OppositeLegsTests
{
    private static readonly Hookup s_right = Hookup.Expected([Lead.V1, Lead.V2, Lead.VN], [Clamp.I1, Clamp.I2]);

    private static readonly Hookup s_exchanged = s_right with { Leads = s_right.Leads.SetItem(Lead.V1, Conductor.B).SetItem(Lead.V2, Conductor.A) };

    private static readonly Hookup s_turned = s_right with { Clamps = s_right.Clamps.SetItem(Clamp.I1, new ClampPlace(Conductor.A, true, 1)).SetItem(Clamp.I2, new ClampPlace(Conductor.B, true, 1)) };

    [Fact]
    public void Exchanged_leads_read_as_both_clamps_turned()
    {
        Assert.Equal(s_turned, OppositeLegs.Of(s_exchanged));
        Assert.Equal(s_exchanged, OppositeLegs.Of(s_turned));
    }

    // Turned from first to last and the leads exchanged for three days before the end of it, or the leads exchanged for the rest: the second is one mishap.
    [Fact]
    public void A_recording_that_is_right_in_part_needs_no_second_mishap()
    {
        List<JudgedPiece> judged = [Piece(0, 199, OppositeLegs.Of(s_right)), Piece(200, 599, s_turned)];
        OppositeLegs.Name(Split(), judged);
        Assert.Equal([s_right, s_exchanged], judged.Select(piece => piece.Hookup));
    }

    [Fact]
    public void Where_more_is_right_as_it_is_the_names_stay()
    {
        List<JudgedPiece> judged = [Piece(0, 399, s_right), Piece(400, 599, s_turned)];
        OppositeLegs.Name(Split(), judged);
        Assert.Equal([s_right, s_turned], judged.Select(piece => piece.Hookup));
    }

    private static GuardFrame Split()
    {
        var log = new PartLog(ServiceKind.Split) { Nominal = new NominalVoltage(120, 240) };
        return log.Volts(0, PartLog.Rows(600, _ => 120)).Volts(1, PartLog.Rows(600, _ => 120)).Amperes(0, PartLog.Rows(600, _ => 5)).Amperes(1, PartLog.Rows(600, _ => 5)).ToFrame();
    }

    private static JudgedPiece Piece(int from, int to, Hookup hookup) => new(from, to, default, hookup, 0.99, 10, []);
}
