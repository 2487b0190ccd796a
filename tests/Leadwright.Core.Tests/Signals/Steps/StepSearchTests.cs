using Leadwright.Core.Circuits;
using Leadwright.Core.Signals;
using Leadwright.Core.Signals.Steps;

namespace Leadwright.Core.Tests.Signals.Steps;

/// <summary>Steps in made-up phasors: one voltage of 230 V behind a source of 0.1 + 0.1j ohm, one clamp with 40 A.</summary>
public sealed class StepSearchTests
{
    private const int Cycles = 300;
    private static readonly Phasor s_impedance = new(0.1, 0.1);

    [Fact]
    public void A_switched_load_is_found_with_its_time_and_its_changes()
    {
        var change = new Phasor(8, -3);
        var found = Find((cycle, _) => cycle >= 140 ? (-1 * (s_impedance * change), change) : (Phasor.Zero, Phasor.Zero));

        var step = Assert.Single(found.Steps);
        Assert.Equal(141 / 50.0, step.Seconds, 0.05);
        // Ohm's law: what the voltage lost is the impedance times what the current gained.
        Assert.Equal((s_impedance * change).Magnitude, step.Changes[0].Magnitude, 0.02);
        Assert.Equal(change.Magnitude, step.Changes[1].Magnitude, 0.1);
        Assert.Equal(0, ((step.Changes[0] / step.Changes[1]) + s_impedance).Magnitude, 0.005);
    }

    [Fact]
    public void A_change_of_the_supply_takes_the_load_along_and_is_no_switched_load()
    {
        var found = Find((cycle, _) => cycle >= 140 ? (new Phasor(-3.4, 0), new Phasor(-0.6, 0.1)) : (Phasor.Zero, Phasor.Zero));
        Assert.Empty(found.Steps);
        Assert.Equal(1, found.SupplyChanges);
    }

    [Fact]
    public void Noise_alone_has_no_steps() => Assert.Empty(Find((_, _) => (Phasor.Zero, Phasor.Zero)).Steps);

    [Fact]
    public void A_frequency_that_runs_away_is_no_step()
    {
        // 20 mHz over six seconds, as a slow turn of everything.
        var found = Find((_, _) => (Phasor.Zero, Phasor.Zero), cycle => 2 * Math.PI * 0.02 * cycle * cycle / (2.0 * Cycles * 50));
        Assert.Empty(found.Steps);
    }

    private static SwitchingSteps Find(Func<int, int, (Phasor Volts, Phasor Amperes)> change, Func<int, double>? turn = null)
    {
        var random = new Random(5);
        var values = new Phasor[Cycles * 2];
        for (var cycle = 0; cycle < Cycles; cycle++)
        {
            var (volts, amperes) = change(cycle, 0);
            var frame = Phasor.FromRadians(1, turn?.Invoke(cycle) ?? 0);
            values[2 * cycle] = frame * (new Phasor(230, 0) + volts + Noise(random, 0.01));
            values[(2 * cycle) + 1] = frame * (Phasor.FromDegrees(40, -25) + amperes + Noise(random, 0.02));
        }

        return StepSearch.Find(CyclePhasors.Of(values, 2, 0, 50), [SignalKind.Voltage, SignalKind.Current]);
    }

    private static Phasor Noise(Random random, double size) => new(size * (random.NextDouble() - 0.5) * 3.46, size * (random.NextDouble() - 0.5) * 3.46);
}
