using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups.Steps;

namespace Leadwright.Core.Tests.Hookups.Waves;

public sealed class SourceFitTests
{
    private const double Largest = 10;

    [Fact]
    public void Two_impedances_that_answer_for_one_another_are_fitted_together()
    {
        // Without limits the first comes out as 3 and the second as -2: cut off at nothing the first alone would be far too large.
        Phasor[] grams = Real(1, 0.9, 0.9, 1), projection = Real(1.2, 0.7), impedances = Real(3, -2);
        SourceFit.HoldToLimits(impedances, grams, projection, 0, Largest);
        Assert.Equal(1.2, impedances[0].Real, 9);
        Assert.Equal(0, impedances[1].Magnitude, 9);
    }

    [Fact]
    public void What_is_within_the_limits_stays()
    {
        Phasor[] impedances = [new Phasor(2, 1), new Phasor(1, 3)];
        var turn = new Phasor(0.3, 0.2);
        Phasor[] grams = [new Phasor(2, 0), turn, turn.Conjugate, new Phasor(3, 0)];
        Phasor[] projection = [(2 * impedances[0]) + (turn * impedances[1]), (turn.Conjugate * impedances[0]) + (3 * impedances[1])];
        Phasor[] held = [.. impedances];
        SourceFit.HoldToLimits(held, grams, projection, 0, Largest);
        for (var index = 0; index < held.Length; index++) Assert.Equal(0, (held[index] - impedances[index]).Magnitude, 9);
    }

    [Fact]
    public void From_no_impedance_on_no_fit_is_worse()
    {
        var random = new Random(7);
        for (var round = 0; round < 500; round++)
        {
            var drops = Enumerable.Range(0, 6).Select(_ => Enumerable.Range(0, 4).Select(_ => Any()).ToArray()).ToArray();
            var changes = drops.Select(_ => Any()).ToArray();
            var (grams, projection) = (new Phasor[16], new Phasor[4]);
            for (var one = 0; one < 4; one++)
            {
                projection[one] = Sum(row => drops[row][one].Conjugate * changes[row]);
                for (var other = 0; other < 4; other++) grams[(one * 4) + other] = Sum(row => drops[row][one].Conjugate * drops[row][other]);
            }

            var impedances = new Phasor[4];
            SourceFit.HoldToLimits(impedances, grams, projection, 1e-9, Largest);
            Assert.All(impedances, impedance => Assert.True(impedance is { Real: >= 0, Imaginary: >= 0 } && impedance.Magnitude <= Largest + 1e-9));
            var rest = Enumerable.Range(0, drops.Length).Sum(row => (changes[row] - Dot(drops[row], impedances)).SquaredMagnitude);
            Assert.True(rest <= changes.Sum(change => change.SquaredMagnitude) + 1e-9);

            Phasor Sum(Func<int, Phasor> of) => Enumerable.Range(0, drops.Length).Aggregate(Phasor.Zero, (sum, row) => sum + of(row));
        }

        Phasor Any() => new((2 * random.NextDouble()) - 1, (2 * random.NextDouble()) - 1);

        static Phasor Dot(Phasor[] drops, Phasor[] impedances)
        {
            var sum = Phasor.Zero;
            for (var index = 0; index < drops.Length; index++) sum += drops[index] * impedances[index];
            return sum;
        }
    }

    private static Phasor[] Real(params double[] values) => Array.ConvertAll(values, value => new Phasor(value, 0));
}
