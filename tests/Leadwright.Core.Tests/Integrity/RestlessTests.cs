using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity;
using Leadwright.Core.Panels;

namespace Leadwright.Core.Tests.Integrity;

/// <summary>A week of ten minutes on a stiff supply, of which no voltage answers to a load: that a clamp came off is told by its line alone, which never rests.</summary>
public sealed class RestlessTests
{
    private const int Rows = 1008, Day = 144;

    // From ten in the evening to four; the site is at its base load then.
    private const int From = (3 * Day) + 132, To = From + 36;

    // Once in the week it was switched off for half an hour: three rows of a thousand are no habit.
    private const int Switched = 300, Rested = 3;

    // What has drawn its share in nearly every hour of days is not switched off by itself for six while the others go on (common practice, no source).
    [Fact]
    public void A_clamp_that_comes_off_a_line_that_never_rests_is_told_from_its_first_row_to_its_last()
    {
        var made = Made(rests: row => row is >= Switched and < Switched + Rested, shows: row => row is >= From and < To ? 0.0005 : 1);
        var span = Assert.Single(made.Sure());
        Assert.Equal((SpanKind.ClampOpen, Clamp.I2, made.At(From), made.At(To)), (span.Kind, Assert.Single(span.Clamps), span.From, span.To));
    }

    [Fact]
    public void A_line_that_rests_every_night_may_rest_this_night_too() =>
        Assert.Empty(Made(rests: row => (row + 12) % Day < 36, shows: _ => 1).Sure());

    // The same rows without a load, on a line that also rested on two other nights.
    [Fact]
    public void A_line_that_rested_before_may_rest_again() =>
        Assert.Empty(Made(rests: row => row is >= From and < To || (row + 12) % (3 * Day) < 36, shows: _ => 1).Sure());

    private static ServiceLog Made(Func<int, bool> rests, Func<int, double> shows)
    {
        var random = new SeededRandom(8);
        var amperes = new double[Rows, 3];
        for (var line = 0; line < 3; line++)
        {
            for (var row = 0; row < Rows; row++)
            {
                var isDay = row % Day is > 42 and < 114;
                amperes[row, line] = isDay ? random.Uniform(8, 30) : random.Uniform(2, 5);
            }
        }

        return new ServiceLog(Rows, 600)
        {
            Load = (row, line) => line == 1 && rests(row) ? (0, 0) : (0.95 * amperes[row, line], 0.3 * amperes[row, line]),
            Lines = [0, 0, 0],
            Neutral = 0,
            Shows = (row, clamp) => clamp == 1 ? shows(row) : 1,
        };
    }
}
