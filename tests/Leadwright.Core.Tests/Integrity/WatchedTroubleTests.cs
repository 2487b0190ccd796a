using System.Collections.Immutable;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity;
using Leadwright.Core.Logs;

namespace Leadwright.Core.Tests.Integrity;

/// <summary>What a watch tells of what a guard says row by row; the guard's words are made here.</summary>
public sealed class WatchedTroubleTests
{
    private static readonly GuardOptions s_options = new() { Service = ServiceKind.Wye, Nominal = new NominalVoltage(230, 400) };

    private readonly MadeLog _rows = new();

    [Fact]
    public void An_alarm_that_goes_by_another_name_is_renamed_and_not_raised_again()
    {
        var told = Told(70, row => row switch
        {
            >= 60 => [Span(SpanKind.ClampsOnSameConductor, [], [Clamp.I1, Clamp.I3], 40, 60)],
            >= 41 => [Span(SpanKind.ClampsOnSameConductor, [], [Clamp.I1, Clamp.I3], 40, row + 1)],
            40 => [Span(SpanKind.LeadsOnSameConductor, [Lead.V1, Lead.V2], [], 40, row + 1)],
            _ => [],
        });
        Assert.Equal(
            ["40 raised LeadsOnSameConductor", "41 LeadsOnSameConductor renamed ClampsOnSameConductor", "60 cleared ClampsOnSameConductor"], told);
    }

    [Fact]
    public void A_name_that_many_rows_gave_goes_only_when_as_many_give_another()
    {
        var told = Told(80, row => row < 40 ? [] : row is (>= 45 and < 47) or >= 50
            ? [Span(SpanKind.NeutralOpen, [Lead.VN], [], 39, row + 1)]
            : [Span(SpanKind.RatioWrong, [], [Clamp.I2], 40, row + 1)]);
        // Eight rows say a ratio; two in between and then eight on end say the neutral lead.
        Assert.Equal(["40 raised RatioWrong", "57 RatioWrong renamed NeutralOpen"], told);
    }

    [Fact]
    public void Two_names_one_after_the_other_with_no_sound_row_between_are_one_trouble()
    {
        var told = Told(80, row => row switch
        {
            >= 60 => [Span(SpanKind.ClampOpen, [], [Clamp.I1], 40, 60), Span(SpanKind.ClampReversed, [], [Clamp.I1], 60, row + 1)],
            >= 40 => [Span(SpanKind.ClampOpen, [], [Clamp.I1], 40, row + 1)],
            _ => [],
        });
        Assert.Equal(["40 raised ClampOpen", "71 ClampOpen renamed ClampReversed"], told);
    }

    [Fact]
    public void What_is_no_longer_found_is_taken_back_when_as_many_rows_deny_it_as_bore_it_out()
    {
        var told = Told(80, row => row is (>= 40 and < 50) or (>= 55 and < 58) ? [Span(SpanKind.NeutralOpen, [Lead.VN], [], 40, row + 1)] : []);
        // Five rows without it say little against ten; nineteen against eighteen do.
        Assert.Equal(["40 raised NeutralOpen", "76 withdrawn NeutralOpen"], told);
    }

    [Fact]
    public void A_name_in_doubt_neither_clears_an_alarm_nor_renames_it()
    {
        var told = Told(120, row => row < 40 ? [] : row is >= 45 and < 100
            ? [Span(SpanKind.ClampOnNeutral, [], [Clamp.I2], 40, row + 1, 0.6)]
            : [Span(SpanKind.ClampsExchanged, [], [Clamp.I2, Clamp.I3], 40, row + 1)]);
        Assert.Equal(["40 raised ClampsExchanged"], told);
    }

    [Fact]
    public void An_end_among_rows_that_bore_the_alarm_out_needs_as_many_rows_behind_it()
    {
        var told = Told(90, row => row < 40 ? [] : [Span(SpanKind.ClampReversed, [], [Clamp.I3], 40, row is < 60 or (>= 65 and < 68) ? row + 1 : 52)]);
        // Sixteen rows, to 68, were borne out beyond the end at 52.
        Assert.Equal(["40 raised ClampReversed", "83 cleared ClampReversed"], told);
    }

    [Fact]
    public void A_range_that_is_too_small_is_one_alarm_until_a_reading_goes_beyond_its_end()
    {
        for (var row = 40; row < 70; row++) _rows.Amperes[1][row] = row % 10 < 3 ? 40 : 20;
        for (var row = 70; row < 90; row++) _rows.Amperes[1][row] = row < 80 ? 39 : 44;
        var told = Told(90, row => [.. new[] { 40, 50, 60 }.Where(from => row > from).Select(from => Span(SpanKind.OverRange, [], [Clamp.I2], from, from + 3))]);
        Assert.Equal(["41 raised OverRange", "80 cleared OverRange"], told);
    }

    [Fact]
    public void A_recorder_that_was_off_is_told_once()
    {
        var watch = new GuardWatch(_rows.ToLog().Columns, 600, s_options);
        var told = new List<string>();
        Feed(watch, 0, 60, told);
        Note(watch.Look(MadeLog.At(63)), 60, told);
        Feed(watch, 80, 84, told);
        Assert.Equal(["60 raised NoData", "80 cleared NoData"], told);
    }

    [Fact]
    public void A_clamp_that_is_turned_for_longer_than_rows_are_kept_stays_an_alarm_until_it_is_turned_back()
    {
        _rows.WithReversed(120, 410, 1);
        var watch = new GuardWatch(_rows.ToLog().Columns, 600, s_options, 200);
        var told = new List<string>();
        FeedParts(watch, 0, 120, 12, told);
        Feed(watch, 120, 124, told);
        FeedParts(watch, 124, 408, 4, told);
        Feed(watch, 408, 425, told);
        Assert.Equal(2, told.Count);
        Assert.EndsWith("raised ClampReversed", told[0], StringComparison.Ordinal);
        Assert.InRange(Row(told[0]), 120, 123);
        Assert.EndsWith("cleared ClampReversed", told[1], StringComparison.Ordinal);
        Assert.InRange(Row(told[1]), 410, 413);
    }

    [Fact]
    public void Rows_since_a_change_that_outweigh_those_before_it_are_not_taken_for_the_proved_hookup()
    {
        _rows.WithReversed(110, 432, 1);
        var watch = new GuardWatch(_rows.ToLog().Columns, 600, s_options);
        var told = new List<string>();
        FeedParts(watch, 0, 108, 12, told);
        Feed(watch, 108, 112, told);
        FeedParts(watch, 112, MadeLog.Rows, 8, told);
        Assert.Equal("110 raised ClampReversed", Assert.Single(told, line => line.EndsWith("ClampReversed", StringComparison.Ordinal)));
        Assert.Contains(watch.Open, span => span.Kind == SpanKind.ClampReversed && span.Clamps.SequenceEqual([Clamp.I2]));
    }

    [Fact]
    public void What_was_wrong_as_the_watch_began_and_was_put_right_is_no_alarm_again()
    {
        _rows.WithReversed(0, 144, 1);
        var watch = new GuardWatch(_rows.ToLog().Columns, 600, s_options, 200);
        var told = new List<string>();
        FeedParts(watch, 0, 144, 12, told);
        Feed(watch, 144, 148, told);
        FeedParts(watch, 148, 428, 8, told);
        Assert.Equal(2, told.Count(line => line.EndsWith("ClampReversed", StringComparison.Ordinal)));
        Assert.Contains("144 cleared ClampReversed", told);
        Assert.Empty(watch.Open);
    }

    [Fact]
    public void What_begins_as_another_trouble_shows_at_last_is_not_its_new_name()
    {
        var told = Told(120, row => row switch
        {
            >= 110 => [Span(SpanKind.LeadOpen, [Lead.V3], [], 102, row + 1)],
            >= 100 => [Span(SpanKind.ClampOnNeutral, [], [Clamp.I1], 40, row + 1)],
            _ => [],
        });
        Assert.Equal(["100 raised ClampOnNeutral", "110 raised LeadOpen"], told);
    }

    [Fact]
    public void The_gap_where_rows_were_let_go_is_no_gap_of_the_recorder()
    {
        _rows.WithVolts(120, 432, 1, 0.03, 1);
        var watch = new GuardWatch(_rows.ToLog().Columns, 600, s_options, 200);
        var told = new List<string>();
        FeedParts(watch, 0, MadeLog.Rows, 72, told);
        Assert.Equal(["72 raised LeadOpen"], told);
    }

    private List<string> Told(int rows, Func<int, ImmutableArray<GuardSpan>> say)
    {
        var told = new List<string>();
        var watch = new GuardWatch(_rows.ToLog().Columns, 600, s_options, 1500, (log, _, _) =>
            new GuardReport(log.From, log.To, say(log.Count - 1), HookupTimeline.Empty, ImmutableSortedDictionary<Channel, double>.Empty, []));
        Feed(watch, 0, rows, told);
        return told;
    }

    private void Feed(GuardWatch watch, int from, int to, List<string> told)
    {
        var log = _rows.ToLog();
        var values = new double[log.Columns.Length];
        for (var row = from; row < to; row++)
        {
            for (var column = 0; column < values.Length; column++) values[column] = log.Values(column)[row];
            Note(watch.Add(log.Starts.Span[row], values, TestContext.Current.CancellationToken), row, told);
        }
    }

    private void FeedParts(GuardWatch watch, int from, int to, int rows, List<string> told)
    {
        var log = _rows.ToLog();
        for (var row = from; row < to; row += rows)
        {
            double[][] values = [.. Enumerable.Range(0, log.Columns.Length).Select(column => log.Values(column)[row..(row + rows)].ToArray())];
            Note(watch.Add(new IntervalLog(log.Columns, log.Starts[row..(row + rows)].ToArray(), values, log.IntervalSeconds), TestContext.Current.CancellationToken), row, told);
        }
    }

    private static void Note(GuardNews news, int row, List<string> told)
    {
        told.AddRange(news.Raised.Select(span => $"{row} raised {span.Kind}"));
        told.AddRange(news.Renamed.Select(alarm => $"{row} {alarm.Before.Kind} renamed {alarm.Now.Kind}"));
        told.AddRange(news.Cleared.Select(span => $"{row} cleared {span.Kind}"));
        told.AddRange(news.Withdrawn.Select(span => $"{row} withdrawn {span.Kind}"));
    }

    private static int Row(string told) => int.Parse(told[..told.IndexOf(' ', StringComparison.Ordinal)], System.Globalization.CultureInfo.InvariantCulture);

    private static GuardSpan Span(SpanKind kind, ImmutableArray<Lead> leads, ImmutableArray<Clamp> clamps, int from, int to, double confidence = 0.99) =>
        new(kind, leads, clamps, MadeLog.At(from), MadeLog.At(to), confidence, new SpanFinding(SpanRelation.ReadingsWeighed, 5));
}
