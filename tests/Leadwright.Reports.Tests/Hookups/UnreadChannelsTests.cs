using System.Collections.Immutable;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Reports.Hookups;

namespace Leadwright.Reports.Tests.Hookups;

/// <summary>Of what was not read nobody is sent to settle anything.</summary>
public class UnreadChannelsTests
{
    [Fact]
    public void Voltages_alone_name_no_place_of_a_clamp()
    {
        var verdict = HookupCheck.Judge(Readings(), new CheckOptions());
        // The engine does weigh what was not read: that is what must not be shown.
        Assert.Contains(verdict.Alternatives, rival => rival.Hookup.Clamps.Any(clamp => clamp.Value.Reversed));
        var document = CheckDocument.Of("panel.csv", verdict);
        Assert.DoesNotContain(document.Rivals, rival => rival.Says.Contains("lamp", StringComparison.Ordinal));
        Assert.Null(document.Settle);
        Assert.Empty(document.Evidence.Where(entry => entry.Evidence.Rival.Clamps.Any(clamp => clamp.Value.Reversed)));
        Assert.Contains(document.Notes, note => note.Contains("Nothing was read of I1, I2 and I3", StringComparison.Ordinal));
    }

    [Fact]
    public void What_was_read_keeps_its_rivals()
    {
        // The current stands against its voltage on a site that may send power back: which way that clamp looks is open, and it was read.
        var readings = Readings();
        readings = readings with { Channels = readings.Channels.Add(Channel.I1, new ChannelReading(20, 180)) };
        var verdict = HookupCheck.Judge(readings, new CheckOptions { MayExport = true });
        var document = CheckDocument.Of("panel.csv", verdict);
        Assert.All(document.Rivals, rival => Assert.NotEqual(verdict.Best.Hookup.Clamps[Clamp.I1], rival.Answer.Hookup.Clamps[Clamp.I1]));
        Assert.NotEmpty(document.Rivals);
    }

    private static PanelReadings Readings() => new()
    {
        Service = ServiceKind.Wye,
        Nominal = NominalVoltage.TryParse("230/400", ServiceKind.Wye, out var nominal) ? nominal : null,
        Channels = ImmutableSortedDictionary.CreateRange(
            [KeyValuePair.Create(Channel.V1, new ChannelReading(231, 0)), KeyValuePair.Create(Channel.V2, new ChannelReading(230, -120)), KeyValuePair.Create(Channel.V3, new ChannelReading(232, 120))]),
    };
}
