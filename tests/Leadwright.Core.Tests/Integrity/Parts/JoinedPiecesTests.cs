using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity;
using Leadwright.Core.Integrity.Pieces;
using Leadwright.Core.Panels;

namespace Leadwright.Core.Tests.Integrity.Parts;

/// <summary>What neighbouring pieces of a week of ten-minute values say of each other.</summary>
public sealed class JoinedPiecesTests
{
    private const int Count = 600;
    private static readonly Hookup s_right = Hookup.Expected([Lead.V1, Lead.V2, Lead.V3, Lead.VN], [Clamp.I1, Clamp.I2, Clamp.I3]);
    private static readonly Hookup s_turned = With(Clamp.I3, new ClampPlace(Conductor.C, true, 1));
    private static readonly Hookup s_onNeutral = With(Clamp.I3, ClampPlace.Right(Conductor.N));

    // Turn numbers of the third channel: 1 half a turn, 2 a third of one.
    private static readonly RowKey s_none = new(0, 0, 0), s_half = new(0, 0x100, 0), s_third = new(0, 0x200, 0);

    [Fact]
    public void Pieces_that_touch_are_as_sure_as_the_surest()
    {
        List<JudgedPiece> judged = [Piece(0, 99, s_none, s_right, 0.99), Piece(100, 119, s_half, s_turned, 0.7), Piece(120, 180, s_third, s_turned, 0.98), Piece(181, 599, s_none, s_right, 0.99)];
        JoinedPieces.Join(Chain(hasVars: true), judged, s_right);
        Assert.Equal([0.99, 0.98, 0.98, 0.99], judged.Select(piece => piece.Confidence));
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void Within_a_slip_an_hour_of_another_is_the_load_where_the_size_of_the_angle_alone_is_known(bool hasVars)
    {
        List<JudgedPiece> judged =
        [
            Piece(0, 99, s_none, s_right, 0.99), Piece(100, 149, s_half, s_turned, 0.98), Piece(150, 158, s_third, s_onNeutral, 0.9), Piece(159, 210, s_half, s_turned, 0.98), Piece(211, 599, s_none, s_right, 0.99),
        ];
        JoinedPieces.Join(Chain(hasVars), judged, s_right);
        Assert.Equal(hasVars ? s_onNeutral : s_turned, judged[2].Hookup);
    }

    [Fact]
    public void A_power_that_stands_now_here_now_there_is_the_neutrals_and_one_that_recurs_at_one_angle_is_a_loads()
    {
        List<JudgedPiece> Pieces(RowKey second)
        {
            List<JudgedPiece> judged = [Piece(0, 199, s_none, s_right, 0.99)];
            for (var at = 200; at < 280; at += 20)
            {
                judged.Add(Piece(at, at + 9, at % 40 == 0 ? s_half : second, at % 40 == 0 ? s_turned : With(Clamp.I3, ClampPlace.Right(Conductor.A)), 0.6));
                judged.Add(Piece(at + 10, at + 19, s_none, s_right, 0.99));
            }

            judged.Add(Piece(280, 599, s_none, s_right, 0.99));
            return judged;
        }

        var wandering = Pieces(s_third);
        JoinedPieces.Join(Chain(hasVars: true), wandering, s_right);
        var found = wandering.Where(piece => piece.Hookup != s_right).ToList();
        Assert.All(found, piece => Assert.Equal(s_onNeutral, piece.Hookup));
        Assert.Equal((200, 269), (found[0].From, found[^1].To));
        var recurring = Pieces(s_half);
        JoinedPieces.Join(Chain(hasVars: true), recurring, s_right);
        Assert.DoesNotContain(recurring, piece => piece.Hookup == s_onNeutral);
    }

    [Fact]
    public void A_log_of_one_line_without_a_current_is_guarded()
    {
        var random = new SeededRandom(4);
        var log = new PartLog().Volts(0, PartLog.Rows(96, _ => 230 + random.Gaussian())).Watts(0, PartLog.Rows(96, _ => 9000 + (500 * random.Gaussian()))).ToLog();
        Assert.Empty(IntervalGuard.Judge(log, new GuardOptions { Service = ServiceKind.Wye }, TestContext.Current.CancellationToken).Spans);
    }

    private static Hookup With(Clamp clamp, ClampPlace place) => s_right with { Clamps = s_right.Clamps.SetItem(clamp, place) };

    private static JudgedPiece Piece(int from, int to, RowKey key, Hookup hookup, double confidence) => new(from, to, key, hookup, confidence, 3, []);

    private static Chained Chain(bool hasVars)
    {
        var random = new SeededRandom(3);
        var log = new PartLog();
        for (var line = 0; line < 3; line++)
        {
            var amperes = PartLog.Rows(Count, _ => 20 + (2 * random.Gaussian()));
            log.Volts(line, PartLog.Rows(Count, _ => 230 + (0.3 * random.Gaussian()))).Amperes(line, amperes).Watts(line, [.. amperes.Select(ampere => 230 * ampere * 0.9)]);
            if (hasVars) log.Vars(line, [.. amperes.Select(ampere => 230 * ampere * 0.43)]);
        }

        return Chained.Of(log.ToFrame(), TestContext.Current.CancellationToken);
    }
}
