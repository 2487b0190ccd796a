using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity;
using Leadwright.Core.Integrity.Chains;
using Leadwright.Core.Integrity.Pieces;

namespace Leadwright.Core.Tests.Integrity.Parts;

/// <summary>Eight days of street lighting: three lines lit from dusk to dawn, and by day a small load on the first alone. From the fifth morning to the sixth the clamps of the first two lines are exchanged, which shows by night; by day the first clamp seems to be off.</summary>
public sealed class IdleUnderMovedTests
{
    private const int Day = 144, Count = 8 * Day, Dawn = 36, Dusk = 114, From = (4 * Day) + Dawn, Lit = (4 * Day) + Dusk, End = (5 * Day) + Dawn;
    private static readonly Hookup s_right = Hookup.Expected([Lead.V1, Lead.V2, Lead.V3, Lead.VN], [Clamp.I1, Clamp.I2, Clamp.I3]);
    private static readonly Hookup s_exchanged = With((Clamp.I1, ClampPlace.Right(Conductor.B)), (Clamp.I2, ClampPlace.Right(Conductor.A)));
    private static readonly Hookup s_off = With((Clamp.I1, s_right.Clamps[Clamp.I1] with { On = null }));

    [Fact]
    public void By_day_an_exchanged_clamp_shows_the_idle_line_as_one_that_came_off_would() =>
        Assert.Equal([s_right, s_exchanged, s_exchanged, s_right], Carried(Exchanged));

    [Fact]
    public void It_is_as_sure_as_the_night_beside_it()
    {
        var judged = Judged(0.97);
        IdleUnderMoved.Carry(Chain(Exchanged), judged, s_right);
        Assert.Equal((0.97, 0), (judged[1].Confidence, judged[1].Alternatives.Length));
    }

    // The second clamp would show the small load of the first line if the two were exchanged.
    [Fact]
    public void A_clamp_off_whose_neighbour_shows_nothing_either_is_off() =>
        Assert.Equal([s_right, s_off, s_exchanged, s_right], Carried((row, clamp) => row is >= From and < Lit && clamp < 2 ? 0 : Exchanged(row, clamp)));

    // On all other days the second line draws by day as well: a clamp on it would show that.
    [Fact]
    public void Where_the_line_that_it_was_moved_to_draws_at_these_hours_it_is_off() =>
        Assert.Equal([s_right, s_off, s_exchanged, s_right], Carried((row, clamp) => clamp == 1 && row is < From or >= End ? 5 : Exchanged(row, clamp)));

    [Fact]
    public void A_movement_that_is_unsure_carries_nothing_on()
    {
        var judged = Judged(GuardSpan.SureFrom - 0.01);
        IdleUnderMoved.Carry(Chain(Exchanged), judged, s_right);
        Assert.Equal(s_off, judged[1].Hookup);
    }

    private static Hookup[] Carried(Func<int, int, double> amperes)
    {
        var judged = Judged(0.97);
        IdleUnderMoved.Carry(Chain(amperes), judged, s_right);
        return [.. judged.Select(piece => piece.Hookup)];
    }

    private static List<JudgedPiece> Judged(double confidence) =>
    [
        Piece(0, From - 1, s_right, 0.99), Piece(From, Lit - 1, s_off, 0.9) with { Alternatives = [new HookupChance(s_right, 0.1)] }, Piece(Lit, End - 1, s_exchanged, confidence), Piece(End, Count - 1, s_right, 0.99),
    ];

    private static JudgedPiece Piece(int from, int to, Hookup hookup, double confidence) => new(from, to, new RowKey(0, 0, 0), hookup, confidence, 5, []);

    private static double Exchanged(int row, int clamp) => Line(row, clamp < 2 && row is >= From and < End ? 1 - clamp : clamp);

    private static double Line(int row, int line) => row % Day is < Dawn or >= Dusk ? 12 + line : line == 0 ? 0.4 : 0;

    private static Chained Chain(Func<int, int, double> amperes)
    {
        var log = new PartLog();
        for (var clamp = 0; clamp < 3; clamp++)
        {
            var at = clamp;
            log.Volts(clamp, PartLog.Steady(Count, 230)).Amperes(clamp, PartLog.Rows(Count, row => amperes(row, at)));
        }

        var frame = log.ToFrame();
        return new Chained(frame, PartLog.Sound(frame), new AngleHistory?[3], new CurrentHistory?[4], null);
    }

    private static Hookup With(params (Clamp Clamp, ClampPlace Place)[] places) => s_right with { Clamps = s_right.Clamps.SetItems(places.Select(each => KeyValuePair.Create(each.Clamp, each.Place))) };
}
