using Leadwright.Core.Signals.Flicker;

namespace Leadwright.Core.Tests.Signals.Flicker;

/// <summary>The further tests of IEC 61000-4-15 Ed. 2 (recalled, and confirmed by an independent simulation; tests/vectors/flicker/README.md).</summary>
public sealed class FlickerFurtherTests(ITestOutputHelper output)
{
    private const double RateHertz = 12000;

    [Theory]
    [InlineData("230", 50, 0.250)]
    [InlineData("230", 60, 0.250)]
    [InlineData("120", 50, 0.321)]
    [InlineData("120", 60, 0.321)]
    public void A_distorted_supply_with_many_zero_crossings_changes_nothing(string lamp, int line, double depth)
    {
        (int Order, double Percent)[] harmonics =
            [(3, 5), (5, 6), (7, 5), (9, 1.5), (11, 3.5), (13, 3), (17, 2), (19, 1.76), (23, 1.41), (25, 1.27), (29, 1.06), (31, 0.97)];
        var wave = new FlickerWave(RateHertz, line)
        {
            Envelopes = [FlickerWave.Sinusoidal(8.8, depth)],
            Carrier = angle => Math.Sin(angle) - harmonics.Sum(part => part.Percent / 100 * Math.Sin(part.Order * angle)),
        };
        var meter = MeterOf(lamp, line);
        wave.Feed(meter, 60);
        meter.ClearLargest();
        wave.Feed(meter, 12);
        output.WriteLine($"{lamp} V, {line} Hz: Pinst {meter.Largest(0):F4}");
        Assert.Equal(1, meter.Largest(0), 0.02);
    }

    // 28 Hz rectangle during 12 of every 60 s.
    [Theory]
    [InlineData("230", 50, 1.420)]
    [InlineData("230", 60, 1.483)]
    [InlineData("120", 50, 2.021)]
    [InlineData("120", 60, 2.132)]
    public void Flicker_for_a_fifth_of_the_time_has_the_depth_of_the_standard(string lamp, int line, double duty)
    {
        var rectangle = FlickerWave.Rectangular(28, duty);
        var wave = new FlickerWave(RateHertz, line) { Envelopes = [time => time % 60 < 12 ? rectangle(time) : 1] };
        var meter = MeterOf(lamp, line);
        wave.Feed(meter, 120);
        meter.ClearClasses();
        wave.Feed(meter, 600);
        output.WriteLine($"{lamp} V, {line} Hz: Pst {meter.Classes(0).Pst():F4}");
        Assert.Equal(1, meter.Classes(0).Pst(), 0.01);
    }

    // At 1, 3, 5, 7 and 9 minutes the phase jumps by 30 degrees, to and fro; either sign first.
    [Theory]
    [InlineData("230", 50, 0.912)]
    [InlineData("230", 60, 0.759)]
    [InlineData("120", 50, 0.705)]
    [InlineData("120", 60, 0.586)]
    public void Phase_jumps_flicker_as_the_standard_says(string lamp, int line, double jumps)
    {
        var sum = 0.0;
        foreach (var sign in new[] { 1, -1 })
        {
            var wave = new FlickerWave(RateHertz, line)
            {
                Envelopes = [_ => 1],
                Phase = time => sign * Math.PI / 6 * ((int)Math.Floor((time - 120 + 60) / 120) % 2),
            };
            var meter = MeterOf(lamp, line);
            wave.Feed(meter, 120);
            meter.ClearClasses();
            wave.Feed(meter, 600);
            sum += meter.Classes(0).Pst() / 2;
        }

        output.WriteLine($"{lamp} V, {line} Hz: Pst {sum:F4}, expected {jumps}");
        Assert.True(Math.Abs((sum / jumps) - 1) < 0.05, $"{sum:F4}");
    }

    // Constant Pinst = 1 gives √0.5096 (sum of the coefficients; derived).
    [Fact]
    public void A_constant_sensation_of_one_gives_the_root_of_the_sum_of_coefficients()
    {
        var classes = new FlickerClassifier();
        for (var index = 0; index < 10000; index++) classes.Add(1);
        Assert.Equal(Math.Sqrt(0.5096), classes.Pst(), 0.0008);
        Assert.Equal(1, FlickerClassifier.Plt([1, 1, 1]), 12);
        Assert.Equal(Math.Cbrt(3), FlickerClassifier.Plt([1, 2, 0, 3]) / Math.Cbrt(3), 12);
    }

    [Theory]
    [InlineData(3200)]
    [InlineData(6400)]
    [InlineData(10240)]
    [InlineData(25600)]
    public void Every_usual_rate_reaches_one_at_the_definition(double rate)
    {
        var wave = new FlickerWave(rate, 50) { Envelopes = [FlickerWave.Sinusoidal(8.8, 0.25), FlickerWave.Sinusoidal(25, 1.037), FlickerWave.Sinusoidal(1.5, 1.067)] };
        var meter = new FlickerMeter(rate, 50, FlickerLamp.Volts230);
        wave.Feed(meter, 60);
        meter.ClearLargest();
        wave.Feed(meter, 12);
        Assert.Equal(1, meter.Largest(0), 0.02);
        Assert.Equal(1, meter.Largest(1), 0.03);
        Assert.Equal(1, meter.Largest(2), 0.03);
    }

    private static FlickerMeter MeterOf(string lamp, int line) =>
        new(RateHertz, line, lamp == "230" ? FlickerLamp.Volts230 : FlickerLamp.Volts120);
}
