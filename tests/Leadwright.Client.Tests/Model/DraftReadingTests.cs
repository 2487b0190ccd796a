using Leadwright.Client.Model;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;

namespace Leadwright.Client.Tests.Model;

public sealed class DraftReadingTests
{
    private static HookupDraft Wye { get; } = new() { Service = ServiceKind.Wye };

    [Fact]
    public void A_draft_without_a_service_asks_for_it()
    {
        var reading = DraftReading.Of(new());
        Assert.Null(reading.Readings);
        Assert.Equal("Choose the service first.", reading.Wanted);
    }

    [Fact]
    public void A_draft_without_a_number_asks_for_numbers()
    {
        var reading = DraftReading.Of(Wye);
        Assert.Null(reading.Readings);
        Assert.Equal("Type what the instrument shows.", reading.Wanted);
    }

    [Fact]
    public void Twelve_numbers_become_six_channels()
    {
        var draft = Wye;
        var channel = 0;
        foreach (var name in (string[])["V1", "V2", "V3", "I1", "I2", "I3"])
        {
            draft = draft.WithText($"{name}.rms", $"{230 + channel},5").WithText($"{name}.angle", $"-{channel * 60}");
            channel++;
        }

        var readings = DraftReading.Of(draft).Readings;
        Assert.NotNull(readings);
        Assert.Equal(6, readings.Channels.Count);
        Assert.Equal(new ChannelReading(232.5, -120), readings.Channels[Channel.V3]);
        Assert.Equal(new ChannelReading(235.5, -300), readings.Channels[Channel.I3]);
    }

    [Fact]
    public void Magnitudes_alone_are_readings() =>
        Assert.Equal(new ChannelReading(231, null), DraftReading.Of(Wye.WithText("V1.rms", "231")).Readings!.Channels[Channel.V1]);

    [Fact]
    public void Watts_alone_are_readings()
    {
        var draft = (Wye with { Shows = MeterShows.Powers }).WithText("P2.watts", "-9010").WithText("P2.vars", "3100");
        Assert.Equal(new PhasePower(-9010, 3100, null, null), DraftReading.Of(draft).Readings!.Phases[2]);
    }

    [Fact]
    public void A_field_out_of_sight_does_not_count()
    {
        var draft = Wye.WithText("V1.rms", "231").WithText("P1.watts", "5000");
        Assert.Empty(DraftReading.Of(draft).Readings!.Phases);
        Assert.Single(DraftReading.Of(draft with { Shows = MeterShows.Powers }).Readings!.Phases);
    }

    [Fact]
    public void A_field_that_can_not_be_read_is_named_and_holds_the_verdict_back()
    {
        var reading = DraftReading.Of(Wye.WithText("V1.rms", "231").WithText("I2.rms", "4o"));
        Assert.Null(reading.Readings);
        Assert.Contains("found “4o”", Assert.Single(reading.Errors).Value, StringComparison.Ordinal);
        Assert.True(reading.Errors.ContainsKey("I2.rms"));
        Assert.Equal("One field can't be read: it is marked.", reading.Wanted);
    }

    [Theory]
    [InlineData("V1.rms", "-231", "can't be below zero")]
    [InlineData("V1.angle", "900", "can't be beyond 720")]
    public void A_number_that_can_not_be_meant_is_refused(string key, string text, string says) =>
        Assert.Contains(says, DraftReading.Of(Wye.WithText(key, text)).Errors[key], StringComparison.Ordinal);

    [Theory]
    [InlineData("230/400", 230, 400)]
    [InlineData("240", 138.564, 240)]
    [InlineData("57,7/100", 57.7, 100)]
    public void The_nominal_voltage_is_read_as_on_the_nameplate(string text, double lineToNeutral, double lineToLine)
    {
        var nominal = DraftReading.Of((Wye with { Nominal = text }).WithText("V1.rms", "231")).Readings!.Nominal!;
        Assert.Equal(lineToNeutral, nominal.LineToNeutralVolts, 3);
        Assert.Equal(lineToLine, nominal.LineToLineVolts, 3);
    }

    [Fact]
    public void A_nominal_voltage_of_another_service_is_refused_with_an_example()
    {
        var reading = DraftReading.Of((Wye with { Nominal = "120/240" }).WithText("V1.rms", "120"));
        Assert.Null(reading.Readings);
        Assert.Contains("such as 230/400; found “120/240”", reading.Errors[DraftReading.NominalKey], StringComparison.Ordinal);
    }
}
