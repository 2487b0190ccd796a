using System.Globalization;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity;
using Leadwright.Core.Logs;

namespace Leadwright.Core.Tests.Integrity;

/// <summary>Logs that others published, with mishaps applied to them by arithmetic.</summary>
/// <remarks>Sources: tests/data/README.md, interval.</remarks>
public sealed class PublishedLogTests
{
    private static readonly GuardOptions s_house = new() { Service = ServiceKind.Single, Nominal = new NominalVoltage(240, 240), FrequencyHertz = 50 };
    private static readonly GuardOptions s_works = new() { Service = ServiceKind.Delta };

    [Fact]
    public void A_day_of_a_house_has_nothing_wrong()
    {
        var report = IntervalGuard.Judge(House(), s_house, TestContext.Current.CancellationToken);
        Assert.DoesNotContain(report.Spans, span => !span.IsDoubtful);
    }

    [Fact]
    public void A_clamp_turned_round_at_noon_shows_from_then_on()
    {
        var log = House((row, column, value) => row >= 720 && column >= 2 ? -value : value);
        var span = Assert.Single(IntervalGuard.Judge(log, s_house, TestContext.Current.CancellationToken).Spans, span => !span.IsDoubtful);
        Assert.Equal((SpanKind.ClampReversed, Clamp.I1), (span.Kind, Assert.Single(span.Clamps)));
        Assert.InRange(span.From, new DateTime(2007, 2, 1, 11, 58, 0), new DateTime(2007, 2, 1, 12, 2, 0));
        Assert.Equal(log.To, span.To);
    }

    [Fact]
    public void A_lead_off_for_an_hour_shows_to_the_minute()
    {
        var log = House((row, column, value) => row is >= 600 and < 660 && column != 1 ? 0.03 * value : value);
        var span = Assert.Single(IntervalGuard.Judge(log, s_house, TestContext.Current.CancellationToken).Spans, span => !span.IsDoubtful);
        Assert.Equal((SpanKind.LeadOpen, Lead.V1), (span.Kind, Assert.Single(span.Leads)));
        Assert.Equal((log.From.AddMinutes(600), log.From.AddMinutes(660)), (span.From, span.To));
    }

    [Fact]
    public void A_supply_that_is_gone_takes_the_current_along()
    {
        var log = House((row, _, value) => row is >= 600 and < 620 ? 0 : value);
        var span = Assert.Single(IntervalGuard.Judge(log, s_house, TestContext.Current.CancellationToken).Spans, span => !span.IsDoubtful);
        Assert.Equal(SpanKind.Outage, span.Kind);
        Assert.Equal((log.From.AddMinutes(600), log.From.AddMinutes(620)), (span.From, span.To));
    }

    [Fact]
    public void A_voltage_that_repeats_for_half_an_hour_is_stuck()
    {
        var log = House((row, column, value) => value, (values, _) => Array.Fill(values[0], values[0][300], 300, 30));
        var span = Assert.Single(IntervalGuard.Judge(log, s_house, TestContext.Current.CancellationToken).Spans, span => !span.IsDoubtful);
        Assert.Equal((SpanKind.Stuck, Lead.V1), (span.Kind, Assert.Single(span.Leads)));
    }

    [Fact]
    public void A_clamp_off_for_two_hours_of_the_morning_is_no_load_that_went()
    {
        var log = House((row, column, value) => row is >= 480 and < 600 && column >= 1 ? 0.002 * value : value);
        var span = Assert.Single(IntervalGuard.Judge(log, s_house, TestContext.Current.CancellationToken).Spans, span => !span.IsDoubtful);
        Assert.Equal((SpanKind.ClampOpen, Clamp.I1), (span.Kind, Assert.Single(span.Clamps)));
        Assert.InRange(Math.Abs((span.From - log.From.AddMinutes(480)).TotalMinutes), 0, 1);
        Assert.InRange(Math.Abs((span.To - log.From.AddMinutes(600)).TotalMinutes), 0, 1);
    }

    [Fact]
    public void A_clock_set_forward_by_an_odd_time_is_no_gap()
    {
        var log = House(null, (_, starts) =>
        {
            for (var row = 700; row < starts.Length; row++) starts[row] += (long)(((23 * 60) + 17) * TimeSpan.TicksPerSecond);
        });
        var span = Assert.Single(IntervalGuard.Judge(log, s_house, TestContext.Current.CancellationToken).Spans, span => !span.IsDoubtful);
        Assert.Equal((SpanKind.ClockJump, (23 * 60) + 17.0), (span.Kind, span.Finding.Seconds));
    }

    [Fact]
    public void Half_a_year_of_a_works_by_totals_has_nothing_wrong_and_says_what_it_can_not_tell()
    {
        var report = IntervalGuard.Judge(Works(), s_works, TestContext.Current.CancellationToken);
        Assert.DoesNotContain(report.Spans, span => !span.IsDoubtful);
        Assert.Equal([GuardNoteKind.NoVoltages, GuardNoteKind.NoCurrents, GuardNoteKind.NoPhasePowers], report.Notes);
    }

    [Fact]
    public void Two_days_cut_out_of_it_are_no_data()
    {
        var log = Works(row => row is < 5000 or >= 5192);
        var span = Assert.Single(IntervalGuard.Judge(log, s_works, TestContext.Current.CancellationToken).Spans);
        Assert.Equal((SpanKind.NoData, TimeSpan.FromDays(2)), (span.Kind, span.Length));
    }

    /// <summary>Volts, amperes, watts and vars of each minute.</summary>
    private static IntervalLog House(Func<int, int, double, double>? change = null, Action<double[][], long[]>? further = null)
    {
        var lines = File.ReadAllLines(RepositoryFile.Path("data/interval/household-1min-2007-02-01.csv"))[1..];
        var starts = new long[lines.Length];
        double[][] values = [.. Enumerable.Range(0, 4).Select(_ => new double[lines.Length])];
        for (var row = 0; row < lines.Length; row++)
        {
            var cells = lines[row].Split(';');
            starts[row] = DateTime.ParseExact($"{cells[0]} {cells[1]}", "d/M/yyyy HH:mm:ss", CultureInfo.InvariantCulture).Ticks;
            double[] read = [Number(cells[4]), Number(cells[5]), 1000 * Number(cells[2]), 1000 * Number(cells[3])];
            for (var column = 0; column < 4; column++) values[column][row] = change is null ? read[column] : change(row, column, read[column]);
        }

        further?.Invoke(values, starts);
        return new IntervalLog(
            [
                new LogColumn("V", LogQuantity.Voltage, LogPlace.Phase1), new LogColumn("I", LogQuantity.Current, LogPlace.Phase1),
                new LogColumn("P", LogQuantity.ActivePower, LogPlace.Phase1), new LogColumn("Q", LogQuantity.ReactivePower, LogPlace.Phase1),
            ],
            starts, values, 60);
    }

    /// <summary>Mean total watts and vars of each quarter of an hour. The row stamped 00:00 ends its day: rows are counted, not dated.</summary>
    private static IntervalLog Works(Func<int, bool>? isKept = null)
    {
        var lines = File.ReadAllLines(RepositoryFile.Path("data/interval/steel-15min-2018-jan-jun.csv"))[1..];
        int[] rows = [.. Enumerable.Range(0, lines.Length).Where(row => isKept is null || isKept(row))];
        double Cell(int row, int column) => Number(lines[row].Split(',')[column]);
        return new IntervalLog(
            [new LogColumn("P", LogQuantity.ActivePower), new LogColumn("Q", LogQuantity.ReactivePower)],
            [.. rows.Select(row => new DateTime(2018, 1, 1).AddMinutes(15 * row).Ticks)],
            [[.. rows.Select(row => 4000 * Cell(row, 1))], [.. rows.Select(row => 4000 * (Cell(row, 2) - Cell(row, 3)))]],
            900);
    }

    private static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);
}
