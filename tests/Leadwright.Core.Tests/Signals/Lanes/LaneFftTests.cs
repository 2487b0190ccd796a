using Leadwright.Core.Signals.Lanes;

namespace Leadwright.Core.Tests.Signals.Lanes;

public sealed class LaneFftTests
{
    // The plain sum is the oracle: X[k] = Σ x[n]·e^(−j2πkn/N).
    [Theory]
    [InlineData(8)]
    [InlineData(16)]
    [InlineData(64)]
    [InlineData(128)]
    [InlineData(512)]
    [InlineData(2048)]
    public void Transform_matches_the_plain_sum_in_every_lane(int length)
    {
        var random = new Random(length);
        var input = new float[length * Lane.Count];
        for (var index = 0; index < input.Length; index++) input[index] = (float)((random.NextDouble() - 0.5) * ((index % Lane.Count) + 1));
        var transform = new LaneFft(length);
        input.CopyTo(transform.Input);
        var count = (length / 2) + 1;
        var bins = new float[count * 2 * Lane.Count];
        transform.Transform(bins, count);

        for (var lane = 0; lane < Lane.Count; lane++)
        {
            for (var k = 0; k < count; k += Math.Max(1, count / 40))
            {
                double real = 0, imaginary = 0;
                for (var n = 0; n < length; n++)
                {
                    var (sine, cosine) = Math.SinCos(-2 * Math.PI * ((long)k * n % length) / length);
                    real += input[(n * Lane.Count) + lane] * cosine;
                    imaginary += input[(n * Lane.Count) + lane] * sine;
                }

                var tolerance = 3e-7 * Math.Sqrt(length) * (lane + 1);
                Assert.Equal(real, bins[(2 * k * Lane.Count) + lane], tolerance);
                Assert.Equal(imaginary, bins[(((2 * k) + 1) * Lane.Count) + lane], tolerance);
            }
        }
    }

    [Fact]
    public void A_missing_value_spoils_its_own_lane_alone()
    {
        var transform = new LaneFft(64);
        transform.Input.Fill(1);
        transform.Input[(5 * Lane.Count) + 2] = float.NaN;
        var bins = new float[33 * 2 * Lane.Count];
        transform.Transform(bins, 33);
        Assert.True(float.IsNaN(bins[2]));
        Assert.Equal(64, bins[1], 4);
        Assert.Equal(64, bins[3], 4);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(4)]
    [InlineData(100)]
    public void Lengths_that_are_no_power_of_two_are_refused(int length) =>
        Assert.Contains("power of two", Assert.Throws<ArgumentOutOfRangeException>(() => new LaneFft(length)).Message, StringComparison.Ordinal);
}
