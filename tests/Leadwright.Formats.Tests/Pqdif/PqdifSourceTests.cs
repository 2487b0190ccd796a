using Leadwright.Core.Signals.Lanes;
using Leadwright.Formats.Pqdif;
using Leadwright.Formats.Sampling;
using static Leadwright.Formats.Tests.Pqdif.RawPqdif;
using static Leadwright.Formats.Tests.Pqdif.RawPqdifFiles;

namespace Leadwright.Formats.Tests.Pqdif;

/// <summary>Read observation by observation, a file gives the samples that it gives when read whole.</summary>
public sealed class PqdifSourceTests
{
    [Fact]
    public void Observations_are_handed_over_one_after_the_other_with_their_gaps()
    {
        var file = Waveforms((Observation, WaveformObservation(36000.002)), (Observation, WaveformObservation(36060, 8)));
        RequireSame(file, gaps: 1);
    }

    [Fact]
    public void Observations_out_of_order_go_where_their_time_says() =>
        RequireSame(Waveforms((Observation, WaveformObservation(36120, 8)), (Observation, WaveformObservation(36060, 5))), gaps: 2);

    [Fact]
    public void The_longest_of_several_recordings_is_read_and_the_others_are_told()
    {
        using var source = Open(Waveforms((Observation, WaveformObservation(36000)), (Observation, WaveformObservation(36000.002))))!;
        Assert.Equal(8, source.FrameCount);
        Assert.Contains(source.Warnings, warning => warning.Says.StartsWith("The file holds 2 recordings", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData(2)]
    [InlineData(-5.5)]
    public void Times_are_given_by_the_clock_on_site_where_its_offset_to_UTC_is_stated(double hours)
    {
        var file = Waveforms((Observation, WaveformObservation(36000.002)));
        var options = new PqdifReadOptions { UtcOffset = TimeSpan.FromHours(hours) };
        var utc = PqdifReader.Read(new InputFile("raw.pqd", file), cancellationToken: TestContext.Current.CancellationToken).Recordings[0].Recording.Start!.Value;
        var content = PqdifReader.Read(new InputFile("raw.pqd", file), options, TestContext.Current.CancellationToken);
        using var source = PqdifSource.TryOpen("raw.pqd", new MemoryStream(file), options, TestContext.Current.CancellationToken)!;

        Assert.Equal(utc.AddHours(hours), content.Recordings[0].Recording.Start);
        Assert.Equal(utc.AddHours(hours), source.Start);
        Assert.Contains(content.Warnings, warning => warning.Says.EndsWith($"they are given at UTC{(hours < 0 ? "-05:30" : "+02:00")}, as was stated.", StringComparison.Ordinal));
    }

    [Fact]
    public void A_file_without_waveforms_gives_none() => Assert.Null(Open(RawPqdif.File((Container, PlainContainer), (DataSource, WaveformSource))));

    private static SampleSource? Open(byte[] file) => PqdifSource.TryOpen("raw.pqd", new MemoryStream(file), cancellation: TestContext.Current.CancellationToken);

    private static void RequireSame(byte[] file, int gaps)
    {
        var whole = PqdifReader.Read(new InputFile("raw.pqd", file), cancellationToken: TestContext.Current.CancellationToken).Recordings[0].Recording;
        using var reference = new RecordingSource("raw.pqd", whole, []);
        using var source = Open(file)!;
        Assert.Equal(reference.RateHertz, source.RateHertz);
        Assert.Equal(reference.Start, source.Start);
        Assert.Equal(reference.LineFrequencyHertz, source.LineFrequencyHertz);
        Assert.Equal(reference.FrameCount, source.FrameCount);
        Assert.Equal(reference.Channels, source.Channels);
        Assert.Equal(gaps, RequireSameFrames(reference, source));
    }

    private static int RequireSameFrames(SampleSource reference, SampleSource source)
    {
        var lanes = LaneChoice.Empty.With(0, 0, isTurned: false).With(4, 1, isTurned: true);
        reference.Choose(lanes);
        source.Choose(lanes);
        var (first, second, gaps) = (Frames(reference), Frames(source), 0);
        Assert.Equal(first.Count, second.Count);
        for (var block = 0; block < first.Count; block++)
        {
            Assert.Equal(first[block].At, second[block].At);
            Assert.Equal(first[block].Values, second[block].Values);
            if (first[block].At is not null) gaps++;
        }

        return gaps;
    }

    // A block ends at a gap; how a source cuts between gaps is its own affair.
    private static List<(double? At, List<float> Values)> Frames(SampleSource source)
    {
        var blocks = new List<(double? At, List<float> Values)> { (null, []) };
        var frames = new float[3 * Lane.Count];
        while (true)
        {
            var count = source.Read(frames);
            if (count > 0) blocks[^1].Values.AddRange(frames[..(count * Lane.Count)]);
            else if (source.NextSegmentSeconds is { } next) blocks.Add((next, []));
            else return blocks;
        }
    }
}
