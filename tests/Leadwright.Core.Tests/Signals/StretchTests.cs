using Leadwright.Core.Signals;

namespace Leadwright.Core.Tests.Signals;

public sealed class StretchTests
{
    [Fact]
    public void Segments_that_follow_each_other_join_and_gaps_part_them()
    {
        RateSegment[] segments =
        [
            new(0, 48, 2400, 0), new(48, 48, 2410, 0.02), new(96, 48, 2400, 0.02 + (48 / 2410.0)),
            new(144, 48, 2400, 1), new(192, 10, 50, 1.02), new(202, 48, 2400, 1.22), new(250, 0, 2400, 1.24), new(250, 5, 0, 1.24),
        ];
        var stretches = Stretch.Join(segments, 400);
        Assert.Equal([(0, 144), (144, 48), (202, 48)], stretches.Select(stretch => (stretch.FirstIndex, stretch.Length)));
    }

    [Fact]
    public void Every_index_is_found_again_at_its_time()
    {
        var (segments, times) = FrequencyMeasurementTests.WanderingRate(40, 48, 2400, 12);
        var stretch = Assert.Single(Stretch.Join(segments, 400));
        for (var index = 0; index < times.Length; index++)
        {
            Assert.Equal(times[index], stretch.SecondsAt(index), 1e-12);
            Assert.Equal(index, stretch.IndexAt(times[index]));
        }

        Assert.Equal(times.Length, stretch.IndexAt(1e9));
        Assert.Equal(0, stretch.IndexAt(-1));
    }

    [Fact]
    public void A_part_keeps_the_times_of_its_samples()
    {
        var (segments, times) = FrequencyMeasurementTests.WanderingRate(4, 48, 2400, 12);
        var part = Stretch.Join(segments, 400)[0].Part(30, 100);
        Assert.Equal((30, 100), (part.FirstIndex, part.Length));
        for (var index = 30; index < 130; index++) Assert.Equal(times[index], part.SecondsAt(index), 1e-12);
        Assert.Throws<ArgumentOutOfRangeException>(() => part.Part(30, 101));
    }
}
