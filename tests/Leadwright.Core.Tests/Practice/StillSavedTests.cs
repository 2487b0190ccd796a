using System.Collections.Immutable;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Panels;
using Leadwright.Core.Practice;
using Leadwright.Core.Practice.Forms;

namespace Leadwright.Core.Tests.Practice;

/// <summary>The table of what can still be saved, row by row against a simulated panel: what is exact is undone to the true power, what
/// is lost has two sites with one record.</summary>
public sealed class StillSavedTests
{
    private static readonly NominalVoltage s_nominal = new(230, 400);

    [Fact]
    public void A_reversed_clamp_is_undone_by_the_sign_of_its_own_phase()
    {
        var (read, truth) = Read(1, place => place.SetItem(Clamp.I2, new ClampPlace(Conductor.B, true, 1)));
        Assert.Equal(truth, read[0] + -read[1] + read[2], 1e-6);
        Assert.Equal("exact", Right("clamp-reversed", "watts", "energy"));
        Assert.Equal("exact", Right("clamp-reversed", "watts-and-vars", "energy"));
    }

    [Fact]
    public void A_reversed_clamp_in_a_total_alone_needs_a_model_of_its_share()
    {
        // Two sites with one recorded total and different true ones.
        var (one, oneTruth) = Read([2000, 3000, 4000], place => place.SetItem(Clamp.I2, new ClampPlace(Conductor.B, true, 1)));
        var (other, otherTruth) = Read([2500, 3500, 4000], place => place.SetItem(Clamp.I2, new ClampPlace(Conductor.B, true, 1)));
        Assert.Equal(one.Sum(), other.Sum(), 1e-6);
        Assert.Equal(1000, otherTruth - oneTruth, 1e-6);
        Assert.Equal("modelled", Right("clamp-reversed", "total-watts", "energy"));
    }

    [Theory]
    [InlineData(1, true)]
    [InlineData(0.97, false)]
    public void Exchanged_clamps_are_undone_from_watts_and_vars_as_far_as_the_voltages_are_alike(double levelOfB, bool isExact)
    {
        var panel = Panel([2000, 3000, 4000], 0.85, levelOfB);
        var readings = Instrument.Ideal.Read(panel.Solve(), Exchanged(), 1);
        var second = new Phasor(readings.Phases[2].Watts!.Value, readings.Phases[2].Vars!.Value);
        var third = new Phasor(readings.Phases[3].Watts!.Value, readings.Phases[3].Vars!.Value);

        // Phase 2 read V_B I_C*: turned by the angle from V_C to V_B it is V_C I_C*, if the two are alike in size.
        var mended = readings.Phases[1].Watts!.Value + second.TurnedByDegrees(-120).Real + third.TurnedByDegrees(120).Real;
        var wrong = readings.Phases[1].Watts!.Value + second.TurnedByDegrees(120).Real + third.TurnedByDegrees(-120).Real;
        var truth = panel.Solve().Watts;
        var best = Math.Abs(mended - truth) < Math.Abs(wrong - truth) ? mended : wrong;
        Assert.Equal(isExact, Math.Abs(best - truth) < 1e-6);
        Assert.Equal("exact-if-balanced", Right("clamps-exchanged", "watts-and-vars", "energy"));
    }

    // Phase 3 then reads P cos 120° + Q sin 120° of the load on B: a kilowatt more with 577 vars more reads the same.
    [Fact]
    public void Exchanged_clamps_with_watts_alone_are_lost_since_two_loads_leave_one_record()
    {
        var (one, oneTruth) = ReadExchanged(3000, 2250);
        var (other, otherTruth) = ReadExchanged(4000, 2250 + (1000 / Math.Sqrt(3)));
        Assert.Equal(one, other, (first, second) => Math.Abs(first - second) < 1e-6);
        Assert.Equal(1000, otherTruth - oneTruth, 1e-6);
        Assert.Equal("lost", Right("clamps-exchanged", "watts", "energy"));
    }

    [Fact]
    public void Volts_and_amperes_alone_never_give_energy()
    {
        var one = Instrument.Ideal.Read(Panel([3000, 3000, 3000], 0.75, 1).Solve(), Exchanged(), 1);
        var other = Instrument.Ideal.Read(Panel([4000, 4000, 4000], 1, 1).Solve(), Exchanged(), 1);
        foreach (var channel in new[] { Channel.I1, Channel.I2, Channel.I3, Channel.V1, Channel.V2, Channel.V3 })
            Assert.Equal(one.Channels[channel].Rms!.Value, other.Channels[channel].Rms!.Value, 1e-6);
        Assert.Equal("lost", Right("clamps-exchanged", "volts-and-amperes", "energy"));
    }

    [Fact]
    public void A_ratio_ten_times_too_large_is_a_plain_factor()
    {
        var (read, truth) = Read(1, place => place.SetItem(Clamp.I3, new ClampPlace(Conductor.C, false, 10)));
        Assert.Equal(truth, read[0] + read[1] + (read[2] / 10), 1e-6);
        Assert.Equal("exact", Right("ratio-tenfold", "watts-and-vars", "energy"));
    }

    // Currents of three wires sum to nothing, of four wires to the neutral's: Kirchhoff.
    [Fact]
    public void A_clamp_that_was_off_follows_from_the_others_where_nothing_else_can_flow()
    {
        var solution = Panel([2000, 3000, 4000], 0.85, 1).Solve();
        var missing = -(solution.Current(Conductor.A) + solution.Current(Conductor.C) + solution.Current(Conductor.N));
        Assert.Equal(0, (missing - solution.Current(Conductor.B)).Magnitude, 1e-9);
        Assert.Equal("exact", Right("clamp-off-neutral-clamp", "waveforms", "energy"));
        Assert.Equal("exact", Right("clamp-off-three-wire", "waveforms", "energy"));
        Assert.Equal("modelled", Right("clamp-off", "watts-and-vars", "energy"));
    }

    // Of a voltage that was not measured, −(V2 + V3) stands in: wrong by three times the zero-sequence voltage, and blind to its own dip.
    [Fact]
    public void A_lead_that_was_off_is_modelled_from_the_other_two_and_its_dip_is_gone()
    {
        var solution = Panel([3000, 3000, 3000], 0.85, 0.97).Solve();
        Phasor At(Conductor line) => solution.Potential(line) - solution.Potential(Conductor.N);
        var zero = (At(Conductor.A) + At(Conductor.B) + At(Conductor.C)) / 3;
        var standIn = -(At(Conductor.B) + At(Conductor.C));
        Assert.Equal(3 * zero.Magnitude, (standIn - At(Conductor.A)).Magnitude, 1e-9);
        Assert.True(zero.Magnitude > 1);
        Assert.Equal("modelled", Right("lead-off", "waveforms", "energy"));
        Assert.Equal("lost", Right("lead-off", "waveforms", "dip"));
    }

    private static string Right(string fault, string stored, string wanted) =>
        StillSavedForm.Cases.Single(row => row.Case == new RecordedCase(fault, stored, wanted)).Right;

    private static Hookup Exchanged() => TwinSites.Right with
    {
        Clamps = TwinSites.Right.Clamps.SetItem(Clamp.I2, ClampPlace.Right(Conductor.C)).SetItem(Clamp.I3, ClampPlace.Right(Conductor.B)),
    };

    private static (double[] Read, double Truth) ReadExchanged(double watts, double vars)
    {
        var panel = new VirtualPanel(
            ServiceKind.Wye, new PanelSource { Nominal = s_nominal, FrequencyHertz = 50 },
            PanelLoad.SinglePhase(s_nominal, Conductor.A, 2000, 0.9),
            PanelLoad.Between("Load", s_nominal, Conductor.B, Conductor.N, watts, vars),
            PanelLoad.SinglePhase(s_nominal, Conductor.C, 2500, 0.9));
        var readings = Instrument.Ideal.Read(panel.Solve(), Exchanged(), 1);
        return ([.. readings.Phases.Values.Select(power => power.Watts!.Value)], panel.Solve().Watts);
    }

    private static VirtualPanel Panel(double[] watts, double powerFactor, double levelOfB) => new(
        ServiceKind.Wye,
        new PanelSource { Nominal = s_nominal, FrequencyHertz = 50, DeviationB = new PhaseDeviation(levelOfB - 1, 0) },
        [.. watts.Select((power, line) => PanelLoad.SinglePhase(s_nominal, (Conductor)line, power, powerFactor))]);

    private static (double[] Read, double Truth) Read(
        double levelOfB, Func<ImmutableSortedDictionary<Clamp, ClampPlace>, ImmutableSortedDictionary<Clamp, ClampPlace>> change) =>
        Read([2000, 3000, 4000], change, levelOfB);

    private static (double[] Read, double Truth) Read(
        double[] watts,
        Func<ImmutableSortedDictionary<Clamp, ClampPlace>, ImmutableSortedDictionary<Clamp, ClampPlace>> change,
        double levelOfB = 1)
    {
        var panel = Panel(watts, 0.85, levelOfB);
        var hookup = TwinSites.Right with { Clamps = change(TwinSites.Right.Clamps) };
        var readings = Instrument.Ideal.Read(panel.Solve(), hookup, 1);
        return ([.. readings.Phases.Values.Select(power => power.Watts!.Value)], panel.Solve().Watts);
    }
}
