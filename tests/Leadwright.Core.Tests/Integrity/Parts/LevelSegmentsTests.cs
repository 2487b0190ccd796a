using Leadwright.Core.Circuits;
using Leadwright.Core.Integrity.Chains;
using Leadwright.Core.Panels;

namespace Leadwright.Core.Tests.Integrity.Parts;

/// <summary>Stretches at another ratio, of a current that is otherwise twelve amperes and five percent of noise.</summary>
public sealed class LevelSegmentsTests
{
    private const int Count = 400;
    private const double OfEdge = 8;

    [Theory]
    [InlineData(100, 160, 2)]
    [InlineData(100, 160, 0.5)]
    [InlineData(0, 90, 2)]
    [InlineData(310, 400, 2)]
    [InlineData(120, 126, 5)]
    public void A_stretch_at_another_ratio_is_found_to_the_row(int from, int end, double ratio) =>
        Assert.Equal([(from, end)], Find(Scaled([(from, end, ratio)]), ratio));

    [Fact]
    public void A_steady_current_has_no_such_stretch_and_none_at_another_ratio_than_its_own()
    {
        Assert.Empty(Find(Scaled([]), 2));
        Assert.Empty(Find(Scaled([(100, 160, 2)]), 0.5));
    }

    [Fact]
    public void Of_three_stretches_the_two_that_say_most_are_told_the_longer_first()
    {
        Assert.Equal([(100, 160), (250, 280)], Find(Scaled([(40, 44, 2), (100, 160, 2), (250, 280, 2)]), 2));
    }

    [Fact]
    public void A_row_that_reads_nothing_does_not_end_a_stretch()
    {
        var amperes = Scaled([(100, 160, 2)]);
        amperes[130] = double.NaN;
        Assert.Equal([(100, 160)], Find(amperes, 2));
    }

    [Fact]
    public void Where_the_row_of_an_edge_is_missing_the_stretch_is_from_the_next_that_tells_to_the_next_that_tells()
    {
        var amperes = Scaled([(100, 160, 2)]);
        (amperes[100], amperes[160]) = (double.NaN, double.NaN);
        Assert.Equal([(101, 161)], Find(amperes, 2));
    }

    [Fact]
    public void What_a_change_costs_decides_whether_it_is_made()
    {
        // Leaps make 2.5 of 400 rows, of any size: ln(0.375/0.05) - ln(2.5/400 * 0.375/0.7) = 7.7 nats is the most that a row can say. Four rows and what follows them do not pay 60.
        double[] amperes = Scaled([(120, 124, 2)]);
        Assert.Equal([(120, 124)], Find(amperes, 2, 8));
        Assert.Empty(Find(amperes, 2, 30));
    }

    private static (int From, int End)[] Find(double[] amperes, double ratio, double ofEdge = OfEdge)
    {
        var log = new PartLog(ServiceKind.Single).Volts(0, PartLog.Steady(Count, 230)).Amperes(0, amperes);
        var frame = log.ToFrame();
        var series = LevelSeries.Learn(frame, PartLog.Sound(frame), 0, 0, 0);
        Assert.NotNull(series);
        return [.. LevelSegments.Find(series, Math.Log(ratio), ofEdge)];
    }

    private static double[] Scaled((int From, int End, double Ratio)[] stretches)
    {
        var random = new SeededRandom(8);
        return PartLog.Rows(Count, row => 12 * Math.Exp(0.05 * random.Gaussian()) * stretches.Where(at => row >= at.From && row < at.End).Select(at => at.Ratio).FirstOrDefault(1));
    }
}
