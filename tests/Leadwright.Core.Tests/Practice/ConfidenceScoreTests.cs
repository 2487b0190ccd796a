using Leadwright.Core.Practice;

namespace Leadwright.Core.Tests.Practice;

public sealed class ConfidenceScoreTests
{
    // G. W. Brier, Monthly Weather Review 78 (1950) 1: the squared difference of the stated probability and the outcome.
    [Theory]
    [InlineData(1, true, 0, 1)]
    [InlineData(0.5, true, 0.25, 0)]
    [InlineData(0.5, false, 0.25, 0)]
    [InlineData(0.7, true, 0.09, 0.64)]
    [InlineData(0.7, false, 0.49, -0.96)]
    [InlineData(1, false, 1, -3)]
    public void A_confidence_is_scored_by_its_squared_miss(double confidence, bool isRight, double brier, double points)
    {
        Assert.Equal(brier, ConfidenceScore.Brier(confidence, isRight), 1e-12);
        Assert.Equal(points, ConfidenceScore.Points(confidence, isRight), 1e-12);
    }

    [Fact]
    public void Saying_what_one_believes_pays_best()
    {
        for (var belief = 0; belief <= 100; belief += 5)
        {
            double Expected(double said) => (belief * ConfidenceScore.Points(said, true) / 100) + ((100 - belief) * ConfidenceScore.Points(said, false) / 100);
            for (var said = 0; said <= 100; said++)
            {
                if (said != belief) Assert.True(Expected(said / 100.0) < Expected(belief / 100.0), $"belief {belief} %, said {said} %");
            }
        }
    }

    [Theory]
    [InlineData(-0.01)]
    [InlineData(1.01)]
    [InlineData(double.NaN)]
    public void A_confidence_outside_its_range_is_refused(double confidence) =>
        Assert.Contains("from 0 to 1", Assert.Throws<ArgumentOutOfRangeException>(() => ConfidenceScore.Brier(confidence, true)).Message, StringComparison.Ordinal);
}
