using Leadwright.Core.Circuits;
using Leadwright.Core.Integrity.Phasors;
using Leadwright.Core.Integrity.Pieces;

namespace Leadwright.Core.Tests.Integrity.Parts;

/// <summary>The law by which voltages answer to the currents of a four-wire service, held against one worked out with whole phasors. Derivation: docs/methods/guard.md, "The law of the supply".</summary>
public sealed class PhasorLawTests
{
    private const double Unit = 230;

    [Theory]
    [InlineData(0.05, 0.03, 0.05, 0.03)]
    [InlineData(0.08, 0.02, 0.064, 0.016)]
    [InlineData(0.03, 0.05, 0.06, 0.1)]
    public void The_impedances_of_line_and_neutral_are_learned_from_the_rows(double r, double x, double rn, double xn)
    {
        var made = new FourWireLog { Line = new(r, x), Neutral = new(rn, xn) };
        var (law, _) = Learn(made, Rotation.Abc, Right);
        Assert.InRange(law.Line.Real * Unit * Unit, 0.93 * r, 1.07 * r);
        Assert.InRange(law.Line.Imaginary * Unit * Unit, 0.9 * x, 1.1 * x);
        // The neutral's is weighed in steps of a quarter.
        Assert.InRange(law.Neutral.Real / law.Line.Real, 0.75 * rn / r, 1.25 * rn / r);
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void The_order_of_the_lines_is_told(bool isAcb)
    {
        var made = new FourWireLog(isAcb);
        var (asAbc, _) = Learn(made, Rotation.Abc, Right);
        var (asAcb, _) = Learn(made, Rotation.Acb, Right);
        var gap = asAcb.Gain - asAbc.Gain;
        Assert.True(isAcb ? gap > 100 : gap < -100, $"{gap} nats");
    }

    [Fact]
    public void With_the_neutral_lead_in_the_air_another_lines_ampere_turns_the_voltages_the_other_way()
    {
        var made = new FourWireLog { IsNeutralOff = _ => true };
        var (off, most) = Learn(made, Rotation.Abc, Right with { Leads = [0, 1, 2, -1] });
        var (on, _) = Learn(made, Rotation.Abc, Right);
        Assert.InRange(off.Line.Real * Unit * Unit, 0.045, 0.055);
        Assert.True(off.Gain - on.Gain > 100, $"{off.Gain} and {on.Gain} nats");
        Assert.True(off.Gain > 0.95 * most, $"{off.Gain} of {most} nats");
    }

    [Fact]
    public void A_clamp_on_the_neutral_leaves_its_line_to_what_all_currents_add_up_to()
    {
        var made = new FourWireLog { Clamps = _ => [0, 1, 3] };
        var (law, most) = Learn(made, Rotation.Abc, Right with { Clamps = [0, 1, 3, 3] });
        Assert.InRange(law.Line.Real * Unit * Unit, 0.045, 0.055);
        Assert.True(law.Gain > 0.95 * most, $"{law.Gain} of {most} nats");
        var (asRight, _) = Learn(made, Rotation.Abc, Right);
        Assert.True(law.Gain - asRight.Gain > 100, $"{law.Gain} and {asRight.Gain} nats");
    }

    [Fact]
    public void Clamps_exchanged_are_no_right_hook_up_by_how_the_voltages_answer()
    {
        var made = new FourWireLog { Clamps = _ => [1, 0, 2] };
        var (law, most) = Learn(made, Rotation.Abc, Right with { Clamps = [1, 0, 2, 3] });
        Assert.True(law.Gain > 0.95 * most, $"{law.Gain} of {most} nats");
        var (asRight, _) = Learn(made, Rotation.Abc, Right);
        Assert.True(law.Gain - asRight.Gain > 100, $"{law.Gain} and {asRight.Gain} nats");
    }

    [Fact]
    public void Where_two_clamps_are_on_one_line_no_law_speaks()
    {
        var frame = new FourWireLog().ToFrame();
        Assert.Null(PhasorLaw.Basis(Right with { Clamps = [0, 0, 2, 3] }, frame.Ideal));
        Assert.Null(PhasorLaw.Basis(Right with { Leads = [-1, 1, 2, 3] }, frame.Ideal));
    }

    private static Arrangement Right => new([0, 1, 2, 3], [0, 1, 2, 3], new bool[4], 0);

    private static (PhasorLaw Law, double Most) Learn(FourWireLog made, Rotation rotation, Arrangement arrangement)
    {
        var frame = made.ToFrame();
        frame.Take(rotation);
        var rows = PhasorRows.Of(frame, PartLog.Sound(frame))!;
        var sums = rows.Sum(Enumerable.Range(1, FourWireLog.Rows - 1));
        return (PhasorLaw.Best(arrangement, frame.Ideal, sums)!.Value, sums.MostGain());
    }
}
