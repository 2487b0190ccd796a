using Leadwright.Core.Circuits;
using Leadwright.Core.Integrity;
using Leadwright.Core.Logs;
using Leadwright.Core.Mending;
using Leadwright.Core.Mending.Answers;
using Leadwright.Core.Panels;
using Leadwright.Core.Tests.Integrity.Parts;

namespace Leadwright.Core.Tests.Mending;

/// <summary>Four days of ten minutes of one line, whose current and power leap by ten at once: that a ratio was set shows, and which of the two is right does not where it never comes back.</summary>
public sealed class OpenSideTests
{
    private const int Rows = 576, Half = 288, Day = 144;

    [Fact]
    public void Of_a_leap_to_the_recordings_end_the_interval_holds_both_truths()
    {
        var (log, small) = Made(row => row >= Half ? 10 : 1);
        var (energy, unmendable) = Mend(log);
        // Either all of it flowed as the first half shows, or ten times that: what the second half shows.
        Assert.InRange(small, energy.LowWattHours, energy.HighWattHours);
        Assert.InRange(10 * small, energy.LowWattHours, energy.HighWattHours);
        Assert.Contains(UnmendableReason.RatioSideOpen, unmendable);
    }

    [Fact]
    public void Of_a_leap_that_comes_back_what_lies_on_both_sides_says_which_is_right()
    {
        var (log, small) = Made(row => row is >= Day and < Half ? 10 : 1);
        var (energy, unmendable) = Mend(log);
        Assert.InRange(small, energy.LowWattHours, energy.HighWattHours);
        Assert.True(energy.HighWattHours < 1.1 * small, $"{energy.HighWattHours} Wh of {small}");
        Assert.DoesNotContain(UnmendableReason.RatioSideOpen, unmendable);
    }

    [Fact]
    public void Without_a_leap_the_energy_is_what_was_recorded()
    {
        var (log, small) = Made(_ => 1);
        var (energy, unmendable) = Mend(log);
        Assert.InRange(energy.HighWattHours, small, 1.01 * small);
        Assert.DoesNotContain(UnmendableReason.RatioSideOpen, unmendable);
    }

    private static (MendedEnergy Energy, UnmendableReason[] Unmendable) Mend(IntervalLog log)
    {
        var nominal = new NominalVoltage(230, 230);
        var guard = IntervalGuard.Judge(log, new GuardOptions { Service = ServiceKind.Single, Nominal = nominal }, TestContext.Current.CancellationToken);
        var report = IntervalMender.Mend(log, guard, new MendOptions { Service = ServiceKind.Single, Nominal = nominal }, TestContext.Current.CancellationToken);
        return (report.Energy!, [.. report.Unmendable.Select(entry => entry.Reason)]);
    }

    /// <summary>The log, and its energy with a ratio of one throughout, watt-hours.</summary>
    private static (IntervalLog Log, double WattHours) Made(Func<int, double> shows)
    {
        var random = new SeededRandom(27);
        double[] amperes = PartLog.Rows(Rows, row => (row % Day is > 40 and < 115 ? 12 : 6) * Math.Exp(0.1 * random.Gaussian()));
        // A supply of 0.2 ohm, which answers to what flows (Ohm's law).
        double[] volts = PartLog.Rows(Rows, row => 230 - (0.2 * amperes[row]) + (0.3 * random.Gaussian()));
        double[] watts = PartLog.Rows(Rows, row => 0.97 * volts[row] * amperes[row]);
        var log = new PartLog(ServiceKind.Single) { Nominal = new NominalVoltage(230, 230) }
            .Volts(0, volts).Amperes(0, PartLog.Rows(Rows, row => shows(row) * amperes[row])).Watts(0, PartLog.Rows(Rows, row => shows(row) * watts[row]))
            .Vars(0, PartLog.Rows(Rows, row => 0.243 * shows(row) * volts[row] * amperes[row])).ToLog();
        return (log, watts.Sum() / 6);
    }
}
