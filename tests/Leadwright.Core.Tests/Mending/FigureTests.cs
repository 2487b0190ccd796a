using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Logs;
using Leadwright.Core.Mending;
using Leadwright.Core.Tests.Integrity;

namespace Leadwright.Core.Tests.Mending;

/// <summary>Energy, peak, power factor and unbalance before and after mending, worked out beside it.</summary>
public sealed class FigureTests
{
    private static readonly Hookup s_right = Hookup.Expected([Lead.V1, Lead.V2, Lead.V3, Lead.VN], [Clamp.I1, Clamp.I2, Clamp.I3]);

    [Fact]
    public void The_peak_is_the_highest_mean_of_a_whole_block_of_the_clock()
    {
        // Ten-minute values from 00:00: each hour has six. The first twenty minutes are cut off, so that the first block lacks two: it holds the largest values, and is no block.
        var made = new MadeLog();
        for (var row = 2; row < 6; row++)
        {
            foreach (var watts in made.Watts) watts[row] = 50_000;
        }

        var log = Cut(made.ToLog(), 2);
        var report = Mend(log, 60);
        var (best, at) = (0.0, 0);
        for (var hour = 1; hour < MadeLog.Rows / 6; hour++)
        {
            var mean = Enumerable.Range(hour * 6, 6).Average(row => made.Watts.Sum(watts => watts[row]));
            if (mean > best) (best, at) = (mean, hour);
        }

        Assert.Equal(best, report.After.PeakWatts, 1e-9 * best);
        Assert.Equal(MadeLog.Start.AddHours(at), report.After.PeakAt);
        Assert.Equal(60, report.After.PeakMinutes);
        Assert.Equal(log.Values(log.IndexOf(LogQuantity.ActivePower, LogPlace.Phase2)).ToArray().Sum() / 6, report.After.PhaseWattHours[1], 1e-6);
    }

    [Fact]
    public void Each_phase_has_its_own_peak_and_power_factor()
    {
        var made = new MadeLog();
        var figures = Mend(made.ToLog(), 60).After;
        for (var phase = 0; phase < 3; phase++)
        {
            var best = Enumerable.Range(0, MadeLog.Rows / 6).Max(hour => Enumerable.Range(hour * 6, 6).Average(row => made.Watts[phase][row]));
            Assert.Equal(best, figures.PhasePeakWatts[phase], 1e-9 * best);
            var factor = made.Watts[phase].Sum() / Enumerable.Range(0, MadeLog.Rows).Sum(row => made.Volts[phase][row] * made.Amperes[phase][row]);
            Assert.Equal(factor, figures.PhasePowerFactors[phase], 1e-9);
        }

        // MadeLog lags by 15, 20 and 25 degrees, two degrees about them.
        Assert.True(figures.PhasePowerFactors[0] > figures.PhasePowerFactors[1] && figures.PhasePowerFactors[1] > figures.PhasePowerFactors[2]);
    }

    [Fact]
    public void Unbalance_is_the_largest_deviation_of_a_mean_from_the_mean_of_the_means()
    {
        // NEMA MG 1, from memory: of 460, 467 and 450 V the mean is 459 V and the largest deviation 9 V: 1.96 %.
        double[] volts = [460, 467, 450], amperes = [10, 20, 30];
        var log = new IntervalLog(
            [
                .. Enumerable.Range(0, 3).Select(line => new LogColumn($"V{line + 1}", LogQuantity.Voltage, LogPlace.Phase1 + line)),
                .. Enumerable.Range(0, 3).Select(line => new LogColumn($"I{line + 1}", LogQuantity.Current, LogPlace.Phase1 + line)),
                .. Enumerable.Range(0, 3).Select(line => new LogColumn($"P{line + 1}", LogQuantity.ActivePower, LogPlace.Phase1 + line)),
            ],
            [.. Enumerable.Range(0, 4).Select(row => MadeLog.Start.AddMinutes(10 * row).Ticks)],
            [.. volts.Select(value => new[] { value - 1, value + 1, double.NaN, value }), .. amperes.Select(value => new[] { value, value, value, value }), .. amperes.Select((value, line) => Enumerable.Repeat(0.9 * value * volts[line], 4).ToArray())],
            600);
        var figures = Mend(log, 10).Before;
        Assert.Equal(100 * 9 / 459.0, figures.VoltageUnbalancePercent, 1e-9);
        Assert.Equal(50, figures.CurrentUnbalancePercent, 1e-9);
    }

    [Fact]
    public void A_total_that_was_wrong_with_its_phase_is_the_sum_of_the_mended_phases()
    {
        var (truth, made) = (new MadeLog(), new MadeLog().WithReversed(100, 250, 1));
        IntervalLog WithTotals(MadeLog log)
        {
            var phases = log.ToLog();
            double[] Sum(double[][] series) => [.. Enumerable.Range(0, MadeLog.Rows).Select(row => series.Sum(values => values[row]))];
            return new IntervalLog(
                [.. phases.Columns, new LogColumn("P", LogQuantity.ActivePower), new LogColumn("Q", LogQuantity.ReactivePower)],
                phases.Starts.ToArray(), [.. Enumerable.Range(0, phases.Columns.Length).Select(column => phases.Values(column).ToArray()), Sum(log.Watts), Sum(log.Vars)], 600);
        }

        var (wanted, log) = (WithTotals(truth), WithTotals(made));
        var wrong = s_right with { Clamps = s_right.Clamps.SetItem(Clamp.I2, new ClampPlace(Conductor.B, true, 1)) };
        var report = IntervalMender.Mend(
            log, GuardAnswer.Of(log, [new(log.From, MadeLog.At(100), s_right, Rotation.Abc, 1), new(MadeLog.At(100), MadeLog.At(250), wrong, Rotation.Abc, 1), new(MadeLog.At(250), log.To, s_right, Rotation.Abc, 1)]),
            new MendOptions { Service = ServiceKind.Wye, Nominal = new NominalVoltage(230, 400) }, TestContext.Current.CancellationToken);
        foreach (var quantity in (LogQuantity[])[LogQuantity.ActivePower, LogQuantity.ReactivePower])
        {
            var column = log.IndexOf(quantity, LogPlace.Whole);
            foreach (var row in (int[])[50, 101, 180, 248, 300])
            {
                Assert.Equal(wanted.Values(column)[row], report.Log.Values(column)[row], 1e-6);
                Assert.Equal(row is > 100 and < 249 ? Standing.Mended : Standing.Measured, report.Standings[column].Span[row]);
            }
        }
    }

    private static MendReport Mend(IntervalLog log, double minutes) => IntervalMender.Mend(
        log, GuardAnswer.Of(log, s_right), new MendOptions { Service = ServiceKind.Wye, Nominal = new NominalVoltage(230, 400), DemandMinutes = minutes }, TestContext.Current.CancellationToken);

    private static IntervalLog Cut(IntervalLog log, int first) => new(
        log.Columns, log.Starts.ToArray()[first..], [.. Enumerable.Range(0, log.Columns.Length).Select(column => log.Values(column).ToArray()[first..])], log.IntervalSeconds);
}
