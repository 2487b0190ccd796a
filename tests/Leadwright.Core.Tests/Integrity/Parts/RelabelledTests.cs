using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity.Pieces;

namespace Leadwright.Core.Tests.Integrity.Parts;

public sealed class RelabelledTests
{
    private static readonly Hookup s_right = Hookup.Expected([Lead.V1, Lead.V2, Lead.V3, Lead.VN], [Clamp.I1, Clamp.I2, Clamp.I3]);

    private static readonly Hookup s_leadsAndClamps = s_right with
    {
        Leads = s_right.Leads.SetItem(Lead.V2, Conductor.C).SetItem(Lead.V3, Conductor.B),
        Clamps = s_right.Clamps.SetItem(Clamp.I2, ClampPlace.Right(Conductor.C)).SetItem(Clamp.I3, ClampPlace.Right(Conductor.B)),
    };

    // Leads V2 and V3 exchanged for a day, and their clamps with them for the two days before: nothing was wrong before, and then the clamps were exchanged.
    [Fact]
    public void Where_leads_and_clamps_are_said_to_be_moved_alike_for_longest_they_were_not_moved()
    {
        var leads = s_right with { Leads = s_leadsAndClamps.Leads };
        List<JudgedPiece> judged = [Piece(0, 199, s_leadsAndClamps), Piece(200, 299, leads)];
        Assert.True(Relabelled.Name(judged, 3));
        Assert.Equal(s_right, judged[0].Hookup);
        Assert.Equal(s_right with { Clamps = s_leadsAndClamps.Clamps }, judged[1].Hookup);
    }

    [Fact]
    public void Where_more_is_right_as_it_is_the_names_stay()
    {
        List<JudgedPiece> judged = [Piece(0, 199, s_right), Piece(200, 299, s_leadsAndClamps)];
        Assert.False(Relabelled.Name(judged, 3));
        Assert.Equal(s_leadsAndClamps, judged[1].Hookup);
    }

    private static JudgedPiece Piece(int from, int to, Hookup hookup) => new(from, to, default, hookup, 0.99, 10, []);
}
