using Leadwright.Core.Signals.Lanes;
using Leadwright.Formats.Comtrade;
using Leadwright.Formats.Sampling;

namespace Leadwright.Formats.Tests.Sampling;

/// <summary>Reading block by block gives what reading the whole gives, on records that others published (tests/data/README.md).</summary>
public sealed class ComtradeSourceTests
{
    [Theory]
    [InlineData("comtrade/substation/xtz", 7)]
    [InlineData("comtrade/substation/xtz", 1000)]
    [InlineData("comtrade/basic/sample_bin", 8192)]
    [InlineData("comtrade/relay-a/1", 64)]
    public void Frames_are_the_samples_of_the_whole_record(string record, int block)
    {
        var (cfg, dat) = (TestData.File(record + ".cfg"), TestData.File(record + ".dat"));
        var whole = ComtradeReader.Read(cfg, dat);
        using var source = ComtradeSource.TryOpen(cfg, dat.Name, new MemoryStream(dat.Bytes.ToArray()), dat.Bytes.Length);
        if (source is null)
        {
            // Text, or several rates: such records are read whole.
            Assert.True(whole.Configuration.DataType == ComtradeDataType.Ascii || whole.Configuration.Rates.Length != 1);
            return;
        }

        var channels = whole.Recording.Channels;
        var choice = LaneChoice.Empty.With(1, 0, isTurned: false).With(6, channels.Length - 1, isTurned: true);
        source.Choose(choice);
        var frames = new float[block * Lane.Count];
        var at = 0;
        while (true)
        {
            var count = source.Read(frames);
            if (count == 0 && source.NextSegmentSeconds is null) break;
            for (var index = 0; index < count; index++, at++)
            {
                Assert.Equal((float)channels[0].Samples.Span[at], frames[(index * Lane.Count) + 1], Tolerance(channels[0].Samples.Span[at]));
                Assert.Equal(-(float)channels[^1].Samples.Span[at], frames[(index * Lane.Count) + 6], Tolerance(channels[^1].Samples.Span[at]));
                Assert.Equal(0, frames[index * Lane.Count]);
            }
        }

        Assert.Equal(channels[0].Samples.Length, at);
        Assert.Equal(whole.Recording.LineFrequencyHertz, source.LineFrequencyHertz);
        Assert.Equal(whole.Recording.Start, source.Start);
    }

    [Fact]
    public void Missing_samples_are_no_numbers()
    {
        var (cfg, dat) = (TestData.File("comtrade/basic/sample_bin.cfg"), TestData.File("comtrade/basic/sample_bin_missing.dat"));
        using var source = ComtradeSource.TryOpen(cfg, dat.Name, new MemoryStream(dat.Bytes.ToArray()), dat.Bytes.Length)!;
        source.Choose(LaneChoice.Empty.With(0, 0, false).With(1, 1, false).With(2, 2, false).With(3, 3, false));
        var frames = new float[10 * Lane.Count];
        Assert.Equal(5, source.Read(frames));
        // 0x8000 in VA of sample 1, VB of 2, VC of 3, VN of 4.
        for (var sample = 0; sample < 5; sample++)
        {
            for (var lane = 0; lane < 4; lane++) Assert.Equal(lane == sample, float.IsNaN(frames[(sample * Lane.Count) + lane]));
        }
    }

    [Fact]
    public void Data_that_is_cut_short_is_refused()
    {
        var cfg = TestData.File("comtrade/basic/sample_bin.cfg");
        var failure = Assert.Throws<FormatReadException>(() => ComtradeSource.TryOpen(cfg, "x.dat", new MemoryStream(new byte[5]), 5));
        Assert.Contains("cut short", failure.Message, StringComparison.Ordinal);
    }

    private static double Tolerance(double value) => 2e-6 * Math.Abs(value) + 1e-6;
}
