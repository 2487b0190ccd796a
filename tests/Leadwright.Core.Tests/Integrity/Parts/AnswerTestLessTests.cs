using Leadwright.Core.Integrity.Pieces;

namespace Leadwright.Core.Tests.Integrity.Parts;

/// <summary>How much less one hook-up's answers say than another's.</summary>
public sealed class AnswerTestLessTests
{
    [Theory]
    // A few rows: their difference as it is.
    [InlineData(10, 18, -8)]
    // A thousand: what is within a tenth of each other is told apart by nothing, and what is not by 25 at most.
    [InlineData(950, 1000, 0)]
    [InlineData(400, 1000, -25)]
    [InlineData(1000, 1000, 0)]
    public void Of_long_recordings_gains_that_are_nearly_alike_are_no_difference(double gain, double most, double less) => Assert.Equal(less, AnswerTest.Less(gain, most), 1e-9);
}
