using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity;
using Leadwright.Core.Panels;

namespace Leadwright.Core.Tests.Integrity;

/// <summary>A week of motors on a stiff supply, of which no voltage answers to a load: lines of a load of three carry alike, and one clamp at ten times the others is at another ratio.</summary>
public sealed class ThreePhaseLoadTests
{
    private const int Rows = 1008;

    [Theory]
    [InlineData(0, 10)]
    [InlineData(2, 0.1)]
    public void One_clamp_at_another_ratio_than_two_that_go_together_is_told(int clamp, double ratio)
    {
        var made = Made(line => line == clamp ? ratio : 1, 0.03);
        var span = Assert.Single(made.Sure());
        Assert.Equal((SpanKind.RatioWrong, (Clamp)clamp, made.At(0), made.At(Rows)), (span.Kind, Assert.Single(span.Clamps), span.From, span.To));
    }

    // Loads of one line each go with no other's: one of them may be a tenth as large.
    [Fact]
    public void A_line_whose_loads_are_its_own_may_carry_a_tenth_of_anothers() => Assert.Empty(Made(line => line == 2 ? 0.1 : 1, 0.4).Sure());

    // Twice as much is a load of one line more, as long as it goes along with the motors.
    [Fact]
    public void A_line_that_carries_twice_as_much_as_the_others_is_a_load() => Assert.Empty(Made(line => line == 0 ? 2 : 1, 0.03).Sure());

    /// <param name="shows">What a clamp shows over what the motors draw.</param>
    /// <param name="apart">By how much lines differ from row to row, per unit.</param>
    private static ServiceLog Made(Func<int, double> shows, double apart)
    {
        var random = new SeededRandom(12);
        var amperes = new double[Rows, 3];
        for (var row = 0; row < Rows; row++)
        {
            var all = (row % 144 is > 36 and < 126 ? 20 : 6) * Math.Exp(0.25 * random.Gaussian());
            for (var line = 0; line < 3; line++) amperes[row, line] = all * Math.Exp(apart * random.Gaussian());
        }

        return new ServiceLog(Rows, 600)
        {
            // Motors at a power factor of 0.8 (common practice, no source).
            Load = (row, line) => (0.8 * amperes[row, line], 0.6 * amperes[row, line]),
            Lines = [0, 0, 0],
            Neutral = 0,
            Shows = (_, clamp) => shows(clamp),
        };
    }
}
