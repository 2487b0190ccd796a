using Leadwright.Core.Circuits;
using Leadwright.Core.Signals;
using Leadwright.Core.Signals.Steps;

namespace Leadwright.Core.Tests.Signals.Steps;

public sealed class CyclePhasorsTests
{
    [Theory]
    [InlineData(50, 3200)]
    [InlineData(49.63, 3200)]
    [InlineData(60.21, 7680)]
    [InlineData(50.1, 1000)]
    public void Every_cycle_gives_the_fundamental_whatever_rides_on_it(double hertz, double rate)
    {
        // Zeros of the Hann window: direct component and harmonics leave no trace (F. J. Harris, Proc. IEEE 66 (1978) 51).
        var wave = new TestWave(hertz, (1, 230, 17), (2, 10, 5), (3, 25, 40), (5, 14, -70), (7, 9, 120)).Samples(4000, rate);
        for (var index = 0; index < wave.Length; index++) wave[index] += 12;
        var phasors = Measure(wave, rate, hertz);

        for (var cycle = 0; cycle < phasors.Count; cycle++)
        {
            Assert.Equal(230, phasors[cycle][0].Magnitude, 0.02);
            Assert.True(TestWave.AngleError(phasors[cycle][0], 17) < 0.01, $"cycle {cycle}: {phasors[cycle][0]}");
        }
    }

    [Fact]
    public void A_missing_sample_spoils_only_the_windows_that_hold_it()
    {
        var wave = new TestWave(50, (1, 230, 0)).Samples(3200, 3200);
        wave[640] = double.NaN;
        var phasors = Measure(wave, 3200, 50);
        var spoilt = Enumerable.Range(0, phasors.Count).Where(cycle => double.IsNaN(phasors[cycle][0].Real)).ToArray();
        Assert.Equal([9, 10], spoilt);
    }

    [Fact]
    public void A_table_of_half_a_cycle_is_refused() =>
        Assert.Contains("whole cycles", Assert.Throws<ArgumentException>(() => CyclePhasors.Of(new Phasor[5], 2, 0, 50)).Message, StringComparison.Ordinal);

    private static CyclePhasors Measure(double[] wave, double rate, double hertz) => CyclePhasors.Measure(
        [wave], [0], Stretch.Of(new RateSegment(0, wave.Length, rate, 0)), hertz, TestContext.Current.CancellationToken);
}
