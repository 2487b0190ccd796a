using Leadwright.Core.Logs;
using Leadwright.Core.Studies.Load;

namespace Leadwright.Core.Tests.Studies.Load;

public sealed class CapacityTests
{
    // 82.4 kW and a new 30 kW at 208 V, 0.95: 388.6 A (derived from section 220.87 by hand: 133.0 kW / (√3 · 208 V · 0.95)).
    [Theory]
    [InlineData(400, true)]
    [InlineData(350, false)]
    public void Existing_load_rule_follows_the_worked_example(double rated, bool fits)
    {
        var data = StudyLog.Data(900, (LogQuantity.ActivePower, LogPlace.Whole, [50000, 82400, 70000]));
        var found = ExistingLoad.Of(data, new FeederRating(rated) { Volts = 208, PowerFactor = 0.95, NewWatts = 30000 })!;
        Assert.Equal(388.6, found.NeededAmperes, 0.05);
        Assert.Equal(fits, found.Fits);
        Assert.False(found.IsShown);
    }

    [Fact]
    public void All_conditions_of_the_rule_can_be_met_and_each_is_told()
    {
        // 30 days are 2880 blocks of fifteen minutes.
        var data = StudyLog.Data(
            900, (LogQuantity.ActivePower, LogPlace.Whole, StudyLog.Constant(2880, 1000)),
            (LogQuantity.Current, LogPlace.Phase1, StudyLog.Constant(2880, 100)), (LogQuantity.Current, LogPlace.Phase2, StudyLog.Constant(2880, 120)),
            (LogQuantity.Current, LogPlace.Phase3, StudyLog.Constant(2880, 90)));
        var rating = new FeederRating(200)
        {
            Volts = 400, IsOccupied = true, IncludesSeasonalLoads = true, HasGeneration = false, HasPeakShaving = false, HasOvercurrentProtection = true,
        };
        var found = ExistingLoad.Of(data, rating)!;
        Assert.Equal(150, found.NeededAmperes, 1e-9);
        Assert.True(found.IsShown);
        Assert.Equal(8, found.Conditions.Length);
        Assert.Equal(ConditionState.NotMet, ExistingLoad.Of(data.Between(StudyLog.Start, StudyLog.Start.AddDays(29)), rating)!.Conditions[0].State);
    }

    [Fact]
    public void Power_that_flows_back_forbids_the_rule()
    {
        var data = StudyLog.Data(900, (LogQuantity.ActivePower, LogPlace.Whole, [1000, -1]));
        var condition = ExistingLoad.Of(data, new FeederRating(100) { Volts = 400, HasGeneration = false })!.Conditions.Single(found => found.Says.Contains("renewable", StringComparison.Ordinal));
        Assert.Equal(ConditionState.NotMet, condition.State);
    }

    [Fact]
    public void Design_current_stands_against_device_and_cable()
    {
        var data = StudyLog.Data(900, (LogQuantity.Current, LogPlace.Phase1, [60, 80]), (LogQuantity.Current, LogPlace.Phase2, [70, 75]));
        var found = DesignCurrent.Of(data, new FeederRating(100), cableAmperes: 90)!;
        Assert.Equal((80, 10, false), (found.DesignAmperes, found.SpareAmperes, found.Fits));
        Assert.True(DesignCurrent.Of(data, new FeederRating(100), 120)!.Fits);
    }

    [Theory]
    [InlineData(10, 10, 10, 0)]
    [InlineData(10, 0, 0, 10)]
    [InlineData(10, 10, 0, 10)]
    public void Neutral_of_unbalance_is_the_phasor_sum(double a, double b, double c, double neutral) =>
        Assert.Equal(neutral, PhaseLoading.NeutralOfUnbalance(a, b, c), 1e-9);

    // Textbook: 100 kW from 0.70 to 0.95: 100·(1.0202 − 0.3287) = 69.2 kvar.
    [Fact]
    public void Capacitor_follows_the_textbook_formula()
    {
        var vars = 100e3 * Math.Tan(Math.Acos(0.7));
        var found = PowerFactorStudy.Of(StudyLog.Series(900, 100e3, 100e3), StudyLog.Series(900, vars, vars), 0.95)!;
        Assert.Equal(69.15e3, found.AverageVars, 5.0);
        Assert.Equal(found.AverageVars, found.PeakVars, 1e-6);
        Assert.Equal(0.7, found.EnergyFactor, 1e-9);
        Assert.Equal(1, found.BelowShare);
    }

    // 1000 kVA, 5 %: 20 MVA. 400 kvar: √50 = 7.07, right at the 7th harmonic (derived).
    [Fact]
    public void A_factor_says_for_how_much_of_the_time_reactive_power_is_known()
    {
        var vars = StudyLog.Constant(100, 500);
        vars.AsSpan(40).Fill(double.NaN);
        var data = StudyLog.Data(900, (LogQuantity.ActivePower, LogPlace.Whole, StudyLog.Constant(100, 1000)), (LogQuantity.ReactivePower, LogPlace.Whole, vars));
        var study = LoadStudy.Of(data, new LoadStudyOptions())!;
        Assert.Equal(0.4, study.PowerFactor!.KnownShare, 1e-12);
        // 40 of 100 quarters of an hour: 500 var make 5 kvarh (by hand).
        Assert.Equal(5000, study.Reactive!.ImportWattHours, 1e-9);
        Assert.Equal(0.4, study.Reactive.KnownSeconds / study.Energy.KnownSeconds, 1e-12);
        Assert.Equal(1 / Math.Sqrt(1.25), study.PowerFactor.EnergyFactor, 1e-12);
    }

    [Fact]
    public void Resonance_near_a_usual_harmonic_is_told()
    {
        var found = CapacitorResonance.Of(CapacitorResonance.ShortCircuitOf(1e6, 5), 400e3);
        Assert.Equal(Math.Sqrt(50), found.Order, 1e-12);
        Assert.Equal((7, true), (found.NearestOrder, found.IsNear));
        Assert.False(CapacitorResonance.Of(20e6, 250e3).IsNear);
    }

    // Examples E1 (published) and E2 (from memory of the standard's own) of tests/data/limits/k_factor_examples.csv.
    [Fact]
    public void K_factor_follows_the_published_examples()
    {
        var rows = RepositoryFile.Table("data/limits/k_factor_examples.csv");
        var first = TransformerHarmonics.Of(Currents(rows, "E1"), 0.15);
        Assert.Equal(8.347626, first.LossFactor, 1e-5);
        var second = TransformerHarmonics.Of(Currents(rows, "E2"), 0.15, ratedAmperes: 1);
        Assert.Equal(2.724321, second.LossFactor, 1e-5);
        Assert.Equal(1.139755, second.StrayFactor, 1e-5);
        Assert.Equal(2.7255, second.KFactor, 1e-3);
        Assert.Equal(0.9035, second.RatedShare, 1e-4);
    }

    // A third, two thirds and 2: meter-school rules, and closed forms in docs/methods/wrong-connection-effects.md.
    [Theory]
    [InlineData(333, "facing the wrong way")]
    [InlineData(660, "missing")]
    [InlineData(2040, "twice too large")]
    [InlineData(-1000, "all clamps")]
    public void A_ratio_to_the_bill_suggests_its_slip(double recorded, string words) =>
        Assert.Contains(words, new BillComparison("energy", recorded, 1000).Suggestions[0].Suggests, StringComparison.Ordinal);

    [Theory]
    [InlineData(1000)]
    [InlineData(1150)]
    public void Agreement_within_a_fifth_suggests_nothing(double recorded)
    {
        var found = new BillComparison("energy", recorded, 1000);
        Assert.True(found.Agrees);
        Assert.Empty(found.Suggestions);
    }

    private static double[] Currents(IEnumerable<IReadOnlyDictionary<string, string>> rows, string example)
    {
        var currents = new double[50];
        foreach (var row in rows.Where(row => row["example"] == example && !row["order"].StartsWith("result", StringComparison.Ordinal)))
            currents[(int)row.Number("order") - 1] = row.Number("current_pu");
        return currents;
    }
}
