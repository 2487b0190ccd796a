using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity;
using Leadwright.Core.Integrity.Recorder;
using Leadwright.Core.Panels;

namespace Leadwright.Core.Tests.Integrity.Parts;

/// <summary>A clamp whose range was set to fifty amperes for some hours of a current of thirty to eighty, written to a tenth.</summary>
public sealed class HeldTopTests
{
    private const int Count = 300, From = 100, To = 159;
    private const double End = 50;

    [Fact]
    public void Hours_in_which_a_current_ends_at_one_value_are_found_from_its_first_row_to_its_last()
    {
        var (amperes, held) = Held(From, To);
        var found = Assert.Single(Find(amperes));
        Assert.Equal((0, held[0], held[^1], End), (found.Clamp, found.From, found.To, found.Value));
        Assert.Equal(held, found.Runs.SelectMany(run => Enumerable.Range(run.From, run.To - run.From + 1)));
        // Runs are as long as they can be.
        Assert.All(found.Runs, run => Assert.True(amperes[run.From - 1] != End && amperes[run.To + 1] != End));
    }

    [Fact]
    public void Of_a_current_that_comes_from_below_the_value_it_is_a_load_of_one_size()
    {
        var (amperes, held) = Held(From, To);
        // The same rows within; before and behind it runs at thirty.
        for (var off = 1; off <= 6; off++) (amperes[held[0] - off], amperes[held[^1] + off]) = (30 + (0.1 * off), 31 + (0.1 * off));
        Assert.Empty(Find(amperes));
    }

    [Fact]
    public void Six_rows_of_ten_above_it_beside_the_hours_are_enough_and_one_less_is_not()
    {
        var (amperes, held) = Held(From, To);
        // Twelve rows beside: eight of them above are two thirds, seven are less than six in ten.
        for (var off = 1; off <= 4; off++) amperes[held[0] - off] = 35.3 + off;
        Assert.Single(Find(amperes));
        amperes[held[0] - 5] = 41.7;
        Assert.Empty(Find(amperes));
    }

    [Fact]
    public void A_value_that_comes_back_at_other_times_is_a_loads_own_size()
    {
        var (amperes, _) = Held(From, To);
        (amperes[20], amperes[60]) = (End, End);
        Assert.Single(Find(amperes));
        amperes[220] = End;
        Assert.Empty(Find(amperes));
    }

    [Fact]
    public void A_value_that_does_not_change_once_is_not_held_but_stuck()
    {
        var (amperes, _) = Held(From, To);
        Array.Fill(amperes, End, From, To - From + 1);
        Assert.Empty(Find(amperes));
        // Nor where it was read once before, with three rows below it between.
        (amperes[From - 4], amperes[From - 3], amperes[From - 2], amperes[From - 1]) = (End, 47.2, 46.1, 48.3);
        Assert.Empty(Find(amperes));
    }

    [Fact]
    public void A_current_that_keeps_still_at_other_times_too_is_written_coarsely()
    {
        var (amperes, _) = Held(From, To);
        for (var row = 1; row < Count; row += 2)
        {
            if (row is < From - 8 or > To + 8) amperes[row] = amperes[row - 1];
        }

        Assert.Empty(Find(amperes));
    }

    [Fact]
    public void At_the_start_of_a_recording_four_rows_behind_tell_where_it_came_from_and_three_do_not()
    {
        Assert.Single(Find(AtStart(4)));
        Assert.Empty(Find(AtStart(3)));
    }

    // Ten held where one would be: 10 ln 10 - 9 = 14.0 nats; nine: 9 ln 9 - 8 = 11.8, and twelve are asked for.
    [Theory]
    [InlineData(10, true)]
    [InlineData(9, false)]
    public void Ten_rows_with_nothing_next_below_them_are_enough_and_nine_are_not(int held, bool isEnd)
    {
        var amperes = Short(held, [35.1, 38.2, 41.3, 44.4]);
        Assert.Equal(isEnd, Find(amperes).Count == 1);
    }

    // A crest of a sine holds 4.2 times what each of the nine bands below it does. Nine rows there let 4.2 be expected: 20 ln(20/4.2) - 15.8 = 15.4; eighteen 8.4: 20 ln(20/8.4) - 11.6 = 5.7.
    [Theory]
    [InlineData(9, true)]
    [InlineData(18, false)]
    public void What_thins_out_towards_the_value_as_a_crest_does_is_no_end(int nextBelow, bool isEnd)
    {
        var amperes = Short(20, [.. Enumerable.Range(0, nextBelow).Select(row => 49.1 + (0.1 * (row % 9)))]);
        Assert.Equal(isEnd, Find(amperes).Count == 1);
    }

    [Fact]
    public void Each_run_is_reported_over_range_in_place_of_what_seemed_stuck_there()
    {
        var (amperes, held) = Held(From, To);
        var log = new PartLog().Amperes(2, amperes);
        var frame = log.ToFrame();
        var found = HeldTop.Find(frame);
        Assert.Equal(2, Assert.Single(found).Clamp);
        var within = Stuck(Clamp.I3, log.At(held[3]), log.At(held[3] + 6));
        List<GuardSpan> spans = [within, within with { Clamps = [Clamp.I1] }, within with { From = log.At(held[0] - 1) }];
        HeldTop.Put(frame, found, spans);
        Assert.Equal([SpanKind.Stuck, SpanKind.Stuck], spans.Take(2).Select(span => span.Kind));
        var over = spans.Skip(2).ToList();
        Assert.Equal(found[0].Runs.Select(run => (log.At(run.From), log.At(run.To + 1))), over.Select(span => (span.From, span.To)));
        Assert.All(over, span => Assert.Equal((SpanKind.OverRange, Clamp.I3, End, held.Count), (span.Kind, span.Clamps[0], span.Finding.Within, span.Finding.Intervals)));
    }

    // A kettle and lamps written to a hundredth: for a night nothing goes beyond 14.16 A, which it reaches in few rows, but always to the last digit.
    [Theory]
    [InlineData(0, true)]
    [InlineData(0.05, false)]
    public void Written_finely_a_value_that_comes_back_to_the_last_digit_is_the_end_of_a_range_however_seldom(double wander, bool isHeld)
    {
        const double Cut = 14.16;
        var random = new SeededRandom(5);
        var amperes = PartLog.Rows(1000, row => Math.Round(row % 20 < 2 ? random.Uniform(14.5, 25) : random.Uniform(1, 9), 2));
        // A load of one size instead stands at its own level, which goes with its voltage.
        for (var row = 300; row < 700; row++) amperes[row] = amperes[row] > Cut ? Math.Round(Cut + (wander * random.Gaussian()), 2) : amperes[row];
        var found = Find(amperes);
        Assert.Equal(isHeld, found.Count == 1);
        Assert.All(found, held => Assert.Equal((300, Cut), (held.From, held.Value)));
    }

    private static GuardSpan Stuck(Clamp clamp, DateTime from, DateTime to) => new(SpanKind.Stuck, [], [clamp], from, to, 0.97, new SpanFinding(SpanRelation.ValueRepeated, 8));

    private static List<HeldTop.Held> Find(double[] amperes) => HeldTop.Find(new PartLog().Amperes(0, amperes).ToFrame());

    /// <summary>So many rows at the end of the range, and some others one after each of the first of them.</summary>
    private static double[] Short(int held, double[] others)
    {
        var (amperes, _) = Held(From, From + 1);
        var row = From;
        for (var at = 0; at < held; at++)
        {
            amperes[row++] = End;
            if (at < others.Length) amperes[row++] = Math.Round(others[at], 1);
        }

        for (var at = 0; at < 6; at++) amperes[row++] = 66.1 + at;
        return amperes;
    }

    private static double[] AtStart(int behind)
    {
        // Of all rows behind the hours only so many are known.
        var (amperes, held) = Held(0, 59);
        for (var row = held[^1] + 1 + behind; row <= held[^1] + 6; row++) amperes[row] = double.NaN;
        return amperes;
    }

    /// <summary>The current, and the rows that it is held in; before and behind these it runs above.</summary>
    private static (double[] Amperes, List<int> Held) Held(int from, int to)
    {
        var random = new SeededRandom(12);
        var amperes = PartLog.Rows(Count, _ => Math.Round(random.Uniform(30, 80), 1));
        for (var row = 0; row < Count; row++)
        {
            if (amperes[row] == End) amperes[row] += 0.1;
        }

        var held = new List<int>();
        amperes[from] = amperes[to] = 60;
        for (var row = from; row <= to; row++)
        {
            if (amperes[row] < End) continue;
            amperes[row] = End;
            held.Add(row);
        }

        for (var off = 1; off <= 6; off++)
        {
            if (from >= off) amperes[from - off] = 66.2 + off;
            amperes[to + off] = 67.4 + off;
        }

        return (amperes, held);
    }
}
