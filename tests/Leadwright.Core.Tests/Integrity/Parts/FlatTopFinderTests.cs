using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity;
using Leadwright.Core.Integrity.Recorder;
using Leadwright.Core.Logs;
using Leadwright.Core.Panels;

namespace Leadwright.Core.Tests.Integrity.Parts;

/// <summary>Clamps at the end of a range of a hundred amperes, and what only looks so. Loads are twenty amperes and an exponential tail of twenty-five.</summary>
public sealed class FlatTopFinderTests
{
    private const int Count = 1000;
    private const double End = 100;

    [Fact]
    public void Every_row_at_the_end_is_over_range_and_no_other()
    {
        var amperes = Tail(1);
        var cut = Cut(amperes);
        var spans = Find(new PartLog().Amperes(0, cut));
        AssertRows(row => amperes[row] >= End, Clamp.I1, spans);
        Assert.All(spans, span => Assert.Equal((SpanKind.OverRange, End, false), (span.Kind, span.Finding.Within, span.IsDoubtful)));
        Assert.Empty(Find(new PartLog().Amperes(0, amperes)));
    }

    // A pump on three lines runs at its largest for ten rows, three times: the other line stands as still, at two thirds as much.
    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void What_stands_still_with_another_line_is_a_load(bool isOther)
    {
        bool Runs(int row) => row % 300 is >= 100 and < 110;
        var amperes = Array.ConvertAll(Tail(1), value => Math.Min(value, 0.9 * End));
        var (one, other) = (PartLog.Rows(Count, row => Runs(row) ? End : amperes[row]), PartLog.Rows(Count, row => 2.0 / 3 * (isOther && Runs(row) ? End : amperes[(row + 37) % Count])));
        var spans = Find(new PartLog().Amperes(0, one).Amperes(1, other));
        Assert.Equal(isOther ? 0 : 3, spans.Count(span => span.Clamps[0] == Clamp.I1 && span.To - span.From == TimeSpan.FromMinutes(100)));
    }

    [Fact]
    public void Where_the_range_is_known_from_one_clamp_a_single_row_of_another_at_it_counts()
    {
        var random = new SeededRandom(2);
        var other = PartLog.Rows(Count, row => row == 300 ? End : random.Uniform(20, 40));
        var spans = Find(new PartLog().Amperes(0, Cut(Tail(1))).Amperes(1, other));
        AssertRows(row => row == 300, Clamp.I2, spans);
        // Alone it is a load that ran once.
        Assert.Empty(Find(new PartLog().Amperes(1, other)));
    }

    // The load moves by far more than eight percent from one row to the next, so that a mean of up to four percent below the end may be of an interval that went beyond it.
    [Theory]
    [InlineData(98, true)]
    [InlineData(95.5, false)]
    public void A_row_that_comes_nearer_to_the_range_than_the_load_wanders_within_one_may_have_gone_beyond_it(double most, bool isNear)
    {
        var random = new SeededRandom(3);
        var near = PartLog.Rows(Count, row => row == 500 ? most : random.Uniform(45, most));
        var spans = Find(new PartLog().Amperes(0, Cut(Tail(1))).Amperes(2, near)).Where(span => span.Clamps[0] == Clamp.I3).ToList();
        AssertRows(row => isNear && near[row] >= 0.96 * End, Clamp.I3, spans);
        Assert.All(spans, span => Assert.Equal((0.85, End), (span.Confidence, span.Finding.Within)));
    }

    [Fact]
    public void A_neutrals_clamp_at_the_range_of_the_lines_counts_and_one_near_it_does_not()
    {
        var random = new SeededRandom(4);
        var neutral = PartLog.Rows(Count, row => row == 200 ? End : random.Uniform(45, 60));
        var spans = Find(new PartLog().Amperes(0, Cut(Tail(1))).With(LogQuantity.Current, LogPlace.Neutral, neutral));
        AssertRows(row => row == 200, Clamp.IN, spans);
        neutral[200] = 98;
        Assert.DoesNotContain(Find(new PartLog().Amperes(0, Cut(Tail(1))).With(LogQuantity.Current, LogPlace.Neutral, neutral)), span => span.Clamps[0] == Clamp.IN);
    }

    [Fact]
    public void A_heater_whose_amperes_go_with_the_voltage_is_at_no_end()
    {
        var random = new SeededRandom(5);
        var volts = PartLog.Rows(Count, _ => random.Uniform(229.7, 230.3));
        var other = PartLog.Rows(Count, _ => random.Uniform(229.7, 230.3));
        var amperes = PartLog.Rows(Count, row => random.Chance(0.4) ? 50 * volts[row] / 230 : random.Uniform(10, 45));
        Assert.Empty(Find(Nominal().Volts(0, volts).Amperes(0, amperes)));
        // With a voltage that has nothing to do with them the same amperes are.
        Assert.NotEmpty(Find(Nominal().Volts(0, other).Amperes(0, amperes)));
    }

    [Fact]
    public void The_crest_of_a_smooth_course_is_no_end()
    {
        // A sine of a day: near its crest it keeps within a thousandth for half an hour.
        var amperes = PartLog.Rows(14 * 144, row => 50 + (40 * Math.Sin(2 * Math.PI * (row + 0.3) / 144)));
        Assert.Empty(Find(new PartLog().Amperes(0, amperes)));
        // Cut at 85 A it is one.
        Assert.NotEmpty(Find(new PartLog().Amperes(0, Array.ConvertAll(amperes, value => Math.Min(85, value)))));
    }

    [Fact]
    public void A_load_of_one_size_to_which_nothing_comes_up_is_no_end()
    {
        var random = new SeededRandom(6);
        // Off or on, at forty amperes to the digit: nothing between half of them and all.
        Assert.Empty(Find(new PartLog().Amperes(0, PartLog.Rows(Count, _ => random.Chance(0.3) ? 40 : random.Uniform(1, 15)))));
    }

    [Fact]
    public void Of_a_load_that_draws_anything_up_to_a_most_and_is_written_to_the_ampere_the_most_is_no_end()
    {
        var random = new SeededRandom(7);
        Assert.Empty(Find(new PartLog().Amperes(0, PartLog.Rows(Count, _ => 10 + random.Below(11)))));
    }

    [Fact]
    public void A_load_at_its_largest_for_once_was_not_cut()
    {
        // One hour of six rows at a hundred amperes and a digit apart, of a load that else runs from twenty to eighty-five.
        var random = new SeededRandom(8);
        var amperes = PartLog.Rows(Count, row => row is >= 400 and < 406 ? 100 - (0.01 * (row % 3)) : random.Uniform(20, 85));
        Assert.Empty(Find(new PartLog().Amperes(0, amperes)));
    }

    private static PartLog Nominal() => new() { Nominal = new NominalVoltage(230, 400) };

    private static void AssertRows(Func<int, bool> isOver, Clamp clamp, List<GuardSpan> spans)
    {
        var rows = new bool[Count];
        foreach (var span in spans.Where(span => span.Clamps.Single() == clamp))
        {
            for (var row = 0; row < Count; row++) rows[row] |= span.From <= PartLog.Start.AddMinutes(10 * row) && span.To >= PartLog.Start.AddMinutes(10 * (row + 1));
        }

        Assert.Equal(Enumerable.Range(0, Count).Where(isOver), Enumerable.Range(0, Count).Where(row => rows[row]));
    }

    private static List<GuardSpan> Find(PartLog log)
    {
        var spans = new List<GuardSpan>();
        FlatTopFinder.Find(log.ToFrame(), spans);
        return spans;
    }

    private static double[] Tail(ulong seed)
    {
        var random = new SeededRandom(seed);
        return PartLog.Rows(Count, _ => 20 - (25 * Math.Log(1 - random.NextUnit())));
    }

    private static double[] Cut(double[] amperes) => Array.ConvertAll(amperes, value => Math.Min(End, value));
}
