using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Panels;

namespace Leadwright.Core.Tests.Panels;

public class DemoPanelsTests
{
    [Fact]
    public void Every_demonstration_panel_says_in_its_name_that_it_is_invented()
    {
        Assert.All(DemoPanels.All(), panel =>
        {
            Assert.EndsWith("(invented)", panel.Name, StringComparison.Ordinal);
            Assert.NotEmpty(panel.Story);
        });
        Assert.Equal(DemoPanels.All().Length, DemoPanels.All().Select(panel => panel.Key).Distinct().Count());
    }

    [Fact]
    public void They_cover_every_service_and_both_right_and_wrong_hook_ups()
    {
        var panels = DemoPanels.All();
        Assert.Equal(Enum.GetValues<ServiceKind>(), panels.Select(panel => panel.Service).Distinct().Order());
        Assert.InRange(panels.Count(panel => panel.Truth.IsRight), 3, panels.Length - 5);
    }

    [Fact]
    public void Their_readings_are_computed_from_the_panel_and_the_hook_up()
    {
        foreach (var panel in DemoPanels.All())
        {
            var again = DemoPanels.Named(panel.Key.ToUpperInvariant())!;
            Assert.Equal(panel.Readings.Channels, again.Readings.Channels);
            var solution = panel.Panel.Solve();
            foreach (var (clamp, place) in panel.Truth.Clamps)
            {
                var square = solution.Orders.Sum(order => solution.Current(place.On!.Value, order).SquaredMagnitude);
                var shown = panel.Readings.Channels[Channel.I1 + (int)clamp].Rms!.Value / place.Scale;
                Assert.InRange(shown / Math.Sqrt(square), 0.975, 1.025);
            }
        }
    }

    [Fact]
    public void The_offices_show_plausible_power_although_every_clamp_is_wrong()
    {
        var offices = DemoPanels.Named("offices")!;
        var watts = offices.Readings.Phases.Values.Sum(phase => phase.Watts!.Value);
        Assert.InRange(watts / offices.Panel.Solve().Watts, 0.85, 1.15);
        Assert.All(offices.Readings.Phases.Values, phase => Assert.True(phase.Watts > 0));
        Assert.False(offices.Truth.IsRight);
    }

    [Fact]
    public void Their_switched_loads_show_in_the_samples()
    {
        var recording = DemoPanels.Named("bakery")!.Samples(new SamplingPlan(3200, 10));
        var current = recording.Channels.Single(channel => channel.Name == "I1").Samples.Span;
        var (before, between) = (Rms(current[..(3 * 3200)]), Rms(current[(4 * 3200)..(7 * 3200)]));
        Assert.Equal(3000 / 230.0, before - between, 1.5);

        static double Rms(ReadOnlySpan<double> samples)
        {
            var square = 0.0;
            foreach (var sample in samples) square += sample * sample;
            return Math.Sqrt(square / samples.Length);
        }
    }

    [Fact]
    public void An_unknown_key_names_no_panel() => Assert.Null(DemoPanels.Named("no-such-panel"));
}
