using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity;
using Leadwright.Core.Tests.Integrity.Parts;

namespace Leadwright.Core.Tests.Integrity;

/// <summary>A jaw that opens by half within an hour or two, in a log of two-second rows: see <see cref="StepLog"/>.</summary>
public sealed class OpeningJawOfSecondsTests
{
    // To the last row, or for two thousand seconds and then no further.
    [Theory]
    [InlineData(3999)]
    [InlineData(2500)]
    public void A_jaw_that_opens_by_half_within_hours_is_one_span(int last)
    {
        var spans = StepLog.Judge(ServiceKind.Wye, seconds: 2, gain: row => 1 - (0.5 * Math.Clamp((row - 1200.0) / (last - 1200), 0, 1))).Spans.Where(span => !span.IsDoubtful).ToList();
        var span = Assert.Single(spans);
        Assert.Equal((SpanKind.ClampOpen, Clamp.I1), (span.Kind, Assert.Single(span.Clamps)));
        Assert.Equal(2400, (span.From - PartLog.Start).TotalSeconds, 900.0);
        Assert.Equal(PartLog.Start.AddSeconds(2 * StepLog.Count), span.To, TimeSpan.FromSeconds(1200));
        Assert.Equal(0.5, span.Gain[^1].Factor, 0.11);
    }

    [Fact]
    public void A_clamp_that_stays_shut_has_none() => Assert.Empty(StepLog.Judge(ServiceKind.Wye, seconds: 2).Spans.Where(span => !span.IsDoubtful));
}
