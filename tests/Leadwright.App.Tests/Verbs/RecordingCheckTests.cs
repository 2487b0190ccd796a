using System.Globalization;
using System.Text;
using Leadwright.App.Verbs;
using Leadwright.Core.Circuits;
using Leadwright.Core.Panels;

namespace Leadwright.App.Tests.Verbs;

/// <summary>Recordings of invented panels as files through the whole program: load steps decide where the load can't.</summary>
public class RecordingCheckTests
{
    private static readonly NominalVoltage s_nominal = new(230, 400);

    [Fact]
    public async Task Exporting_site_is_called_right_by_its_switched_loads()
    {
        using var folder = new TestFolder();
        var run = await CheckProgram.CheckAsync(folder.Write("roof.csv", Csv(false)), "--service", "wye", "--nominal", "230/400", "--export");
        Assert.Equal("", run.Error);
        Assert.Equal((int)ExitCode.NothingWrong, run.ExitCode);
        Assert.Contains("Switched loads", run.Output, StringComparison.Ordinal);
        Assert.Contains("times a load was switched during the recording", run.Output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Clamps_turned_on_an_exporting_site_are_named_in_json()
    {
        using var folder = new TestFolder();
        var run = await CheckProgram.CheckAsync(
            folder.Write("roof.csv", Csv(true)), "--service", "wye", "--nominal", "230/400", "--export", "--format", "json");
        Assert.Equal((int)ExitCode.FaultsFound, run.ExitCode);
        foreach (var clamp in new[] { "I1", "I2", "I3" })
            Assert.True(run.Json.GetProperty("hookup").GetProperty(clamp).GetProperty("reversed").GetBoolean());
        Assert.InRange(run.Json.GetProperty("confidence").GetDouble(), 0.95, 1);
        Assert.Contains(
            run.Json.GetProperty("evidence").EnumerateArray(),
            entry => entry.GetProperty("kind").GetString() == "steps" && entry.GetProperty("log_odds").GetDouble() > 5);
    }

    /// <summary>Six seconds of a board that gives back more than it takes, one load switched on each line.</summary>
    private static string Csv(bool areTurned)
    {
        var source = new PanelSource
        {
            Nominal = s_nominal,
            FrequencyHertz = 49.98,
            Line = new Impedance(0.03, 0.02),
            Neutral = new Impedance(0.035, 0.02),
            History = new SupplyHistory([], 1e-4),
        };
        var panel = new VirtualPanel(
            ServiceKind.Wye, source,
            PanelLoad.Linear(ServiceKind.Wye, s_nominal, 9_000, 0.92),
            PanelLoad.Generation(ServiceKind.Wye, 27_000, 800),
            PanelLoad.SinglePhase(s_nominal, Conductor.A, 2_500, 1).Switched(new LoadSchedule(false, [1.1, 4.2])),
            PanelLoad.SinglePhase(s_nominal, Conductor.B, 2_000, 0.8).Switched(new LoadSchedule(true, [2.0])),
            PanelLoad.SinglePhase(s_nominal, Conductor.C, 3_000, 0.95).Switched(new LoadSchedule(false, [3.1])));
        var instrument = Instrument.Ideal with { ClampRatingAmperes = 100, SampleNoiseFraction = 3e-4 };
        var hookup = Core.Hookups.Hookup.Expected(
            [Core.Hookups.Lead.V1, Core.Hookups.Lead.V2, Core.Hookups.Lead.V3, Core.Hookups.Lead.VN],
            [Core.Hookups.Clamp.I1, Core.Hookups.Clamp.I2, Core.Hookups.Clamp.I3]);
        var recording = instrument.Sample(panel, hookup, new SamplingPlan(1600, 6), 3);
        var text = new StringBuilder("# rate_hz: 1600\n").AppendJoin(',', recording.Channels.Select(channel => $"{channel.Name} ({channel.Unit})")).Append('\n');
        for (var sample = 0; sample < recording.Channels[0].Samples.Length; sample++)
        {
            text.AppendJoin(',', recording.Channels.Select(channel =>
                (areTurned && channel.Unit == "A" ? -channel.Samples.Span[sample] : channel.Samples.Span[sample])
                    .ToString("0.####", CultureInfo.InvariantCulture))).Append('\n');
        }

        return text.ToString();
    }
}
