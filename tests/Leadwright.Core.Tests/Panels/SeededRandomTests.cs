using Leadwright.Core.Panels;

namespace Leadwright.Core.Tests.Panels;

public class SeededRandomTests
{
    [Fact]
    public void SplitMix64_gives_the_published_numbers()
    {
        // Test numbers of the public-domain reference program splitmix64.c (S. Vigna) for the state 1234567, from memory.
        ulong[] expected =
        [
            6457827717110365317, 3203168211198807973, 9817491932198370423, 4593380528125082431, 16408922859458223821,
        ];
        ulong state = 1234567;
        Assert.All(expected, number => Assert.Equal(number, SeededRandom.SplitMix64(ref state)));
    }

    [Fact]
    public void The_generator_gives_the_published_numbers()
    {
        // First numbers of the public-domain reference program xoshiro256starstar.c (D. Blackman, S. Vigna) for the state
        // 1, 2, 3, 4, from memory.
        ulong[] expected = [11520, 0, 1509978240, 1215971899390074240, 1216172134540287360, 607988272756665600];
        var random = SeededRandom.FromState(1, 2, 3, 4);
        Assert.All(expected, number => Assert.Equal(number, random.NextBits()));
    }

    [Fact]
    public void Gaussian_has_the_moments_and_tails_of_the_normal_distribution()
    {
        var random = new SeededRandom(7);
        const int Count = 200_000;
        var values = Enumerable.Range(0, Count).Select(_ => random.Gaussian()).ToArray();

        // Bounds are five standard errors: 1/sqrt n, sqrt(2/n), sqrt(96/n); tail share 2(1 - Φ(2)) = 0.0455 (tables of the normal distribution).
        Assert.Equal(0, values.Average(), 5 / Math.Sqrt(Count));
        Assert.Equal(1, values.Average(value => value * value), 5 * Math.Sqrt(2.0 / Count));
        Assert.Equal(3, values.Average(value => value * value * value * value), 5 * Math.Sqrt(96.0 / Count));
        Assert.Equal(0.0455, values.Count(value => Math.Abs(value) > 2) / (double)Count, 0.0025);
    }

    [Fact]
    public void Below_gives_every_number_about_equally_often_and_none_outside()
    {
        var random = new SeededRandom(3);
        var counts = new int[7];
        for (var draw = 0; draw < 70_000; draw++) counts[random.Below(7)]++;
        Assert.All(counts, count => Assert.InRange(count, 9_500, 10_500));
        Assert.Throws<ArgumentOutOfRangeException>(() => random.Below(0));
    }

    [Fact]
    public void A_fork_does_not_depend_on_how_much_was_drawn()
    {
        var (fresh, used) = (new SeededRandom(5), new SeededRandom(5));
        for (var draw = 0; draw < 10; draw++) used.NextBits();
        Assert.Equal(fresh.Fork(2).NextBits(), used.Fork(2).NextBits());
        Assert.NotEqual(fresh.Fork(2).NextBits(), fresh.Fork(3).NextBits());
    }

    [Fact]
    public void A_state_of_zeros_is_refused() =>
        Assert.Contains("four words", Assert.Throws<ArgumentException>(() => SeededRandom.FromState(0, 0, 0, 0)).Message, StringComparison.Ordinal);
}
