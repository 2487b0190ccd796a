using System.Collections.Immutable;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Panels;

namespace Leadwright.Core.Practice.Forms;

/// <summary>Four-wire sites whose screens look the same with different hook-ups.</summary>
/// <remarks>Each reading fits six hook-ups, with displacements 60 degrees apart: three cyclic shifts of the clamps, each also turned
/// (docs/methods/wrong-connection-effects.md). The supply is stiff, so that what the clamps read can be given and the load that
/// makes them read it follows.</remarks>
internal static class TwinSites
{
    /// <summary>Everything right.</summary>
    public static Hookup Right { get; } = Hookup.Expected(Service.Of(ServiceKind.Wye).Leads, Service.Of(ServiceKind.Wye).Clamps);

    /// <summary>Each clamp one phase on, and turned: I1 on B, I2 on C, I3 on A.</summary>
    public static Hookup ForwardTurned { get; } = Turned(Conductor.B, Conductor.C, Conductor.A);

    /// <summary>Each clamp one phase back, and turned: I1 on C, I2 on A, I3 on B.</summary>
    public static Hookup BackTurned { get; } = Turned(Conductor.C, Conductor.A, Conductor.B);

    /// <summary>The site where a hook-up makes the clamps read given currents.</summary>
    /// <param name="hookup">Leads right; each clamp on a line of its own.</param>
    /// <param name="lagDegrees">By how much each current that is read lags the voltage of its channel.</param>
    /// <param name="amperes">What clamps 1 to 3 read.</param>
    /// <param name="ratingAmperes">The clamps' rating.</param>
    /// <param name="seed">Makes the instrument's errors and noise, the same for each hook-up.</param>
    public static PracticeSite Of(Hookup hookup, double lagDegrees, ReadOnlySpan<double> amperes, double ratingAmperes, ulong seed)
    {
        var nominal = new NominalVoltage(230, 400);
        var source = new PanelSource { Nominal = nominal, FrequencyHertz = 50 };
        var loads = ImmutableArray.CreateBuilder<PanelLoad>(3);
        foreach (var (clamp, place) in hookup.Clamps)
        {
            var on = place.On!.Value;
            var current = Phasor.FromDegrees(amperes[(int)clamp], AngleOf((Conductor)(int)clamp) - lagDegrees);
            if (place.Reversed) current = -current;
            var power = Phasor.FromDegrees(nominal.LineToNeutralVolts, AngleOf(on)) * current.Conjugate;
            loads.Add(PanelLoad.Between("Load", nominal, on, Conductor.N, power.Real, power.Imaginary));
        }

        var display = InstrumentDisplay.Everything with { ShowsVoltageSum = false, SignificantDigits = 4, AngleDecimals = 1 };
        var instrument = InstrumentDraw.Draw(hookup, ratingAmperes, false, display, new SeededRandom(seed).Fork(15));
        return new PracticeSite(new VirtualPanel(ServiceKind.Wye, source, loads.ToImmutable()), instrument, hookup, seed);
    }

    private static double AngleOf(Conductor line) => line switch { Conductor.B => -120, Conductor.C => 120, _ => 0 };

    private static Hookup Turned(Conductor first, Conductor second, Conductor third) => Right with
    {
        Clamps = Right.Clamps.SetItem(Clamp.I1, new ClampPlace(first, true, 1))
            .SetItem(Clamp.I2, new ClampPlace(second, true, 1)).SetItem(Clamp.I3, new ClampPlace(third, true, 1)),
    };
}
