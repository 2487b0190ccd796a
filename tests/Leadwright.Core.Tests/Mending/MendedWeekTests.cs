using System.Globalization;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity;
using Leadwright.Core.Logs;
using Leadwright.Core.Mending;
using Leadwright.Core.Panels.Weeks;

namespace Leadwright.Core.Tests.Mending;

/// <summary>The interval of the energy holds as often as it says: on virtual weeks, and on logs that others published.</summary>
public sealed class MendedWeekTests
{
    private const int Weeks = 120;

    [Fact]
    public void Of_many_weeks_the_interval_covers_what_a_right_recorder_would_have_read_as_often_as_it_says()
    {
        var population = new WeekPopulation { Seed = 71, IntervalSeconds = 600 };
        var covered = 0;
        var cancellation = TestContext.Current.CancellationToken;
        Parallel.For(0, Weeks, new ParallelOptions { CancellationToken = cancellation, MaxDegreeOfParallelism = Environment.ProcessorCount }, index =>
        {
            var recipe = population.Recipe(index);
            var week = VirtualWeek.Make(recipe);
            var guard = IntervalGuard.Judge(
                week.Log, new GuardOptions { Service = recipe.Service, Nominal = recipe.Nominal, FrequencyHertz = recipe.Hertz, Check = new CheckOptions { MayExport = recipe.HasSolar } },
                cancellation);
            var energy = IntervalMender.Mend(week.Log, guard, new MendOptions { Service = recipe.Service, Nominal = recipe.Nominal }, cancellation).Energy!;
            var right = VirtualWeek.Make(recipe with
            {
                Mishaps = [.. recipe.Mishaps.Where(mishap => mishap.IsSupply || mishap.Kind == MishapKind.OutageWithRecorder)
                    .Select(mishap => mishap.Kind == MishapKind.OutageWithRecorder ? mishap with { Kind = MishapKind.Outage } : mishap)],
            });
            var truth = PhaseEnergy(right.Log);
            if (energy.LowWattHours - 1 <= truth && truth <= energy.HighWattHours + 1) Interlocked.Increment(ref covered);
        });

        // 109 of these 120, weeks in which the guard missed something among them (docs/methods/mending-accuracy.md); a rule for something else may move one.
        Assert.True(covered >= 108, $"{covered} of {Weeks}");
    }

    [Fact]
    public void A_house_whose_clamp_was_turned_at_noon_gets_its_energy_back()
    {
        var (truth, log) = (House(_ => 1), House(row => row >= 720 ? -1 : 1));
        var guard = IntervalGuard.Judge(log, new GuardOptions { Service = ServiceKind.Single, Nominal = new NominalVoltage(240, 240) }, TestContext.Current.CancellationToken);
        var report = IntervalMender.Mend(log, guard, new MendOptions { Service = ServiceKind.Single, Nominal = new NominalVoltage(240, 240) }, TestContext.Current.CancellationToken);
        var energy = PhaseEnergy(truth);
        Assert.Equal(energy, report.Energy!.MendedWattHours, 0.003 * energy);
        Assert.InRange(energy, report.Energy.LowWattHours, report.Energy.HighWattHours);
    }

    [Fact]
    public void A_works_whose_recorder_was_off_for_a_day_has_its_energy_within_the_interval_as_often_as_it_says()
    {
        const int Gaps = 20;
        const int Day = 96;
        var lines = File.ReadAllLines(RepositoryFile.Path("data/interval/steel-15min-2018-jan-jun.csv"))[1..];
        double[] all = [.. lines.Select(line => 4000 * double.Parse(line.Split(',')[1], CultureInfo.InvariantCulture))];
        var start = new DateTime(2018, 1, 1);
        var truth = all.Sum() / 4;
        var covered = 0;
        for (var gap = 0; gap < Gaps; gap++)
        {
            var from = ((gap + 1) * all.Length / (Gaps + 2)) + (7 * gap);
            int[] rows = [.. Enumerable.Range(0, all.Length).Where(row => row < from || row >= from + Day)];
            var log = new IntervalLog(
                [new LogColumn("P", LogQuantity.ActivePower)], [.. rows.Select(row => start.AddMinutes(15 * row).Ticks)], [[.. rows.Select(row => all[row])]], 900);
            var guard = IntervalGuard.Judge(log, new GuardOptions { Service = ServiceKind.Delta }, TestContext.Current.CancellationToken);
            var report = IntervalMender.Mend(log, guard, new MendOptions { Service = ServiceKind.Delta, OutageInGap = 0 }, TestContext.Current.CancellationToken);
            Assert.True(report.Energy!.HighWattHours - report.Energy.LowWattHours < 0.03 * truth);
            if (report.Energy.LowWattHours <= truth && truth <= report.Energy.HighWattHours) covered++;
        }

        // At a true coverage of 93 % fewer than 15 of 20 come less than once in a thousand times (binomial).
        Assert.True(covered >= 15, $"{covered} of {Gaps}");
    }

    private static double PhaseEnergy(IntervalLog log)
    {
        var sum = 0.0;
        for (var phase = LogPlace.Phase1; phase <= LogPlace.Phase3; phase++)
        {
            if (log.IndexOf(LogQuantity.ActivePower, phase) is >= 0 and var index) foreach (var watts in log.Values(index)) sum += watts * log.IntervalSeconds / 3600;
        }

        return sum;
    }

    private static IntervalLog House(Func<int, int> sign)
    {
        var lines = File.ReadAllLines(RepositoryFile.Path("data/interval/household-1min-2007-02-01.csv"))[1..];
        var cells = lines.Select(line => line.Split(';')).ToArray();
        double Number(int row, int column) => double.Parse(cells[row][column], CultureInfo.InvariantCulture);
        int[] rows = [.. Enumerable.Range(0, lines.Length)];
        return new IntervalLog(
            [
                new LogColumn("V", LogQuantity.Voltage, LogPlace.Phase1), new LogColumn("I", LogQuantity.Current, LogPlace.Phase1),
                new LogColumn("P", LogQuantity.ActivePower, LogPlace.Phase1), new LogColumn("Q", LogQuantity.ReactivePower, LogPlace.Phase1),
            ],
            [.. rows.Select(row => new DateTime(2007, 2, 1).AddMinutes(row).Ticks)],
            [
                [.. rows.Select(row => Number(row, 4))], [.. rows.Select(row => Number(row, 5))],
                [.. rows.Select(row => 1000 * sign(row) * Number(row, 2))], [.. rows.Select(row => 1000 * sign(row) * Number(row, 3))],
            ],
            60);
    }
}
