using Leadwright.Core.Logs;
using Leadwright.Core.Studies;
using Leadwright.Core.Studies.Findings;

namespace Leadwright.Core.Tests.Studies.Findings;

public sealed class FindingTests
{
    [Fact]
    public void Findings_stand_in_the_order_of_consequence_with_value_and_time()
    {
        FindingRule[] rules =
        [
            new("small", "a", 10, "a is {value}") { Above = 1 },
            new("large", "b", 90, "b fell to {value} at {time}") { Below = 5 },
            new("silent", "a", 99, "never") { Above = 100 },
            new("absent", "c", 99, "never") { Above = 0 },
        ];
        var found = Finding.Of([new("a", 2.345, "%"), new("b", 4, "V", new DateTime(2026, 3, 2, 10, 15, 0))], [.. rules]);
        Assert.Equal(["b fell to 4 V at 2026-03-02 10:15", "a is 2.35 %"], found.Select(finding => finding.Says));
    }

    [Fact]
    public void A_day_of_totals_cannot_show_weeks_phases_events_or_harmonics()
    {
        var says = string.Join(' ', RecordLimits.Of(StudyLog.Data(900, (LogQuantity.ActivePower, LogPlace.Whole, StudyLog.Constant(96, 1))), hasEvents: false));
        foreach (var words in (string[])["1 day:", "no waveform", "No voltages", "No currents", "No harmonics", "Power was recorded as a total", "One season"])
            Assert.Contains(words, says, StringComparison.Ordinal);
    }

    [Fact]
    public void A_voltage_that_is_gone_alone_is_told_with_its_share_and_its_start()
    {
        // Of ten hours V3 reads a ghost of 6 V from the seventh on; in the second hour all three were gone, which is no lead's doing.
        double[] right = [230, 0, 230, 230, 230, 230, 230, 230, 230, 230];
        double[] lost = [230, 0, 230, 230, 230, 230, 6, 6, 6, 6];
        var data = StudyLog.Data(3600, (LogQuantity.Voltage, LogPlace.Phase1, right), (LogQuantity.Voltage, LogPlace.Phase2, right), (LogQuantity.Voltage, LogPlace.Phase3, lost));
        var metrics = StudyMetrics.Of(data, null, VoltageLevel.Of(data), [], [], []).ToList();
        var metric = Assert.Single(metrics, metric => metric.Name == "lone_dead_voltage_percent");
        Assert.Equal(40, metric.Value, 1e-9);
        Assert.Equal("V3", metric.Subject);
        Assert.Equal(data.Log.From.AddHours(6), metric.At);
        // It is told once: the lowest voltage is that of a lead that was on.
        Assert.All(metrics.Where(other => other.Name == "voltage_lowest_percent"), other => Assert.Equal(100, other.Value, 1e-9));
    }

    [Fact]
    public void A_phase_whose_power_flows_back_alone_is_told_with_its_share_and_its_start()
    {
        // Ten hours: P2 flows back from the third on; in the last two all three do, as generation makes them; in the fifth P1 is too small to have a sign.
        double[] one = [900, 900, 900, 900, 20, 900, 900, 900, -900, -900];
        double[] two = [800, 800, -800, -800, -800, -800, -800, -800, -800, -800];
        var data = StudyLog.Data(3600, (LogQuantity.ActivePower, LogPlace.Phase1, one), (LogQuantity.ActivePower, LogPlace.Phase2, two), (LogQuantity.ActivePower, LogPlace.Phase3, one));
        var metric = Assert.Single(StudyMetrics.Of(data, null, VoltageLevel.Of(data), [], [], []), metric => metric.Name == "lone_reverse_power_percent");
        Assert.Equal(100 * 5.0 / 9, metric.Value, 1e-9);
        Assert.Equal("I2", metric.Subject);
        Assert.Equal(data.Log.From.AddHours(2), metric.At);
    }

    [Fact]
    public void A_difference_stands_against_its_expanded_uncertainty()
    {
        // Days of 100, 102, 104 W and of 110, 112, 114 W: s² = 4, u² = 4/3 + 4/3, expanded 2·√(8/3) = 3.266 (by hand).
        var comparison = StudyComparison.Of(Days(100, 102, 104), Days(110, 112, 114), instrumentPercent: 0);
        var power = Assert.Single(comparison.Measures);
        Assert.True(comparison.IsByDay);
        Assert.Equal(10, power.Difference, 1e-9);
        Assert.Equal(2 * Math.Sqrt(8.0 / 3), power.Uncertainty, 1e-9);
        Assert.True(power.IsBeyondUncertainty);
        // An instrument good for 5 % of 112 W: 2·√(8/3 + 5.6²) = 11.66.
        Assert.False(StudyComparison.Of(Days(100, 102, 104), Days(110, 112, 114), 5).Measures[0].IsBeyondUncertainty);
    }

    [Fact]
    public void Too_few_samples_say_nothing()
    {
        var one = StudyLog.Data(3600, (LogQuantity.ActivePower, LogPlace.Whole, [100, 101]));
        Assert.Null(Assert.Single(StudyComparison.Of(one, one, 0.5).Measures).IsBeyondUncertainty);
    }

    private static Leadwright.Core.Studies.StudyData Days(params double[] means) =>
        StudyLog.Data(3600, (LogQuantity.ActivePower, LogPlace.Whole, [.. means.SelectMany(mean => StudyLog.Constant(24, mean))]));
}
