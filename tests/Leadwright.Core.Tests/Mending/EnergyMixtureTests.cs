using Leadwright.Core.Mending.Answers;

namespace Leadwright.Core.Tests.Mending;

/// <summary>The distribution of an energy, against what follows from its definition.</summary>
public sealed class EnergyMixtureTests
{
    [Fact]
    public void A_normal_error_alone_gives_the_normal_quantiles()
    {
        var mixture = new EnergyMixture(1000);
        mixture.AddError(10, double.PositiveInfinity, 0.95);
        // 1.959964: the 97.5th percentile of the normal law, any table.
        Assert.Equal(1000 + 19.59964, mixture.Quantile(0.975), 0.01);
        Assert.Equal(1000 - 19.59964, mixture.Quantile(0.025), 0.01);
    }

    [Fact]
    public void An_interval_grows_smoothly_with_the_probability_of_another_hookup()
    {
        var last = 1000.0;
        for (var probability = 0.02; probability < 0.5; probability += 0.001)
        {
            var mixture = new EnergyMixture(1000);
            mixture.AddError(2, double.PositiveInfinity, 0.95);
            mixture.AddWays([(probability, 500)]);
            var high = mixture.Quantile(0.975);
            Assert.True(high >= last - 1e-6, $"it shrank at {probability}");
            if (last > 1000) Assert.True(high - last < 0.55 * 500, $"it leapt by {high - last} at {probability}");
            last = high;
        }

        // Likely enough, the other energy itself lies inside; too unlikely, it does not widen anything.
        Assert.InRange(last, 1500, 1540);
        var sure = new EnergyMixture(1000);
        sure.AddError(2, double.PositiveInfinity, 0.95);
        sure.AddWays([(0.01, 500)]);
        Assert.InRange(sure.Quantile(0.975), 1003, 1010);
    }

    [Fact]
    public void Many_open_questions_are_joined_without_losing_the_mean()
    {
        var mixture = new EnergyMixture(0);
        for (var way = 0; way < 12; way++) mixture.AddWays([(0.3, 100 + way)]);
        // Twelve coins of 0.3 with changes of 100 to 111, each spread with a mean of 0.75 · 1.06 of itself; the distribution is near symmetric by then.
        var mean = 0.3 * Enumerable.Range(0, 12).Sum(way => 100.0 + way) * 0.75 * 1.06;
        Assert.InRange(mixture.Quantile(0.5), mean - 40, mean + 40);
        Assert.InRange(mixture.Quantile(0.999), mean + 200, 1400);
    }
}
