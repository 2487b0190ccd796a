using Leadwright.Core.Mending.Answers;
using Leadwright.Core.Mending.Maps;
using Leadwright.Core.Mending.Models;

namespace Leadwright.Core.Tests.Mending;

public sealed class BeyondRangeTests
{
    // Two lines carry 1, 2, 3 … 100 A; the first clamp shows no more than 50 A, and stood there for 51 slots of 50 A: 2,550 ampere-slots shown, 1,275 (1 + 2 + … + 50) not.
    [Fact]
    public void What_was_cut_off_goes_as_far_as_the_other_line_goes()
    {
        // By the other line 60 × 70.5 − 2,955 = 1,275, what it truly was. By the tail 0.8 × 30 A × 51 = 1,224. The first is believed by 0.531²/(0.531² + 0.15²) = 0.926: 1,271 of 2,550.
        Assert.Equal(0.4985, Of(Cut(), 2).Excess(1), 0.001);
        Assert.Equal(0.2493, Of(Cut(), 2).Excess(0.5), 0.001);
    }

    // Half of 76 values above half of the range were cut off: the range lies amid them, and 0.8 × 30 A of 50 are put in for each; truly it was half.
    [Fact]
    public void Without_another_line_the_tail_below_the_range_tells() => Assert.Equal(0.48, Of(Cut(), 1).Excess(1), 0.001);

    // Of 51 values above 49 A five were cut off, those over 95: loads end, and a third of a short tail is put in. Truly it was 2.6 of 95 in the mean.
    [Fact]
    public void Beyond_a_range_that_only_the_peaks_reach_little_is_put_in()
    {
        var lines = Cut(95);
        Assert.InRange(Of(lines, 1).Excess(1), 0.02, 0.12);
    }

    // In the second half of the recording the same clamp could show all: 1 to 100 A, above 50 A (and three hundredths) 76 in the mean, half as much again.
    [Fact]
    public void What_the_clamp_itself_showed_at_other_times_tells()
    {
        var lines = new LineSeries(200);
        for (var slot = 0; slot < 200; slot++)
        {
            var flowed = (slot % 100) + 1;
            lines.Amperes[0][slot] = slot < 100 ? Math.Min(50, flowed) : flowed;
            lines.ClipShares[0][slot] = slot < 100 && flowed >= 50 ? 1 : 0;
        }

        Assert.Equal(0.52, Of(lines, 1).Excess(1), 0.01);
    }

    [Fact]
    public void A_line_that_lives_another_way_tells_nothing()
    {
        var lines = Cut();
        // Idle but for its largest values: below them it has sunk by another 3.7 of a logarithm.
        for (var slot = 0; slot < 40; slot++) lines.Amperes[1][slot] = 0.25;
        Assert.Equal(0.48, Of(lines, 2).Excess(1), 0.001);
    }

    [Fact]
    public void A_part_known_by_its_order_only_is_next_to_nothing_or_four_times_as_much()
    {
        var mixture = new EnergyMixture(1000);
        mixture.AddFactor(100, 0.7);
        Assert.Equal(1000, mixture.Quantile(0.5), 3.0);
        // 900 + 100 × 2 × 0.025, and 900 + 100 × e^(0.7 × 1.96) = 1,294; in steps of a sixty-fourth.
        Assert.InRange(mixture.Quantile(0.025), 900, 908);
        Assert.InRange(mixture.Quantile(0.975), 1255, 1345);
    }

    [Fact]
    public void What_lies_beyond_is_off_by_a_tenth_more_than_itself_in_all_parts_of_a_hole_alike()
    {
        var hole = new FilledHole(default, [1, 2, 3, 4], 100, 6, 30, 0, true) { Beyond = 10 };
        // A spread of 0.7 makes 1.086 (worked out apart): √(6² + 10.86²), and a quarter of the hole: √(6²/4 + (10.86/4)²).
        Assert.Equal(12.41, hole.Deviation(1), 0.01);
        Assert.Equal(4.05, hole.Deviation(0.25), 0.01);
    }

    private static BeyondRange Of(LineSeries lines, int count) => new(lines, count, 0, slot => slot % 24);

    private static LineSeries Cut(int range = 50)
    {
        var lines = new LineSeries(100);
        for (var slot = 0; slot < 100; slot++)
        {
            lines.Amperes[0][slot] = Math.Min(range, slot + 1);
            lines.ClipShares[0][slot] = slot + 1 >= range ? 1 : 0;
            lines.Amperes[1][slot] = slot + 1;
        }

        return lines;
    }
}
