using System.Globalization;
using Leadwright.Core.Signals;
using Leadwright.Core.Signals.Flicker;
using Leadwright.Core.Signals.Lanes;
using Leadwright.Core.Signals.Spectra;
using Leadwright.Core.Signals.Steps;
using Leadwright.Core.Signals.Windows;

namespace Leadwright.Core.Tests.Signals;

/// <summary>Stage by stage against scipy on the same pseudo-random signals: tests/vectors/scipy, written by make.py there.</summary>
public sealed class ScipyVectorTests(ITestOutputHelper output)
{
    [Fact]
    public void The_transform_agrees_in_every_lane()
    {
        var transform = new LaneFft(2048);
        var numbers = Uniform(1, 2048 * Lane.Count);
        for (var index = 0; index < numbers.Length; index++) transform.Input[index] = (float)numbers[index];
        var bins = new float[1025 * 2 * Lane.Count];
        transform.Transform(bins, 1025);

        var rows = RepositoryFile.Table("vectors/scipy/transform.csv");
        Assert.Equal(8 * 65, rows.Count);
        var worst = 0.0;
        foreach (var row in rows)
        {
            var at = ((int)row.Number("bin") * 2 * Lane.Count) + (int)row.Number("lane");
            worst = Math.Max(worst, Math.Max(Math.Abs(bins[at] - row.Number("real")), Math.Abs(bins[at + Lane.Count] - row.Number("imaginary"))));
        }

        // A bin's typical size is √(2048/3) = 26.
        output.WriteLine($"worst: {worst:E2}");
        Assert.True(worst < 3e-5, $"{worst}");
    }

    [Fact]
    public void A_resampled_window_agrees_with_the_transform_of_its_own_samples()
    {
        const int Points = 2560;
        var numbers = Uniform(2, 2 * 506);
        var frames = new float[2 * Points * Lane.Count];
        for (var frame = 0; frame < 2 * Points; frame++)
        {
            var sum = 0.0;
            for (var k = 1; k < 506; k++)
            {
                var size = (k == 10 ? 325 : 8.0 / (1 + (k / 50.0))) * (1 + (0.5 * numbers[2 * k]));
                sum += size * Math.Cos((2 * Math.PI * (k * frame % Points) / Points) + (Math.PI * numbers[(2 * k) + 1]));
            }

            frames[frame * Lane.Count] = (float)sum;
        }

        // From the middle of a sample's distance on would be another window: the phases differ, sizes and powers do not.
        var meter = new WindowMeter(12800, 50, 50);
        meter.Measure(frames, 0, new WindowSpan(100.4, 100.4 + Points, 10));
        var rows = RepositoryFile.Table("vectors/scipy/window.csv");
        Assert.True(rows.Count > 100);
        var worst = 0.0;
        foreach (var row in rows)
        {
            var (quantity, order) = (row["quantity"], (int)row.Number("order"));
            var place = quantity switch
            {
                "rms" => SpectrumRow.Rms,
                "subgroup" => SpectrumRow.Subgroup(order),
                "interharmonic" => meter.Row.Interharmonic(order),
                "thd" => SpectrumRow.Thd,
                "subgroup_thd" => SpectrumRow.SubgroupThd,
                "group_thd" => SpectrumRow.GroupThd,
                _ => throw new InvalidDataException(quantity),
            };
            var error = Math.Abs((Math.Sqrt(meter.Squares[place * Lane.Count]) / row.Number("value")) - 1);
            worst = Math.Max(worst, error);
            Assert.True(error < 1e-3, string.Create(CultureInfo.InvariantCulture, $"{quantity} {order}: {error:P4}"));
        }

        output.WriteLine($"worst: {worst:P5}");
    }

    [Theory]
    [InlineData("230", FlickerLamp.Volts230)]
    [InlineData("120", FlickerLamp.Volts120)]
    public void The_flicker_sensation_of_a_restless_voltage_agrees(string lamp, FlickerLamp kind)
    {
        const int Rate = 2560;
        var steps = Uniform(3, 600);
        var meter = new FlickerMeter(Rate, 50, kind);
        var expected = RepositoryFile.Table("vectors/scipy/flicker.csv").Where(row => row["lamp_V"] == lamp).ToDictionary(row => (int)row.Number("second"), row => row.Number("pinst"));
        Assert.Equal(45, expected.Count);
        var frame = new float[Lane.Count];
        var (worst, largest) = (0.0, expected.Values.Max());
        for (var index = 0; index < 60 * Rate; index++)
        {
            frame[0] = (float)(230 * Math.Sqrt(2) * Math.Sin(2 * Math.PI * 50 * index / Rate) * (1 + (0.01 * steps[index / (Rate / 10)])));
            meter.Add(frame);
            if ((index + 1) % Rate == 0 && expected.TryGetValue((index + 1) / Rate, out var pinst)) worst = Math.Max(worst, Math.Abs(meter.Pinst(0) - pinst) / largest);
        }

        output.WriteLine($"worst: {worst:P4} of {largest:F3}");
        Assert.True(worst < 1e-3, $"{worst:P4}");
    }

    [Fact]
    public void Phasors_of_single_cycles_agree()
    {
        var numbers = Uniform(4, 4000);
        var wave = new double[4000];
        for (var index = 0; index < wave.Length; index++)
        {
            var angle = 2 * Math.PI * 50 * index / 10000.0;
            wave[index] = (325 * Math.Cos(angle + 0.4)) + (30 * Math.Cos((3 * angle) - 1)) + (20 * Math.Cos((7 * angle) + 2)) + (3 * numbers[index]);
            if (index >= 2000) wave[index] *= 0.9;
        }

        var phasors = CyclePhasors.Measure([wave], [0], Stretch.Of(new RateSegment(0, wave.Length, 10000, 0)), 50, TestContext.Current.CancellationToken);
        var rows = RepositoryFile.Table("vectors/scipy/cycle-phasors.csv");
        Assert.Equal(19, rows.Count);
        foreach (var row in rows)
        {
            var phasor = phasors[(int)row.Number("cycle")][0];
            Assert.Equal(row.Number("real"), phasor.Real, 1e-6);
            Assert.Equal(row.Number("imaginary"), phasor.Imaginary, 1e-6);
        }
    }

    [Fact]
    public void Levels_exceeded_during_a_share_of_the_time_agree()
    {
        var classes = new FlickerClassifier();
        foreach (var number in Uniform(5, 20000)) classes.Add(Math.Pow(10, 1.5 * number));
        var rows = RepositoryFile.Table("vectors/scipy/exceeded.csv");
        Assert.Equal(15, rows.Count);
        // A class is 0.14 % wide; the rarest levels are few.
        foreach (var row in rows) Assert.Equal(1, classes.Exceeded(row.Number("percent")) / row.Number("level"), 0.0015);
    }

    // The generator of make.py.
    private static double[] Uniform(uint seed, int count)
    {
        var numbers = new double[count];
        for (var index = 0; index < count; index++)
        {
            seed = unchecked((1664525 * seed) + 1013904223);
            numbers[index] = (seed / 2147483648.0) - 1;
        }

        return numbers;
    }
}
