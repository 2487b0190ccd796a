using System.Text.Json;
using Leadwright.App.Verbs;

namespace Leadwright.App.Tests.Verbs.Studying;

/// <summary>
/// A real fault record of a substation (tests/data/README.md): phase A of bay 214 carries the largest current by far, and the currents of the six bays add up to nothing
/// before the fault, so every clamp is on its phase and in the common direction. So the fault is downstream of bay 214's clamps and upstream of those of the five other bays.
/// </summary>
public sealed class RealFaultTests
{
    private static readonly int[] s_otherBays = [9, 13, 17, 21, 29];

    [Fact]
    public async Task The_faulty_bay_says_downstream_in_both_dips() =>
        Assert.Equal(["downstream", "downstream"], (await DipsAsync(33)).Select(dip => dip.GetProperty("origin").GetString()));

    [Fact]
    public async Task The_sound_bays_say_upstream_or_undecided_and_never_downstream()
    {
        var sides = new List<string?>();
        foreach (var bay in s_otherBays) sides.AddRange((await DipsAsync(bay)).Select(dip => dip.GetProperty("origin").GetString()));
        Assert.Equal(10, sides.Count);
        Assert.DoesNotContain("downstream", sides);
        // Measured: 7 of 10 upstream, 3 undecided.
        Assert.True(sides.Count(side => side == "upstream") >= 7, string.Join(' ', sides));
    }

    [Fact]
    public async Task The_dips_are_a_fault_of_phase_a()
    {
        foreach (var dip in await DipsAsync(33))
        {
            Assert.Equal("fault", dip.GetProperty("looks_like").GetString());
            Assert.Equal("Ba", dip.GetProperty("type").GetString());
        }
    }

    private static async Task<List<JsonElement>> DipsAsync(int firstChannel)
    {
        using var output = new StringWriter { NewLine = "\n" };
        using var error = new StringWriter { NewLine = "\n" };
        var code = await LeadwrightCommand.RunAsync(
            [
                "study", TestFolder.Data("../../data/comtrade/substation/xtz.cfg"), "--nominal", "100", "--interval", "10s", "--format", "json",
                "--channels", $"V1=1,V2=2,V3=3,I1={firstChannel},I2={firstChannel + 1},I3={firstChannel + 2}",
            ],
            output, error, TestContext.Current.CancellationToken);
        Assert.Equal(0, code);
        var dips = JsonDocument.Parse(output.ToString()).RootElement.GetProperty("events").EnumerateArray().Where(found => found.GetProperty("kind").GetString() == "dip").ToList();
        Assert.Equal(2, dips.Count);
        return dips;
    }
}
