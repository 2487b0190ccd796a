using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;

namespace Leadwright.Core.Tests.Panels;

/// <summary>Source of the values: derived for this project, docs/methods/wrong-connection-effects.md. Sequence components
/// after C. L. Fortescue, Trans. AIEE 37 (1918) 1027.</summary>
public class CurrentSequenceTests
{
    [Theory]
    [InlineData("right", "A", "B", "C")]
    [InlineData("one-reversed", "A", "-B", "C")]
    [InlineData("two-reversed", "-A", "-B", "C")]
    [InlineData("exchanged", "B", "A", "C")]
    [InlineData("exchanged-one-of-two-reversed", "-B", "A", "C")]
    [InlineData("exchanged-other-reversed", "B", "A", "-C")]
    [InlineData("one-open", "A", "B", "?")]
    [InlineData("two-on-one", "A", "A", "C")]
    [InlineData("forward", "B", "C", "A")]
    [InlineData("back", "C", "A", "B")]
    public void Wrong_sets_of_clamps_have_the_tabled_sequence_currents(string name, params string[] places)
    {
        var row = Vectors.Read("current-sequences.csv").Single(row => row["hookup"] == name);
        var hookup = Ideal.Expected(ServiceKind.Wye);
        for (var clamp = Clamp.I1; clamp <= Clamp.I3; clamp++)
        {
            var text = places[(int)clamp];
            hookup = hookup.WithClamps((clamp, text == "?" ? null : Enum.Parse<Conductor>(text[^1..]), text[0] == '-'));
        }

        var solution = Ideal.Balanced(ServiceKind.Wye, 0.8);
        var readings = Ideal.Read(solution, hookup);
        var right = Ideal.Of(Ideal.Read(solution, Ideal.Expected(ServiceKind.Wye)), Channel.I1);
        var (a, b, c) = (Ideal.Of(readings, Channel.I1), Ideal.Of(readings, Channel.I2), Ideal.Of(readings, Channel.I3));
        var (zero, positive, negative) = ((a + b + c) / 3, Sum(a, b, c, 120), Sum(a, b, c, -120));

        Assert.Equal(row.Number("i0"), zero.Magnitude / right.Magnitude, 1e-6);
        Assert.Equal(row.Number("i1"), positive.Magnitude / right.Magnitude, 1e-6);
        Assert.Equal(row.Number("i2"), negative.Magnitude / right.Magnitude, 1e-6);
        if (row["i1_angle"].Length > 0) Assert.Equal(row.Number("i1_angle"), (positive / right).AngleDegrees, 1e-6);
    }

    private static Phasor Sum(Phasor a, Phasor b, Phasor c, double turn) =>
        (a + b.TurnedByDegrees(turn) + c.TurnedByDegrees(-turn)) / 3;
}
