using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity;
using Leadwright.Core.Tests.Integrity.Parts;

namespace Leadwright.Core.Tests.Integrity;

/// <summary>The neutral lead off from first to last in an hour or two of seconds, with loads that step: see <see cref="StepLog"/>.</summary>
public sealed class NeutralOffThroughoutTests
{
    [Theory]
    [InlineData(ServiceKind.Wye, true)]
    [InlineData(ServiceKind.Wye, false)]
    [InlineData(ServiceKind.Split, true)]
    [InlineData(ServiceKind.Split, false)]
    public void The_neutral_lead_off_from_first_to_last_is_told_by_the_steps_of_loads(ServiceKind service, bool isOff)
    {
        var spans = StepLog.Judge(service, isOff).Spans.Where(span => !span.IsDoubtful).ToList();
        if (!isOff)
        {
            Assert.Empty(spans);
            return;
        }

        var span = Assert.Single(spans);
        Assert.Equal((SpanKind.NeutralOpen, Lead.VN), (span.Kind, Assert.Single(span.Leads)));
        Assert.Equal((PartLog.Start, PartLog.Start.AddSeconds(StepLog.Count)), (span.From, span.To));
    }
}
