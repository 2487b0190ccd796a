using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity;
using Leadwright.Core.Panels;

namespace Leadwright.Core.Tests.Integrity;

/// <summary>Street lighting for a week of ten minutes: lamps on three lines from dusk to dawn, and by day nothing but a small control load on the first, which lags less than the lamps do.</summary>
public sealed class StreetLightTests
{
    private const int Rows = 1008, Day = 144, Dusk = 114, Dawn = 36;

    // From nine in the evening to three.
    private const int From = (3 * Day) + 126, To = From + 36;

    // Both powers then stand turned by a third of a cycle from the lamps' thirty degrees.
    [Fact]
    public void Clamps_exchanged_while_the_lamps_are_lit_are_told()
    {
        var made = Made((row, clamp) => clamp < 2 && row is >= From and < To ? 1 - clamp : clamp);
        var span = Assert.Single(made.Sure());
        Assert.Equal((SpanKind.ClampsExchanged, made.At(From), made.At(To)), (span.Kind, span.From, span.To));
        Assert.Equal([Clamp.I1, Clamp.I2], span.Clamps);
    }

    [Fact]
    public void Lines_that_are_dark_by_day_have_nothing_wrong() => Assert.Empty(Made((_, clamp) => clamp).Sure());

    private static ServiceLog Made(Func<int, int, int> on)
    {
        var random = new SeededRandom(14);
        var lamps = new double[Rows, 3];
        var control = new double[Rows];
        for (var row = 0; row < Rows; row++)
        {
            control[row] = random.Uniform(0.35, 0.45);
            for (var line = 0; line < 3; line++) lamps[row, line] = row % Day is < Dawn or >= Dusk ? (12 + (2 * line)) * random.Uniform(0.97, 1.03) : 0;
        }

        return new ServiceLog(Rows, 600)
        {
            // Lamps with their ballasts at about thirty degrees, the control load nearly in phase (common practice, no source).
            Load = (row, line) => (0.87 * lamps[row, line], 0.5 * lamps[row, line]) is var lit && line == 0 ? (lit.Item1 + control[row], lit.Item2 + (0.1 * control[row])) : lit,
            On = on,
        };
    }
}
