using System.Collections.Immutable;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Panels;
using Leadwright.Core.Tests.Panels;

namespace Leadwright.Core.Tests.Hookups;

/// <summary>Ordinary panels to hang a recorder on: a motor and uneven single-phase loads behind a supply with impedance.</summary>
internal static class TestPanels
{
    public static readonly NominalVoltage Nominal = new(230, 400);

    public static PanelSolution Wye(Rotation rotation = Rotation.Abc)
    {
        var source = new PanelSource
        {
            Nominal = Nominal, FrequencyHertz = 50, Rotation = rotation,
            Line = new Impedance(0.02, 0.015), Neutral = new Impedance(0.03, 0.02),
            DeviationB = new PhaseDeviation(0.006, 0.3), DeviationC = new PhaseDeviation(-0.004, -0.2),
        };
        return new VirtualPanel(
            ServiceKind.Wye, source,
            PanelLoad.Motor(Nominal, 9_000, 0.84),
            PanelLoad.SinglePhase(Nominal, Conductor.A, 2_500, 0.96),
            PanelLoad.SinglePhase(Nominal, Conductor.B, 900, 0.9),
            PanelLoad.SinglePhase(Nominal, Conductor.C, 1_600, 0.98)).Solve();
    }

    public static PanelReadings Read(
        PanelSolution solution, Hookup hookup, InstrumentDisplay? display = null, bool replays = false) =>
        (Instrument.Ideal with { Display = display ?? InstrumentDisplay.Everything, ReplaysVoltage = replays })
        .Read(solution, hookup, 1);

    public static Hookup Right { get; } = Ideal.Expected(ServiceKind.Wye);

    /// <summary>With a clamp on the neutral.</summary>
    public static Hookup RightWithNeutralClamp { get; } =
        Hookup.Expected(Service.Of(ServiceKind.Wye).Leads, [Clamp.I1, Clamp.I2, Clamp.I3, Clamp.IN]);

    /// <summary>The leads of a recorder that measures one voltage.</summary>
    public static Hookup RightReplayed { get; } =
        Hookup.Expected([Lead.V1, Lead.VN], [Clamp.I1, Clamp.I2, Clamp.I3]);

    /// <summary>Any hook-up of a service: leads and clamps anywhere, any direction, some ratios off.</summary>
    public static Hookup AnyHookup(ServiceKind kind, int seed, bool withNeutralClamp = false)
    {
        var random = new Random(seed);
        var service = Service.Of(kind);
        var clamps = withNeutralClamp && !service.IsThreeWire ? service.Clamps.Add(Clamp.IN) : service.Clamps;
        return new Hookup(
            service.Leads.ToImmutableSortedDictionary(lead => lead, _ => Place()),
            clamps.ToImmutableSortedDictionary(clamp => clamp, _ => Place() is { } on
                ? new ClampPlace(on, random.Next(2) == 0, random.Next(4) == 0 ? 10 : 1)
                : new ClampPlace(null, false, 1)));

        Conductor? Place() => random.Next(service.Conductors.Length + 1) is var number && number < service.Conductors.Length
            ? service.Conductors[number] : null;
    }
}
