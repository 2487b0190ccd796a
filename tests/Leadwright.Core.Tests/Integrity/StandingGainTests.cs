using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity;
using Leadwright.Core.Mending;

namespace Leadwright.Core.Tests.Integrity;

/// <summary>A jaw that was not closed from the first row to the last: no ratio of a range, and nothing that leaps.</summary>
public sealed class StandingGainTests
{
    private const int Rows = 1008;
    private const double Seconds = 600;

    // The voltages answer to what flows, and so by 1/0.6 to an ampere that is shown (derivation).
    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    public void A_jaw_that_never_closed_is_told_with_what_it_shows(int clamp)
    {
        var made = Made(0.6, clamp);
        var span = Assert.Single(made.Sure());
        Assert.Equal((SpanKind.ClampOpen, (Clamp)clamp, made.At(0), made.At(Rows)), (span.Kind, Assert.Single(span.Clamps), span.From, span.To));
        // Conductors of one kind differ by a tenth (common practice, no source).
        Assert.All(span.Gain, point => Assert.InRange(point.Factor, 0.54, 0.66));
    }

    [Fact]
    public void The_energy_that_it_missed_lies_within_the_mended_interval()
    {
        var made = Made(0.6, 1);
        var log = made.ToLog();
        var guard = IntervalGuard.Judge(log, made.Options, TestContext.Current.CancellationToken);
        var energy = IntervalMender.Mend(log, guard, new MendOptions { Service = ServiceKind.Wye, Nominal = made.Nominal }, TestContext.Current.CancellationToken).Energy!;
        Assert.InRange(made.TrueWattHours, energy.LowWattHours, energy.HighWattHours);
        // As it was recorded the energy is not within: it lacks four tenths of a line's.
        Assert.True(energy.RecordedWattHours < energy.LowWattHours, $"{energy}");
    }

    // Worn jaws and lines of a service differ by as much: nothing can be said of it.
    [Fact]
    public void A_clamp_that_lacks_less_than_conductors_differ_by_is_not_blamed() => Assert.Empty(Made(0.92, 1).Sure());

    private static ServiceLog Made(double gain, int clamp) => new(Rows, Seconds) { Load = ServiceLog.Household(Rows, Seconds), Shows = (_, at) => at == clamp ? gain : 1 };
}
