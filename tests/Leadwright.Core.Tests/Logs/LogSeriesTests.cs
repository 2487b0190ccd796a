using Leadwright.Core.Logs;

namespace Leadwright.Core.Tests.Logs;

/// <summary>Powers that a log holds in another form.</summary>
public sealed class LogSeriesTests
{
    private static readonly LogColumn[] s_columns =
    [
        new("U1", LogQuantity.Voltage, LogPlace.Phase1), new("I1", LogQuantity.Current, LogPlace.Phase1), new("PF1", LogQuantity.PowerFactor, LogPlace.Phase1),
    ];

    // IEC 60050-131, 131-11-46: the power factor is active over apparent power, and that is U I (131-11-41): 230 V, 10 A at 0.8 are 1,840 W.
    [Fact]
    public void Voltage_current_and_power_factor_make_a_power()
    {
        var watts = LogSeries.ActivePower(Of([230, 230, 231], [10, 2, 5], [0.8, -0.5, double.NaN]), LogPlace.Phase1)!;
        Assert.Equal([1840, -230, double.NaN], watts);
    }

    [Fact]
    public void A_power_that_was_written_goes_before()
    {
        var log = new IntervalLog([.. s_columns, new("P1", LogQuantity.ActivePower, LogPlace.Phase1)], [0], [[230], [10], [0.8], [1800]], 60);
        Assert.Equal([1800.0], LogSeries.ActivePower(log, LogPlace.Phase1)!);
    }

    [Fact]
    public void One_of_the_three_missing_leaves_no_power()
    {
        Assert.Null(LogSeries.ActivePower(new IntervalLog([.. s_columns[..2]], [0], [[230], [10]], 60), LogPlace.Phase1));
        Assert.Null(LogSeries.ActivePower(Of([230], [10], [0.8]), LogPlace.Phase2));
    }

    // Motors with capacitors stand at 0.98 on either side of one: there a recorder writes a leading load's factor with a minus, and nothing flows back.
    [Fact]
    public void A_sign_that_comes_and_goes_near_one_is_a_leading_loads_and_no_direction()
    {
        double[] factors = [.. Enumerable.Range(0, 40).Select(row => row / 2 % 2 == 0 ? 0.98 : -0.97)], steady = [.. Enumerable.Repeat(230.0, 40)];
        Assert.Null(LogSeries.ActivePower(Of(steady, steady, factors), LogPlace.Phase1));
        // A clamp that was turned round for an hour changes it twice.
        double[] turned = [.. Enumerable.Range(0, 40).Select(row => row is > 10 and < 30 ? -0.97 : 0.98)];
        Assert.NotNull(LogSeries.ActivePower(Of(steady, steady, turned), LogPlace.Phase1));
    }

    private static IntervalLog Of(double[] volts, double[] amperes, double[] factors) =>
        new([.. s_columns], [.. Enumerable.Range(0, volts.Length).Select(row => row * 60 * TimeSpan.TicksPerSecond)], [volts, amperes, factors], 60);
}
