using Leadwright.Core.Integrity.Totals;

namespace Leadwright.Core.Tests.Integrity.Totals;

/// <summary>The most that a volt-ampere can add to a total, its load at 40 degrees ahead to 80 behind: cosines, by hand.</summary>
public sealed class TotalBoundTests
{
    [Theory]
    // Turned by no more than a load's angle makes up for: all of it.
    [InlineData(0, 1)]
    [InlineData(39, 1)]
    [InlineData(-79, 1)]
    // A clamp turned round: cos(180° − 40°) is less bad than none; 180 + 80 is 260, whose cosine is −0.174.
    [InlineData(180, -0.1736)]
    // A line on and a line back: cos(120° − 40°), cos(−120° + 80°).
    [InlineData(120, 0.1736)]
    [InlineData(-120, 0.7660)]
    public void A_load_makes_up_for_what_it_can_be_ahead_or_behind(double degrees, double most) => Assert.Equal(most, TotalBound.Most(degrees), 0.0001);

    [Fact]
    public void What_can_be_says_nothing_and_what_cannot_says_no_more_than_eight()
    {
        Assert.Equal(0, TotalBound.Against(0.9, 0.9));
        Assert.Equal(0, TotalBound.Against(0.2, 0.9));
        // 2 ln(1 + 0.1²/(3 · 0.03²)).
        Assert.Equal(2 * Math.Log(1 + (0.01 / 0.0027)), TotalBound.Against(1, 0.9), 1e-9);
        Assert.Equal(8, TotalBound.Against(3, 0));
    }
}
