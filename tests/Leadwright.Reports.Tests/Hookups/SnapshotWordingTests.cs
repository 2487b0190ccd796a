using System.Collections.Immutable;
using Leadwright.Core.Hookups;
using Leadwright.Core.Signals;
using Leadwright.Reports.Hookups;

namespace Leadwright.Reports.Tests.Hookups;

public class SnapshotWordingTests
{
    [Fact]
    public void Every_refusal_says_what_to_do()
    {
        var texts = Enum.GetValues<SnapshotRefusal>().Where(refusal => refusal != SnapshotRefusal.None).Select(SnapshotWording.Of).ToArray();

        Assert.Equal(texts.Length, texts.Distinct().Count());
        Assert.All(texts, text => Assert.EndsWith(".", text, StringComparison.Ordinal));
        Assert.Equal("", SnapshotWording.Of(SnapshotRefusal.None));
    }

    [Fact]
    public void Steady_sound_recording_needs_no_notes() => Assert.Empty(SnapshotWording.Notes(Measured(clippedAt: 1000, quietFrom: 1)));

    [Fact]
    public void Flat_tops_are_told_with_the_channel() =>
        Assert.Equal(
            "V1: the tops are cut flat, so the sizes read too small. Set a larger range.",
            Assert.Single(SnapshotWording.Notes(Measured(clippedAt: 200, quietFrom: 1))));

    [Fact]
    public void Change_of_state_is_told_with_the_length_that_was_measured()
    {
        var note = Assert.Single(SnapshotWording.Notes(Measured(clippedAt: 1000, quietFrom: 0.5)));

        Assert.StartsWith("Something changes in the recording: 0.", note, StringComparison.Ordinal);
    }

    [Fact]
    public void Channel_match_is_shown_in_the_text_with_what_it_rests_on()
    {
        var document = CheckDocument.Of("a.cfg", SampleVerdicts.Correct(), channels: [new("V1", "Ua", "name 'Ua' and phase A"), new("I1", "Ia")]);

        Assert.Contains(
            "CHANNELS OF THE FILE\n  V1  Ua: name 'Ua' and phase A\n  I1  Ia\n", CheckText.Write(document), StringComparison.Ordinal);
    }

    // One second of 50 hertz at 10 000 samples a second, 325 V peak, cut at a height, and half as large from a time on.
    private static PanelSnapshot Measured(double clippedAt, double quietFrom)
    {
        var samples = new double[10000];
        for (var index = 0; index < samples.Length; index++)
        {
            var seconds = index / 10000.0;
            var size = seconds < quietFrom ? 325 : 160;
            samples[index] = Math.Clamp(size * Math.Sin(2 * Math.PI * 50 * seconds), -clippedAt, clippedAt);
        }

        var recording = new SampledRecording(
            [new SampledChannel("V1", "", "V", samples)], [new RateSegment(0, samples.Length, 10000, 0)], 50, null);
        var map = ImmutableSortedDictionary<Channel, int>.Empty.Add(Channel.V1, 0);
        return PanelSnapshot.Measure(recording, map, new SnapshotOptions(), out _, TestContext.Current.CancellationToken)!;
    }
}
