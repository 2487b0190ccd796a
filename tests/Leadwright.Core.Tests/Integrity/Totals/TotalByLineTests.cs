using Leadwright.Core.Integrity.Totals;
using Leadwright.Core.Logs;
using Leadwright.Core.Tests.Integrity.Parts;

namespace Leadwright.Core.Tests.Integrity.Totals;

/// <summary>Which rows of a total say something of the hook-up, and which teach what the loads draw.</summary>
public sealed class TotalByLineTests
{
    // Of 100 A by day, 2 A by night tell whether a total can be, and count for nothing in what the site's loads draw; half an ampere tells nothing.
    [Theory]
    [InlineData(100, true, true)]
    [InlineData(2, true, false)]
    [InlineData(0.5, false, false)]
    public void A_row_of_few_volt_amperes_tells_and_does_not_teach(double amperes, bool tells, bool teaches)
    {
        var log = new PartLog { Nominal = new(230, 400) };
        for (var line = 0; line < 3; line++) log.Volts(line, PartLog.Steady(100, 230)).Amperes(line, PartLog.Rows(100, row => row < 50 ? 100 : amperes));
        var frame = log.With(LogQuantity.ActivePower, LogPlace.Whole, PartLog.Rows(100, row => 3 * 0.9 * 230 * (row < 50 ? 100 : amperes))).ToFrame();
        var total = TotalByLine.Of(frame, PartLog.Sound(frame))!;
        Assert.Equal((tells, teaches), (total.Shares[70] is not null, total.Teaches[70]));
        if (tells) Assert.Equal(0.9, total.Values[70].Real, 1e-9);
    }
}
