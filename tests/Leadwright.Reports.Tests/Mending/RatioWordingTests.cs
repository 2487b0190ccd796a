using Leadwright.Core.Hookups;
using Leadwright.Core.Mending.Answers;
using Leadwright.Reports.Mending;

namespace Leadwright.Reports.Tests.Mending;

/// <summary>How a ratio that was put right is said.</summary>
public sealed class RatioWordingTests
{
    [Theory]
    [InlineData(0.1, "Readings of I1 were multiplied by 10: the ratio that was set showed too little.")]
    [InlineData(0.5, "Readings of I1 were multiplied by 2: the ratio that was set showed too little.")]
    [InlineData(10, "Readings of I1 were divided by 10, the ratio that was set wrong.")]
    public void Readings_are_multiplied_or_divided_by_a_number_above_one(double factor, string says)
    {
        var from = new DateTime(2026, 3, 2);
        Assert.Equal(says, MendWording.Of(new Correction(CorrectionKind.RatioWrong, [], [Clamp.I1], from, from.AddDays(1), CorrectionBasis.Exact) { Factor = factor, WattHours = double.NaN }));
    }
}
