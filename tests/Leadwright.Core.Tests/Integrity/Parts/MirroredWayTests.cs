using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity.Pieces;

namespace Leadwright.Core.Tests.Integrity.Parts;

public sealed class MirroredWayTests
{
    private static readonly Hookup s_right = Hookup.Expected([Lead.V1, Lead.V2, Lead.V3, Lead.VN], [Clamp.I1, Clamp.I2, Clamp.I3]);

    // On lines A, C, B a phasor of B stands where one of C does on A, B, C: every power of clamps one place on is that of clamps one place back there.
    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    public void Clamps_that_went_a_place_on_read_as_a_place_back_on_lines_the_other_way_about(int step)
    {
        var moved = Rotated(step);
        var mirrored = MirroredWay.Of(moved);
        Assert.Equal(Rotated(3 - step), mirrored);
        Assert.Equal(moved, MirroredWay.Of(mirrored));
        for (var clamp = 0; clamp < 3; clamp++) Assert.Equal(Turn(moved, clamp, -120), Turn(mirrored, clamp, 120), 6);
    }

    [Fact]
    public void What_else_was_moved_is_left_as_it_is()
    {
        Assert.False(MirroredWay.IsOne(s_right));
        var exchanged = s_right with { Clamps = s_right.Clamps.SetItem(Clamp.I1, ClampPlace.Right(Conductor.B)).SetItem(Clamp.I2, ClampPlace.Right(Conductor.A)) };
        Assert.Equal(exchanged, MirroredWay.Of(exchanged));
    }

    private static Hookup Rotated(int step) => s_right with
    {
        Clamps = s_right.Clamps.SetItem(Clamp.I1, ClampPlace.Right((Conductor)step)).SetItem(Clamp.I2, ClampPlace.Right((Conductor)((1 + step) % 3))).SetItem(Clamp.I3, ClampPlace.Right((Conductor)((2 + step) % 3))),
    };

    private static double Turn(Hookup hookup, int clamp, double perLine) => Angle.WrapDegrees(perLine * (clamp - (int)hookup.Clamps[(Clamp)clamp].On!.Value));
}
