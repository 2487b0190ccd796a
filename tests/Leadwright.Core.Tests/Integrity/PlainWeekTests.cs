using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity;

namespace Leadwright.Core.Tests.Integrity;

/// <summary>What the guard says of weeks in which no voltage answers to any load: truth is what <see cref="PlainWeek"/> was told to do. The shares are those measured, less a margin.</summary>
public sealed class PlainWeekTests
{
    [Fact]
    public void Hardly_a_plain_week_without_mishap_gets_a_sure_span()
    {
        // Seeds that nothing was tuned on; before this was looked at one week in ten had false spans.
        var wrong = Enumerable.Range(20000, 60).Count(seed => Guard(new PlainWeek(seed, PlainMishap.None)).Spans.Any(span => !span.IsDoubtful));
        Assert.InRange(wrong, 0, 2);
    }

    [Theory]
    [InlineData(PlainMishap.ClampReversed, 0.9)]
    [InlineData(PlainMishap.LeadOff, 0.9)]
    [InlineData(PlainMishap.Outage, 0.9)]
    [InlineData(PlainMishap.RowsMissing, 0.9)]
    [InlineData(PlainMishap.StuckAll, 0.9)]
    [InlineData(PlainMishap.StuckChannel, 0.8)]
    public void Most_mishaps_of_plain_weeks_are_found(PlainMishap mishap, double share)
    {
        int found = 0, all = 0;
        for (var seed = 21000; seed < 21030; seed++)
        {
            var week = new PlainWeek(seed, mishap);
            // A line that carries nothing by night shows no edge by night.
            if (week.Words.Contains("shape 4", StringComparison.Ordinal)) continue;
            var report = week.Truths.Count > 0 ? Guard(week) : null;
            foreach (var truth in week.Truths)
            {
                all++;
                if (report!.Spans.Any(span => !span.IsDoubtful && (span.Kind == truth.Kind || span.Kind == truth.Or) && IsNear(span.From, truth.From, week) && IsNear(span.To, truth.To, week))) found++;
            }
        }

        Assert.True(all > 4, $"{all} weeks have it");
        Assert.True(found >= share * all, $"{found} of {all}");
    }

    [Theory]
    [InlineData(2.0)]
    [InlineData(0.5)]
    public void A_ratio_set_wrong_for_hours_is_told_where_no_voltage_answers(double ratio)
    {
        var made = Still();
        Change(made, amperes => amperes * ratio, angle => angle);
        var span = Assert.Single(made.Guard().Spans, span => !span.IsDoubtful);
        Assert.Equal((SpanKind.RatioWrong, Clamp.I2), (span.Kind, Assert.Single(span.Clamps)));
        Assert.Equal((MadeLog.At(250), MadeLog.At(330)), (span.From, span.To));
    }

    [Fact]
    public void Voltages_that_stand_still_between_two_written_values_are_no_neutral_lead_in_the_air()
    {
        // Two hours of seconds: idle stretches of minutes in which 227.7 V never becomes 227.6 V, whatever a tenth of an ampere does.
        Assert.DoesNotContain(Guard(new PlainWeek(839)).Spans, span => !span.IsDoubtful);
    }

    [Theory]
    [InlineData(52038)]
    [InlineData(52108)]
    public void A_load_that_draws_anything_up_to_a_most_ends_at_no_range(int seed)
    {
        // Evenly spread loads: written to a tenth of an ampere, so that many values are the largest one; and to the last digit, with ten of eleven values in the upper half of the last half percent.
        Assert.DoesNotContain(Guard(new PlainWeek(seed)).Spans, span => !span.IsDoubtful);
    }

    [Theory]
    [InlineData(246, 249)]
    [InlineData(331, 334)]
    [InlineData(252, 255)]
    public void Values_that_are_missing_beside_an_edge_hide_no_ratio_and_stop_no_guard(int from, int to)
    {
        var made = Still();
        Change(made, amperes => amperes * 2, angle => angle);
        for (var row = from; row < to; row++)
        {
            foreach (var column in made.Amperes.Concat(made.Watts).Concat(made.Vars)) column[row] = double.NaN;
        }

        Assert.Contains(made.Guard().Spans, span => !span.IsDoubtful && span.Kind == SpanKind.RatioWrong && span.Clamps.SequenceEqual([Clamp.I2]));
    }

    [Fact]
    public void A_load_that_doubles_the_current_by_adding_to_it_is_no_ratio()
    {
        // As many amperes in every row as the mean of those that were there, at a power factor of their own.
        var made = Still();
        var mean = made.Amperes[1][250..330].Average();
        Change(made, amperes => amperes + mean, angle => angle + 0.15);
        Assert.DoesNotContain(made.Guard().Spans, span => !span.IsDoubtful);
    }

    /// <summary>Currents with a course of the day and one percent of noise; voltages that answer to nothing.</summary>
    private static MadeLog Still()
    {
        var made = new MadeLog();
        var random = new Random(5);
        for (var line = 0; line < 3; line++)
        {
            for (var row = 0; row < made.Amperes[line].Length; row++)
            {
                made.Volts[line][row] = 230 * (1 + (0.002 * (random.NextDouble() - 0.5)));
                made.Amperes[line][row] = 20 * (1 + (0.5 * Math.Sin((MadeLog.At(row).TimeOfDay.TotalHours - 9) * Math.PI / 12))) * (1 + (0.02 * (random.NextDouble() - 0.5)));
                Put(made, line, row, 0.4);
            }
        }

        return made;
    }

    private static void Change(MadeLog made, Func<double, double> amperes, Func<double, double> angle)
    {
        for (var row = 250; row < 330; row++)
        {
            made.Amperes[1][row] = amperes(made.Amperes[1][row]);
            Put(made, 1, row, angle(0.4));
        }
    }

    private static void Put(MadeLog made, int line, int row, double angle)
    {
        var apparent = made.Volts[line][row] * made.Amperes[line][row];
        (made.Watts[line][row], made.Vars[line][row]) = (apparent * Math.Cos(angle), apparent * Math.Sin(angle));
    }

    [Fact]
    public void A_recorder_that_repeats_whole_rows_is_one_span_with_all_channels()
    {
        var made = new MadeLog();
        foreach (var column in made.Volts.Concat(made.Amperes).Concat(made.Watts).Concat(made.Vars))
        {
            for (var row = 200; row < 230; row++) column[row] = column[199];
        }

        var span = Assert.Single(made.Guard().Spans, span => !span.IsDoubtful);
        Assert.Equal(SpanKind.Stuck, span.Kind);
        Assert.Equal((3, 3), (span.Leads.Length, span.Clamps.Length));
        Assert.InRange((span.From - MadeLog.At(199)).Duration(), TimeSpan.Zero, TimeSpan.FromMinutes(10));
        Assert.Equal(MadeLog.At(230), span.To);
    }

    [Fact]
    public void A_current_that_stands_still_while_its_watts_go_on_with_the_load_is_stuck()
    {
        var made = new MadeLog();
        for (var row = 200; row < 260; row++) made.Amperes[1][row] = made.Amperes[1][199];
        var span = Assert.Single(made.Guard().Spans, span => !span.IsDoubtful);
        Assert.Equal((SpanKind.Stuck, "I2"), (span.Kind, $"{span.Clamps.Single()}"));
    }

    [Fact]
    public void A_clock_that_was_set_by_an_hour_shows_in_the_course_of_the_days()
    {
        // An hour is a whole number of intervals, so that the times alone do not tell it from a recorder that was off.
        Assert.Equal(SpanKind.ClockJump, After(0));
        Assert.Equal(SpanKind.NoData, After(6));

        static SpanKind After(int rowsLost)
        {
            var made = new MadeLog();
            var kept = new List<int>(Enumerable.Range(0, MadeLog.Rows).Where(row => row < 280 || row >= 280 + rowsLost));
            foreach (var columns in new[] { made.Volts, made.Amperes, made.Watts, made.Vars })
            {
                for (var phase = 0; phase < 3; phase++) columns[phase] = [.. kept.Select(row => columns[phase][row])];
            }

            made.Starts.Clear();
            for (var row = 0; row < kept.Count; row++) made.Starts.Add(MadeLog.At(row < 280 ? row : row + 6).Ticks);
            return Assert.Single(made.Guard().Spans, span => span.Kind is SpanKind.ClockJump or SpanKind.NoData).Kind;
        }
    }

    [Fact]
    public void A_clamp_that_opens_slowly_shows_against_the_other_lines_where_no_voltage_answers()
    {
        int found = 0, all = 0;
        for (var seed = 22000; seed < 22060; seed++)
        {
            var week = new PlainWeek(seed, PlainMishap.ClampOpening);
            if (week.Truths.Count == 0 || week.IntervalSeconds != 600 || week.Log.Count < 1000 || !week.Words.Contains("shape 0", StringComparison.Ordinal)) continue;
            all++;
            if (Guard(week).Spans.Any(span => span.Kind == SpanKind.ClampOpen && span.Clamps.SequenceEqual(week.Truths[0].Clamps) && !span.IsDoubtful)) found++;
        }

        Assert.True(all > 0 && found >= 0.7 * all, $"{found} of {all}");
    }

    private static GuardReport Guard(PlainWeek week) => IntervalGuard.Judge(week.Log, week.Options, TestContext.Current.CancellationToken);

    private static bool IsNear(DateTime one, DateTime other, PlainWeek week) => (one - other).Duration().TotalSeconds <= 1.05 * week.IntervalSeconds;
}
