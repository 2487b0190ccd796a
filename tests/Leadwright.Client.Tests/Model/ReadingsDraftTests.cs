using Leadwright.Client.Model;
using Leadwright.Core.Panels;

namespace Leadwright.Client.Tests.Model;

public sealed class ReadingsDraftTests
{
    [Fact]
    public void Readings_made_a_draft_and_read_back_are_the_same_for_every_invented_panel()
    {
        foreach (var panel in DemoPanels.All())
        {
            var readings = panel.Readings;
            var back = DraftReading.Of(ReadingsDraft.Of(readings, panel.Options)).Readings;
            Assert.NotNull(back);
            Assert.Equal(readings.Service, back.Service);
            Assert.Equal(readings.AngleSign, back.AngleSign);
            Assert.Equal(readings.CurrentAngleReference, back.CurrentAngleReference);
            Assert.Equal(readings.PowerSign, back.PowerSign);
            Assert.Equal(readings.FrequencyHertz, back.FrequencyHertz);
            Assert.Equal(readings.Channels.Select(pair => (pair.Key, pair.Value.Rms, pair.Value.AngleDegrees)),
                back.Channels.Select(pair => (pair.Key, pair.Value.Rms, pair.Value.AngleDegrees)));
            Assert.Equal(readings.Phases.ToArray(), back.Phases.ToArray());
            Assert.Equal(readings.LineToLineVolts.ToArray(), back.LineToLineVolts.ToArray());
            Assert.Equal(readings.Nominal is null, back.Nominal is null);
            if (readings.Nominal is { } nominal) Assert.Equal(nominal.LineToLineVolts, back.Nominal!.LineToLineVolts, 2);
            Assert.Equal(panel.Options, DraftReading.OptionsOf(ReadingsDraft.Of(readings, panel.Options)));
        }
    }

    [Fact]
    public void A_kept_draft_comes_back_whole()
    {
        var panel = DemoPanels.Named("workshop")!;
        var draft = ReadingsDraft.Of(panel.Readings, panel.Options) with { Origin = panel.Name, IsInvented = true };
        var back = DraftText.Read(DraftText.Write(draft));
        Assert.NotNull(back);
        Assert.Equal(draft.Texts.ToArray(), back.Texts.ToArray());
        Assert.Equal(draft with { Texts = back.Texts, Told = back.Told, Remarks = back.Remarks }, back);
    }

    [Theory]
    [InlineData(null)]
    [InlineData("")]
    [InlineData("{")]
    [InlineData("{\"Service\":\"no such service\"}")]
    [InlineData("[]")]
    public void A_kept_text_that_can_not_be_read_is_no_draft(string? text) => Assert.Null(DraftText.Read(text));
}
