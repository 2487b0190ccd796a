using Leadwright.Core.Integrity.Samples;

namespace Leadwright.Core.Tests.Integrity.Parts;

/// <summary>Waves of 64 samples a cycle, half a cycle a hundred ticks long, written in steps of a thousandth.</summary>
public sealed class CutTopsTests
{
    private const int PerCycle = 64;
    private const long HalfTicks = 100;

    [Fact]
    public void A_sine_that_is_cut_at_both_tops_is_found_from_first_to_last()
    {
        var found = Assert.Single(Find(angle => Math.Clamp(10 * Math.Sin(angle), -8, 8), cycles: 50));
        Assert.Equal((0, 50 * 2 * HalfTicks, 8), (found.From, found.To, found.Level));
        Assert.Equal(100, found.Tops);
    }

    [Fact]
    public void One_cut_far_down_is_found() => Assert.Single(Find(angle => Math.Clamp(10 * Math.Sin(angle), -2, 2)));

    [Fact]
    public void It_is_dated_to_the_half_cycle()
    {
        // From the eleventh cycle to the thirtieth.
        var found = Assert.Single(Find(angle => Math.Min(8, (angle / (2 * Math.PI)) is >= 10 and < 30 ? 10 * Math.Sin(angle) : 7 * Math.Sin(angle)), cycles: 50));
        Assert.Equal((20 * HalfTicks, 59 * HalfTicks), (found.From, found.To));
    }

    [Fact]
    public void A_whole_sine_is_not_cut() => Assert.Empty(Find(angle => 10 * Math.Sin(angle)));

    // Five percent of the fifth harmonic lay the top level: 29 samples in a thousand stand on one step.
    [Theory]
    [InlineData(0.04)]
    [InlineData(0.05)]
    [InlineData(0.06)]
    public void A_voltage_that_rectifiers_flattened_is_not_cut(double fifth) =>
        Assert.Empty(Find(angle => 10 * (Math.Sin(angle) + (fifth * Math.Sin(5 * angle))), step: 0.02));

    [Fact]
    public void Blocks_of_a_rectifier_behind_a_choke_are_not_cut() =>
        Assert.Empty(Find(angle => 10 * Math.Sign(Math.Sin(1.003 * angle)) * Math.Clamp(12 * (Math.Abs(Math.Sin(1.003 * angle)) - 0.45), 0, 1)));

    [Fact]
    public void A_sine_of_few_steps_is_not_cut() => Assert.Empty(Find(angle => 10 * Math.Sin(angle), step: 0.5));

    [Fact]
    public void A_current_that_rests_between_its_pulses_is_not_cut() => Assert.Empty(Find(angle => Math.Max(-0.5, 10 * Math.Cos(angle)) - 0.1));

    // A chance top of three alike.
    [Fact]
    public void One_top_is_none() => Assert.Empty(Find(angle => (angle / (2 * Math.PI)) is >= 10 and < 11 ? Math.Clamp(10 * Math.Sin(angle), -7, 9) : 7 * Math.Sin(angle + 0.01)));

    [Fact]
    public void What_is_cut_by_less_than_a_fiftieth_is_let_go() => Assert.Empty(Find(angle => Math.Clamp(10 * Math.Sin(angle), -9.95, 9.95), perCycle: 512));

    // Three samples about each top round to the same step.
    [Fact]
    public void A_sine_whose_tops_round_to_one_step_is_not_cut() => Assert.Empty(Find(angle => 10 * Math.Sin(angle), step: 0.09));

    [Fact]
    public void A_top_of_eighty_steps_is_no_end_of_a_range() => Assert.Empty(Find(angle => Math.Clamp(10 * Math.Sin(angle), -8, 8), step: 0.1));

    [Fact]
    public void Few_tops_below_others_that_are_whole_are_no_end_of_a_range() =>
        Assert.Empty(Find(angle => Math.Clamp(10 * Math.Sin(angle), -99, (angle / (2 * Math.PI)) is >= 10 and < 13 ? 9 : 99)));

    [Fact]
    public void Samples_that_do_not_move_are_at_the_end_of_the_range_where_nothing_goes_further()
    {
        var tops = Taken(angle => (angle / (2 * Math.PI)) is >= 10 and < 12 ? 12 : (angle / (2 * Math.PI)) is >= 20 and < 24 ? 5 : 10 * Math.Sin(angle), 50, 0.001);
        Assert.Equal([(20 * HalfTicks, 24 * HalfTicks, true), (40 * HalfTicks, 48 * HalfTicks, false)], tops.ToStill().Select(still => (still.Stretch.From, still.Stretch.To, still.IsAtEnd)));
    }

    [Fact]
    public void An_input_that_reads_nothing_is_not_stuck() => Assert.Empty(Taken(angle => angle < 60 ? 10 * Math.Sin(angle) : 0.1, 50, 0.001).ToStill());

    private static List<CutTops.Found> Find(Func<double, double> wave, int cycles = 50, double step = 0.001, int perCycle = PerCycle) => Taken(wave, cycles, step, perCycle).ToStretches(HalfTicks);

    private static CutTops Taken(Func<double, double> wave, int cycles, double step, int perCycle = PerCycle)
    {
        double[] samples = [.. Enumerable.Range(0, cycles * perCycle).Select(index => step * Math.Round(wave(2 * Math.PI * index / perCycle) / step))];
        var tops = new CutTops();
        for (var half = 0; (half + 2) * perCycle / 2 <= samples.Length; half++) tops.Take(samples.AsSpan(half * perCycle / 2, perCycle), half * HalfTicks, HalfTicks);
        return tops;
    }
}
