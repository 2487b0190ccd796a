using System.Collections.Immutable;
using System.Text;
using FsCheck.Xunit;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Formats.Readings;

namespace Leadwright.Formats.Tests.Readings;

public sealed class ReadingsWriterTests
{
    [Property(Arbitrary = [typeof(AnyReadings)])]
    public void What_is_written_reads_back_the_same(PanelReadings readings)
    {
        var written = ReadingsWriter.Write(readings);
        var read = ReadingsReader.Read(new InputFile("x.json", written));

        Assert.Empty(read.Warnings);
        AssertSame(readings, read.Readings);
        Assert.Equal(Encoding.UTF8.GetString(written), Encoding.UTF8.GetString(ReadingsWriter.Write(read.Readings)));
    }

    [Theory]
    [InlineData(ServiceKind.Wye, "230/400", "230/400")]
    [InlineData(ServiceKind.Wye, "400", "400")]
    [InlineData(ServiceKind.Delta, "480", "480")]
    [InlineData(ServiceKind.Split, "120/240", "120/240")]
    [InlineData(ServiceKind.Single, "230", "230")]
    public void Nominal_voltages_are_written_as_on_the_nameplate(ServiceKind service, string nominal, string expected)
    {
        Assert.True(NominalVoltage.TryParse(nominal, service, out var volts));

        var text = Encoding.UTF8.GetString(ReadingsWriter.Write(new() { Service = service, Nominal = volts }));

        Assert.Contains($"\"nominal\": \"{expected}\"", text, StringComparison.Ordinal);
    }

    [Fact]
    public void What_is_not_known_is_left_out() =>
        Assert.Equal(
            "{\n  \"schema\": \"leadwright.readings/1\",\n  \"service\": \"delta-two-clamp\"\n}\n",
            Encoding.UTF8.GetString(ReadingsWriter.Write(new() { Service = ServiceKind.DeltaTwoClamp })));

    [Theory]
    [InlineData(double.NaN)]
    [InlineData(double.PositiveInfinity)]
    [InlineData(-1)]
    public void A_size_that_is_none_is_refused(double rms)
    {
        var error = Assert.Throws<ArgumentException>(() => ReadingsWriter.Write(new()
        {
            Service = ServiceKind.Single,
            Channels = ImmutableSortedDictionary<Channel, ChannelReading>.Empty.Add(Channel.V1, new ChannelReading(rms, null)),
        }));

        Assert.StartsWith("rms is ", error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Nominal_voltages_of_another_service_are_refused()
    {
        var error = Assert.Throws<ArgumentException>(() => ReadingsWriter.Write(
            new() { Service = ServiceKind.Split, Nominal = new NominalVoltage(230, 400) }));

        Assert.StartsWith("The nominal voltages 230/400 do not belong to a 'split' service.", error.Message, StringComparison.Ordinal);
    }

    internal static void AssertSame(PanelReadings expected, PanelReadings actual)
    {
        // Records compare their maps by reference.
        Assert.Equal(expected.Channels, actual.Channels);
        Assert.Equal(expected.Phases, actual.Phases);
        Assert.Equal(expected.LineToLineVolts, actual.LineToLineVolts);
        Assert.Equal(expected, actual with
        {
            Channels = expected.Channels,
            Phases = expected.Phases,
            LineToLineVolts = expected.LineToLineVolts,
        });
    }
}
