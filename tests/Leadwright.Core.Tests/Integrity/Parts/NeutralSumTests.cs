using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity;
using Leadwright.Core.Logs;
using Leadwright.Core.Panels;

namespace Leadwright.Core.Tests.Integrity.Parts;

/// <summary>A clamp on the neutral whose reading falls to next to nothing: because three lines happen to draw alike, or because it came off.</summary>
public sealed class NeutralSumTests
{
    private const int Count = 3600, From = 1800, To = 1860;

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void A_neutral_current_that_the_lines_balance_away_is_no_clamp_off(bool isOff)
    {
        var spans = Judge(isOff).Spans.Where(span => span.Kind == SpanKind.ClampOpen && !span.IsDoubtful).ToList();
        Assert.Equal(isOff ? 1 : 0, spans.Count(span => span.Clamps.Contains(Clamp.IN)));
        Assert.Equal(isOff ? 1 : 0, spans.Count);
    }

    /// <summary>Without what is asked, the same rows would do for both: the neutral falls from some eight amperes to less than what clamps on nothing read.</summary>
    private static GuardReport Judge(bool isOff)
    {
        var random = new SeededRandom(4);
        double[][] amperes = [.. Enumerable.Range(0, 3).Select(line => PartLog.Rows(Count, row => Load(row, line) + (0.05 * random.Gaussian())))];
        var neutral = PartLog.Rows(Count, row => isOff && row is >= From and < To ? 0.02 : Math.Round(Sum(amperes[0][row], amperes[1][row], amperes[2][row]), 1));
        var log = new PartLog(seconds: 1) { Nominal = new(230, 400) };
        for (var line = 0; line < 3; line++)
        {
            var own = amperes[line];
            var volts = PartLog.Rows(Count, row => 230 + (0.05 * random.Gaussian()) - (0.03 * own[row]));
            log.Volts(line, volts).Amperes(line, own).Watts(line, PartLog.Rows(Count, row => volts[row] * own[row])).Vars(line, PartLog.Steady(Count, 0));
        }

        var frame = log.With(LogQuantity.Current, LogPlace.Neutral, neutral).ToFrame();
        return IntervalGuard.Judge(frame.Log, frame.Options, TestContext.Current.CancellationToken);

        double Load(int row, int line) => !isOff && row is >= From and < To ? 30 : 30 - (line == 0 ? 6 + (3 * (row / 200 % 3)) : line * (row / 300 % 2));
    }

    private static double Sum(double one, double other, double third) =>
        Math.Sqrt((one * one) + (other * other) + (third * third) - (one * other) - (other * third) - (third * one));
}
