using Leadwright.Core.Mending.Answers;
using Leadwright.Core.Mending.Models;
using Leadwright.Core.Panels;

namespace Leadwright.Core.Tests.Mending;

/// <summary>The small models that mending is made of, each against what a handbook or a closed form says.</summary>
public sealed class ModelTests
{
    // Upper 2.5 % points of Student's law: NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.2.
    [Theory]
    [InlineData(5, 2.571)]
    [InlineData(10, 2.228)]
    [InlineData(20, 2.086)]
    [InlineData(30, 2.042)]
    [InlineData(60, 2.000)]
    public void Students_law_is_that_of_the_tables(double freedom, double quantile) =>
        Assert.Equal(quantile, EnergyMixture.StudentQuantile(EnergyMixture.NormalQuantile(0.975), freedom), 0.004);

    // The same handbook, 1.3.6.7.1: 1.645, 1.960 and 2.576 leave 5, 2.5 and 0.5 % above.
    [Theory]
    [InlineData(1.645, 0.95)]
    [InlineData(1.960, 0.975)]
    [InlineData(2.576, 0.995)]
    public void The_normal_law_is_that_of_the_tables(double value, double share)
    {
        Assert.Equal(share, EnergyMixture.Normal(value), 1e-4);
        Assert.Equal(1 - share, EnergyMixture.Normal(-value), 1e-4);
        Assert.Equal(value, EnergyMixture.NormalQuantile(share), 6e-4);
    }

    [Fact]
    public void Least_squares_finds_the_coefficients_and_a_penalty_shrinks_them_by_as_much_as_it_says()
    {
        var random = new SeededRandom(5);
        var (exact, one) = (new Ridge(3), new Ridge(1));
        for (var row = 0; row < 50; row++)
        {
            double[] features = [1, random.Gaussian(), random.Uniform(0, 10)];
            exact.Add(features, 2 - (3 * features[1]) + (0.5 * features[2]), random.Uniform(0.2, 3));
            one.Add([features[2]], 4 * features[2]);
        }

        Assert.Equal(50, exact.Count);
        var found = exact.Solve(0);
        Assert.Equal(2, found[0], 1e-8);
        Assert.Equal(-3, found[1], 1e-8);
        Assert.Equal(0.5, found[2], 1e-8);
        // (1 + λ) Σx² b = Σxy.
        Assert.Equal(4 / 1.25, one.Solve(0.25)[0], 1e-9);
        Assert.Equal([0, 0], new Ridge(2).Solve());
    }

    [Fact]
    public void A_row_of_a_greater_weight_draws_the_fit_to_itself()
    {
        // One constant through 10 (weight 3) and 20 (weight 1).
        var fit = new Ridge(1);
        fit.Add([1], 10, 3);
        fit.Add([1], 20);
        Assert.Equal(12.5, fit.Solve(0)[0], 1e-9);
    }

    [Fact]
    public void A_half_hour_has_the_mean_of_its_kind_of_day_and_little_of_its_neighbours()
    {
        // Workdays 100 W, 300 W from 12:00 to 12:30; days off 40 W.
        var (values, bins) = Week(day => day < 5 ? 100 : 40);
        for (var day = 0; day < 5; day++) values[(day * DayProfile.Bins) + 24] = 300;
        var profile = DayProfile.Learn(values, bins, []);
        Assert.Equal(100, profile[3], 1e-9);
        Assert.Equal(40, profile[DayProfile.Bins + 24], 1e-9);
        // A neighbour counts 0.35 against 1: (300 + 0.35·100 + 0.35·100)/1.7, and (100 + 0.35·300 + 0.35·100)/1.7.
        Assert.Equal(370 / 1.7, profile[24], 1e-9);
        Assert.Equal(240 / 1.7, profile[23], 1e-9);
        Assert.Equal(240 / 1.7, profile[25], 1e-9);
    }

    [Fact]
    public void The_day_closes_on_itself()
    {
        var (values, bins) = Week(_ => 100);
        for (var day = 0; day < 5; day++) values[day * DayProfile.Bins] = 300;
        Assert.Equal(240 / 1.7, DayProfile.Learn(values, bins, [])[DayProfile.Bins - 1], 1e-9);
    }

    [Fact]
    public void A_kind_of_day_that_was_not_seen_takes_the_other_scaled_by_how_they_compare()
    {
        // Days off are a third of workdays by day; their nights were never seen, nor were workdays' mornings.
        var (values, bins) = Week(day => day < 5 ? 90 : 30);
        for (var slot = 0; slot < values.Length; slot++)
        {
            var bin = bins[slot] % DayProfile.Bins;
            if ((bins[slot] >= DayProfile.Bins && bin < 10) || (bins[slot] < DayProfile.Bins && bin is >= 20 and < 30)) values[slot] = double.NaN;
        }

        var profile = DayProfile.Learn(values, bins, []);
        Assert.Equal(30, profile[DayProfile.Bins + 4], 1e-9);
        Assert.Equal(90, profile[25], 1e-9);
    }

    [Fact]
    public void With_workdays_alone_a_day_off_is_taken_for_one_and_with_nothing_it_is_nothing()
    {
        var (values, bins) = Week(day => day < 5 ? 90 : double.NaN);
        Assert.Equal(90, DayProfile.Learn(values, bins, [])[DayProfile.Bins + 7], 1e-9);
        Assert.Equal(0, DayProfile.Learn([double.NaN], [0], [])[0]);
    }

    [Fact]
    public void What_is_hidden_teaches_nothing()
    {
        var (values, bins) = Week(_ => 100);
        var isHidden = new bool[values.Length];
        for (var slot = 0; slot < DayProfile.Bins; slot++) (values[slot], isHidden[slot]) = (9999, true);
        Assert.Equal(100, DayProfile.Learn(values, bins, isHidden)[12], 1e-9);
    }

    [Fact]
    public void Half_hours_are_counted_from_midnight_and_days_off_stand_after_workdays()
    {
        Assert.Equal(25, DayProfile.BinOf(new DateTime(2026, 3, 2, 12, 59, 59).Ticks));
        Assert.Equal(DayProfile.Bins, DayProfile.BinOf(new DateTime(2026, 3, 7).Ticks));
        Assert.Equal((2 * DayProfile.Bins) - 1, DayProfile.BinOf(new DateTime(2026, 3, 8, 23, 59, 0).Ticks));
    }

    [Fact]
    public void What_the_ends_of_a_hole_read_beyond_goes_on_into_it_as_their_correlation_has_it()
    {
        // An autoregression of ρ = 0.9, and a hole of nine slots whose ends both read 5 beyond.
        var random = new SeededRandom(6);
        var residuals = new double[4000];
        for (var slot = 1; slot < residuals.Length; slot++) residuals[slot] = (0.9 * residuals[slot - 1]) + random.Gaussian();
        for (var slot = 2000; slot < 2009; slot++) residuals[slot] = double.NaN;
        foreach (var slot in (int[])[1997, 1998, 1999, 2009, 2010, 2011]) residuals[slot] = 5;
        var bridge = new ResidualBridge(residuals);
        // The conditional mean of a Gauss-Markov course between two known ends (textbook): Σ m ρ^a (1 - ρ^2b) / (1 - ρ^2(a+b)).
        foreach (var (slot, a, b) in ((int, int, int)[])[(2000, 1, 9), (2004, 5, 5), (2007, 8, 2)])
        {
            double Power(int exponent) => Math.Pow(0.9, exponent);
            var wanted = 5 * ((Power(a) * (1 - Power(2 * b))) + (Power(b) * (1 - Power(2 * a)))) / (1 - Power(2 * (a + b)));
            Assert.Equal(wanted, bridge.At(slot), 0.35);
        }
    }

    [Fact]
    public void From_one_end_alone_it_dies_away_and_noise_is_not_carried_at_all()
    {
        var random = new SeededRandom(7);
        var (lasting, noise) = (new double[3000], new double[3000]);
        for (var slot = 1; slot < lasting.Length; slot++)
        {
            lasting[slot] = (0.8 * lasting[slot - 1]) + random.Gaussian();
            noise[slot] = random.Gaussian();
        }

        for (var slot = 2900; slot < 3000; slot++) (lasting[slot], noise[slot]) = (double.NaN, double.NaN);
        for (var slot = 2897; slot < 2900; slot++) (lasting[slot], noise[slot]) = (4, 4);
        var bridge = new ResidualBridge(lasting);
        Assert.Equal(4 * 0.8, bridge.At(2900), 0.3);
        Assert.Equal(0.8, bridge.At(2905) / bridge.At(2904), 0.05);
        Assert.Equal(0, bridge.At(2990), 0.01);
        Assert.InRange(Math.Abs(new ResidualBridge(noise).At(2901)), 0, 0.3);
        Assert.Equal(0, new ResidualBridge([double.NaN, 1]).At(0));
    }

    // A week of half hours from a Monday.
    private static (double[] Values, short[] Bins) Week(Func<int, double> watts)
    {
        var start = new DateTime(2026, 3, 2).Ticks;
        var slots = Enumerable.Range(0, 7 * DayProfile.Bins).ToArray();
        return ([.. slots.Select(slot => watts(slot / DayProfile.Bins))], [.. slots.Select(slot => (short)DayProfile.BinOf(start + (slot * TimeSpan.TicksPerMinute * 30)))]);
    }
}
