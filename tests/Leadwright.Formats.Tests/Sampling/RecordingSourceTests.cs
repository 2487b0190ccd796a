using System.Collections.Immutable;
using Leadwright.Core.Signals;
using Leadwright.Core.Signals.Lanes;
using Leadwright.Formats.Comtrade;
using Leadwright.Formats.Sampling;

namespace Leadwright.Formats.Tests.Sampling;

public sealed class RecordingSourceTests
{
    // A fault record of a substation: 3,200 Hz around the fault, 50 Hz before and behind (tests/data/README.md).
    [Fact]
    public void Stretches_of_one_sample_a_cycle_are_left_out_as_gaps()
    {
        var record = ComtradeReader.Read(TestData.File("comtrade/substation/xtz.cfg"), TestData.File("comtrade/substation/xtz.dat"));
        var waveform = record.Recording.Segments.Where(segment => segment.RateHertz > 1000).ToList();
        Assert.NotEqual(waveform.Count, record.Recording.Segments.Length);
        using var source = new RecordingSource("xtz", record.Recording, record.Warnings);
        source.Choose(LaneChoice.Empty.With(0, 0, isTurned: false));
        Assert.Equal(3200, source.RateHertz, 6);
        Assert.Contains(source.Warnings, warning => warning.Says.Contains("no waveform", StringComparison.Ordinal));

        var frames = new float[100 * Lane.Count];
        var count = 0;
        while (source.Read(frames) is var read && (read > 0 || source.NextSegmentSeconds is not null))
        {
            if (count == 0) Assert.Equal((float)record.Recording.Channels[0].Samples.Span[waveform[0].FirstIndex], frames[0]);
            count += read;
        }

        Assert.Equal(waveform.Sum(segment => segment.Length), count);
    }

    [Fact]
    public void Waveforms_of_two_rates_are_refused()
    {
        var recording = new SampledRecording(
            [new SampledChannel("V1", "A", "V", new double[40])], [new RateSegment(0, 20, 1000, 0), new RateSegment(20, 20, 2000, 0.02)], 50, null);
        var failure = Assert.Throws<FormatReadException>(() => new RecordingSource("two", recording, ImmutableArray<ReadWarning>.Empty));
        Assert.Contains("one sampling rate", failure.Message, StringComparison.Ordinal);
    }
}
