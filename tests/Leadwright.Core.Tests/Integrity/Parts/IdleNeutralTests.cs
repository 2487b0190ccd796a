using Leadwright.Core.Integrity.Chains;
using Leadwright.Core.Integrity.Relations;
using Leadwright.Core.Logs;

namespace Leadwright.Core.Tests.Integrity.Parts;

public sealed class IdleNeutralTests
{
    // Lines of 20, 14 and 9 A leave √(400 + 196 + 81 − 280 − 126 − 180) = 9.5 A; of 16 A each, nothing.
    [Theory]
    [InlineData(16, 16, 16, 0)]
    [InlineData(20, 14, 9, 1)]
    public void Where_the_lines_leave_it_nothing_the_neutrals_clamp_is_on(double one, double two, double three, byte state)
    {
        double[] within = [one, two, three], usual = [20, 14, 9];
        var log = new PartLog();
        for (var line = 0; line < 3; line++)
        {
            var at = line;
            log.Volts(line, PartLog.Steady(40, 230)).Amperes(line, PartLog.Rows(40, row => row is >= 20 and < 23 ? within[at] : usual[at]));
        }

        var frame = log.With(LogQuantity.Current, LogPlace.Neutral, PartLog.Rows(40, row => row is >= 20 and < 23 ? 0.1 : 9.5)).ToFrame();
        var rows = new byte[40];
        Array.Fill(rows, (byte)1, 20, 3);
        var answer = VoltageAnswer.Learn(frame, PartLog.Sound(frame), 3);
        var neutral = new CurrentHistory([1, 0], rows, answer) { Unproved = rows };
        IdleNeutral.TakeBack(frame, [null, null, null, neutral]);
        Assert.Equal(state, neutral.Rows[21]);
    }
}
