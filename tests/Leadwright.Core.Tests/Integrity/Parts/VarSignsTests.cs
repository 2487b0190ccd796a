using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Tests.Integrity.Parts;

/// <summary>Sixty rows of three lines that lag by 20 degrees: clamps 2 and 3 exchanged turn theirs by a third of a cycle, one each way.</summary>
public sealed class VarSignsTests
{
    private const int Rows = 60;

    [Fact]
    public void Two_powers_turned_and_no_vars_below_nothing_have_lost_their_sign() => Assert.True(VarSigns.AreMissing(Watts(), Vars(Math.Abs)));

    [Fact]
    public void Vars_that_lead_on_one_of_the_lines_have_theirs() => Assert.False(VarSigns.AreMissing(Watts(), Vars(value => value)));

    // One clamp on the next line lags by 140 degrees: P below nothing, Q above it, and nothing is missing.
    [Fact]
    public void One_power_that_is_turned_says_nothing() =>
        Assert.False(VarSigns.AreMissing([Line(0, Math.Cos), Line(120, Math.Cos), Line(0, Math.Cos)], [Line(0, Math.Sin), Line(120, Math.Sin), Line(0, Math.Sin)]));

    private static double[]?[] Watts() => [Line(0, Math.Cos), Line(120, Math.Cos), Line(-120, Math.Cos)];

    private static double[]?[] Vars(Func<double, double> written) => [.. new[] { 0.0, 120, -120 }.Select(turn => Array.ConvertAll(Line(turn, Math.Sin), value => written(value)))];

    private static double[] Line(double turn, Func<double, double> part) => [.. Enumerable.Range(0, Rows).Select(row => (1000 + (10 * row)) * part((20 + turn) * Math.PI / 180))];
}
