using Leadwright.Core.Integrity;
using Leadwright.Core.Integrity.Pieces;
using Leadwright.Core.Integrity.Recorder;
using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Tests.Integrity.Parts;

/// <summary>Lines of one kind of conductor answer alike, so that a clamp is held against the others'. Derivation: docs/methods/guard.md, "A clamp's gain for itself".</summary>
public sealed class SupplyMatrixTests
{
    [Theory]
    [InlineData(2)]
    [InlineData(0.6)]
    [InlineData(0.1)]
    public void What_a_clamp_shows_over_what_flows_stands_in_how_the_voltages_answer_to_it(double gain)
    {
        var made = At(gain, 0);
        var of = Matrix(made)!.GainOf(0)!.Value;
        Assert.InRange(of.Gain, 0.93 * gain, 1.07 * gain);
        Assert.True(of.Odds > 8, $"{of.Odds} nats");
        // Of the other two neither can be blamed: they are not alike.
        Assert.Null(Matrix(made)!.GainOf(1));
    }

    [Fact]
    public void Clamps_that_show_what_flows_are_not_blamed()
    {
        var matrix = Matrix(new SourceLog(true))!;
        for (var clamp = 0; clamp < 3; clamp++)
        {
            var of = matrix.GainOf(clamp)!.Value;
            Assert.InRange(of.Gain, 0.95, 1.05);
            Assert.InRange(of.Odds, 0, 0.5);
        }
    }

    [Fact]
    public void Conductors_that_differ_by_a_tenth_blame_no_clamp()
    {
        var made = new SourceLog(true);
        for (var row = 0; row < SourceLog.Rows; row++) made.Volts[2][row] -= 0.15 * SourceLog.Ohms * made.InPhase[2][row];
        Assert.InRange(Matrix(made)!.GainOf(2)!.Value.Odds, 0, 3);
    }

    [Fact]
    public void A_ratio_from_the_first_row_to_the_last_is_known()
    {
        var chained = Chained.Of(At(2, 0).ToFrame(), TestContext.Current.CancellationToken);
        Assert.All(chained.Currents[0]!.Rows, state => Assert.Equal(2, chained.Currents[0]!.Scales[state]));
        Assert.True(chained.Currents[0]!.IsAbsolute);
        Assert.All(chained.Currents[1]!.Rows, state => Assert.Equal(0, state));
    }

    [Fact]
    public void Which_side_of_a_leap_is_the_wrong_one_is_known()
    {
        // Half for two thirds of the rows: the third without it is the right one.
        var made = At(0.5, 260);
        var current = Chained.Of(made.ToFrame(), TestContext.Current.CancellationToken).Currents[0]!;
        Assert.Equal(1, current.Scales[current.Rows[100]]);
        Assert.Equal(0.5, current.Scales[current.Rows[500]]);
    }

    [Fact]
    public void A_jaw_that_was_never_closed_is_told_with_its_gain()
    {
        var chained = Chained.Of(At(0.6, 0).ToFrame(), TestContext.Current.CancellationToken);
        var spans = new List<GuardSpan>();
        DriftFinder.Find(chained, chained.Pieces(), spans, TestContext.Current.CancellationToken);
        var span = Assert.Single(spans);
        Assert.Equal((SpanKind.ClampOpen, chained.Frame.Log.From, chained.Frame.Log.To), (span.Kind, span.From, span.To));
        Assert.All(span.Gain, point => Assert.InRange(point.Factor, 0.55, 0.65));
    }

    private static SourceLog At(double gain, int from)
    {
        var made = new SourceLog(true);
        for (var row = from; row < SourceLog.Rows; row++) made.Scale(row, 0, gain);
        return made;
    }

    private static SupplyMatrix? Matrix(SourceLog made)
    {
        var frame = made.ToFrame();
        return SupplyMatrix.Learn(frame, PartLog.Sound(frame), _ => true);
    }
}
