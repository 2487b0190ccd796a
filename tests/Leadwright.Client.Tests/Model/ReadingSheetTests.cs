using System.Collections.Immutable;
using Leadwright.Client.Model;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;

namespace Leadwright.Client.Tests.Model;

public sealed class ReadingSheetTests
{
    private static readonly ImmutableSortedDictionary<string, string> s_nothing = ImmutableSortedDictionary<string, string>.Empty;

    [Theory]
    [InlineData(ServiceKind.Wye, "V1 V2 V3 I1 I2 I3")]
    [InlineData(ServiceKind.Delta, "V12 V23 V31 I1 I2 I3")]
    [InlineData(ServiceKind.DeltaTwoClamp, "V12 V23 V31 I1 I3")]
    [InlineData(ServiceKind.Split, "V1 V2 I1 I2")]
    [InlineData(ServiceKind.Single, "V1 I1")]
    public void Each_service_asks_for_its_own_channels(ServiceKind service, string plates) => Assert.Equal(
        plates, string.Join(' ', ReadingSheet.Groups(service, MeterShows.Angles, s_nothing).SelectMany(group => group.Rows).Select(row => row.Plate)));

    [Theory]
    [InlineData(ServiceKind.Wye)]
    [InlineData(ServiceKind.Delta)]
    [InlineData(ServiceKind.DeltaTwoClamp)]
    [InlineData(ServiceKind.Split)]
    [InlineData(ServiceKind.Single)]
    public void Each_usual_nominal_voltage_belongs_to_its_service(ServiceKind service) =>
        Assert.All(NominalChoices.Of(service), text => Assert.True(NominalVoltage.TryParse(text, service, out _), text));

    [Fact]
    public void A_loaded_channel_that_the_service_does_not_need_is_still_shown()
    {
        var texts = s_nothing.Add(ReadingSheet.RmsKey(Channel.V1), "277");
        var rows = ReadingSheet.Groups(ServiceKind.Delta, MeterShows.Angles, texts)[0].Rows;
        Assert.Equal(["V1", "V12", "V23", "V31"], rows.Select(row => row.Plate));
    }

    [Fact]
    public void No_key_is_asked_for_twice()
    {
        var all = MeterShows.Angles | MeterShows.Powers | MeterShows.PowerFactors | MeterShows.BetweenLeads | MeterShows.NeutralClamp;
        foreach (var service in Enum.GetValues<ServiceKind>())
        {
            var keys = ReadingSheet.Groups(service, all, s_nothing).SelectMany(group => group.Rows).SelectMany(row => row.Fields).Select(field => field.Key).ToArray();
            Assert.Equal(keys.Distinct(), keys);
        }
    }
}
