using System.Runtime.CompilerServices;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Panels;
using Leadwright.Core.Signals;

namespace Leadwright.Core.Tests.Panels;

public class UsageExampleTests
{
    [Fact]
    public void The_usage_example_of_the_documentation_runs()
    {
        // example
        var nominal = new NominalVoltage(230, 400);
        var source = new PanelSource
        {
            Nominal = nominal, FrequencyHertz = 50, Line = new Impedance(0.02, 0.015), Neutral = new Impedance(0.03, 0.02),
            Background = new Spectrum(new SpectrumLine(5, 0.015, 180)),
        };
        var panel = new VirtualPanel(
            ServiceKind.Wye, source,
            PanelLoad.Motor(nominal, 12_000, 0.82),
            PanelLoad.SinglePhase(nominal, Conductor.A, 2_000, 1).Switched(new LoadSchedule(false, [3.0])),
            PanelLoad.Rectifier(Conductor.B, Conductor.N, 800));

        var service = Service.Of(ServiceKind.Wye);
        var right = Hookup.Expected(service.Leads, service.Clamps);
        var wrong = right with { Clamps = right.Clamps.SetItem(Clamp.I2, new ClampPlace(Conductor.C, true, 1)) };
        var instrument = Instrument.Ideal with { ClampRatingAmperes = 100 };
        PanelReadings readings = instrument.Read(panel.Solve(), wrong, seed: 1);
        SampledRecording samples = instrument.Sample(panel, wrong, new SamplingPlan(12_800, 10), seed: 1);

        var population = new PanelPopulation { Service = ServiceKind.Wye, Family = LoadFamily.Export, Seed = 42 };
        var rightShare = population.Cases(1000).Average(drawn => drawn.Truth.IsRight ? 1.0 : 0.0);
        // end

        // A current on the wrong line and turned round seems to lead: the load behind it lags.
        Assert.True(readings.Phases[2].Vars < 0);
        Assert.Equal(6, samples.Channels.Length);
        Assert.InRange(rightShare, 0.4, 0.6);
        Assert.Equal(Example(SourceText()), Fence(DocumentText()));
    }

    private static string Example(string text) => Squeeze(text[text.IndexOf("// example", StringComparison.Ordinal)..], "// example", "// end");

    private static string Fence(string text) => Squeeze(text[text.IndexOf("```csharp", StringComparison.Ordinal)..], "```csharp", "```");

    private static string Squeeze(string text, string begin, string end)
    {
        var inside = text[begin.Length..];
        return string.Concat(inside[..inside.IndexOf(end, StringComparison.Ordinal)].Where(letter => !char.IsWhiteSpace(letter)));
    }

    private static string SourceText([CallerFilePath] string here = "") => File.ReadAllText(here);

    private static string DocumentText([CallerFilePath] string here = "") => File.ReadAllText(
        Path.Combine(Path.GetDirectoryName(here)!, "..", "..", "..", "docs", "methods", "virtual-panel.md"));
}
