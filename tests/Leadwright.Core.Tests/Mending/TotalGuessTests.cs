using Leadwright.Core.Circuits;
using Leadwright.Core.Integrity;
using Leadwright.Core.Logs;
using Leadwright.Core.Mending;
using Leadwright.Core.Panels;
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

    // Two clamps on one conductor from first to last, so that nothing right is left to learn from but an hour in which the supply was gone: that teaches no power factor of nothing.
    [Fact]
    public void An_outage_teaches_no_power_factor()
    {
        const int Rows = 400;
        var random = new SeededRandom(7);
        static bool IsOut(int row) => row is >= 200 and < 230;
        double[][] amperes = [.. Enumerable.Range(0, 3).Select(_ => PartLog.Rows(Rows, row => IsOut(row) ? 0 : random.Uniform(20, 60)))];
        amperes[2] = [.. amperes[0]];
        var part = new PartLog { Nominal = new NominalVoltage(230, 400) };
        for (var line = 0; line < 3; line++) part.Volts(line, PartLog.Rows(Rows, row => IsOut(row) ? 0.3 : 230 + random.Uniform(-1, 1))).Amperes(line, amperes[line]);
        var log = part.With(LogQuantity.ActivePower, LogPlace.Whole, PartLog.Rows(Rows, row => IsOut(row) ? 0 : 230 * 0.5 * (amperes[0][row] + amperes[1][row]))).ToLog();
        var guard = IntervalGuard.Judge(log, new GuardOptions { Service = ServiceKind.Wye, Nominal = part.Nominal, FrequencyHertz = 50 }, TestContext.Current.CancellationToken);
        Assert.Contains(guard.Spans, span => span.Kind == SpanKind.ClampsOnSameConductor);
        var energy = IntervalMender.Mend(log, guard, new MendOptions { Service = ServiceKind.Wye, Nominal = part.Nominal }, TestContext.Current.CancellationToken).Energy!;
        // Three lines of 40 A at 230 V and a factor of 0.9, for 370 intervals of ten minutes, known to a seventh.
        Assert.Equal(230 * 0.9 * 120 * 370 / 6.0, energy.MendedWattHours, 0.1 * energy.MendedWattHours);
        Assert.InRange(energy.HighWattHours / energy.MendedWattHours, 1.15, 1.45);
    }
}
