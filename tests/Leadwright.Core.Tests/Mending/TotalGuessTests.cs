using Leadwright.Core.Circuits;
using Leadwright.Core.Integrity;
using Leadwright.Core.Logs;
using Leadwright.Core.Mending;
using Leadwright.Core.Tests.Integrity.Parts;

namespace Leadwright.Core.Tests.Mending;

/// <summary>A total without any current, of which a lead was off from first to last: nothing is left to go by.</summary>
public sealed class TotalGuessTests
{
    [Fact]
    public void A_total_that_nothing_bears_out_is_no_sure_figure_and_not_nothing_either()
    {
        const int Rows = 300;
        var part = new PartLog { Nominal = new NominalVoltage(230, 400) };
        for (var line = 0; line < 3; line++)
        {
            var own = line;
            part.Volts(line, PartLog.Rows(Rows, row => own == 1 ? 4 + Math.Sin(row) : 230 + Math.Sin((row * 0.3) + own)));
        }

        var log = part.With(LogQuantity.ActivePower, LogPlace.Whole, PartLog.Rows(Rows, row => 6000 + (100 * Math.Sin(row * 0.1)))).ToLog();
        var guard = IntervalGuard.Judge(log, new GuardOptions { Service = ServiceKind.Wye, Nominal = part.Nominal, FrequencyHertz = 50 }, TestContext.Current.CancellationToken);
        Assert.Contains(guard.Spans, span => span.Kind is SpanKind.LeadOpen or SpanKind.LeadOnNeutral);
        var energy = IntervalMender.Mend(log, guard, new MendOptions { Service = ServiceKind.Wye, Nominal = part.Nominal }, TestContext.Current.CancellationToken).Energy!;
        // 6 kW over 300 intervals of ten minutes, known to all of itself: within 1.96 times that.
        Assert.Equal(300_000, energy.MendedWattHours, 2000.0);
        Assert.True(energy.HighWattHours > 1.9 * energy.MendedWattHours);
        Assert.True(energy.LowWattHours < 0.1 * energy.MendedWattHours);
    }
}
