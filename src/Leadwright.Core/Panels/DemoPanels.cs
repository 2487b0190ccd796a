using System.Collections.Immutable;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;

namespace Leadwright.Core.Panels;

/// <summary>The invented panels of the demonstration, right and wrong, across the services.</summary>
public static class DemoPanels
{
    private static readonly NominalVoltage s_wye400 = new(230, 400);
    private static readonly NominalVoltage s_wye208 = new(120, 208);
    private static readonly NominalVoltage s_delta480 = new(480 / Math.Sqrt(3), 480);
    private static readonly NominalVoltage s_delta400 = new(400 / Math.Sqrt(3), 400);
    private static readonly NominalVoltage s_split = new(120, 240);
    private static readonly NominalVoltage s_highLeg = new(120, 240);

    /// <summary>Makes all demonstration panels, the same each time.</summary>
    public static ImmutableArray<DemoPanel> All() =>
    [
        Bakery(), Workshop(), Offices(), PumpHouse(), ColdStore(), SchoolRoof(), Farmhouse(), Kiosk(), Laundry(), MachineShop(), Sawmill(), Flat(),
    ];

    /// <summary>The panel with a key, in any case; null when there is none.</summary>
    public static DemoPanel? Named(string? key) =>
        All().FirstOrDefault(panel => string.Equals(panel.Key, key?.Trim(), StringComparison.OrdinalIgnoreCase));

    private static DemoPanel Bakery() => Make(
        "bakery", "Bakery, main board (invented)", "Ovens on three phases, mixers, and a row of single-phase provers.",
        ServiceKind.Wye, Supply(s_wye400, 50, 200),
        [
            PanelLoad.Linear(ServiceKind.Wye, s_wye400, 36_000, 0.99),
            PanelLoad.Motor(s_wye400, 9_000, 0.78),
            PanelLoad.SinglePhase(s_wye400, Conductor.B, 4_000, 0.95),
            PanelLoad.SinglePhase(s_wye400, Conductor.A, 3_000, 1).Switched(new LoadSchedule(true, [3.1, 7.4])),
            PanelLoad.Rectifier(Conductor.C, Conductor.N, 1_500),
        ],
        200, hookup => hookup, new CheckOptions(), 1);

    private static DemoPanel Workshop() => Make(
        "workshop", "Joinery workshop, sub-board (invented)", "Saws and extraction; the clamps were put on in poor light.",
        ServiceKind.Wye, Supply(s_wye400, 50, 100),
        [
            PanelLoad.Motor(s_wye400, 24_000, 0.82),
            PanelLoad.SinglePhase(s_wye400, Conductor.A, 2_000, 0.97),
            PanelLoad.SinglePhase(s_wye400, Conductor.C, 1_200, 0.9).Switched(new LoadSchedule(false, [2.6])),
            PanelLoad.Rectifier(Conductor.B, Conductor.N, 900),
        ],
        100,
        hookup => hookup with
        {
            Clamps = hookup.Clamps
                .SetItem(Clamp.I1, new ClampPlace(Conductor.A, true, 1))
                .SetItem(Clamp.I2, ClampPlace.Right(Conductor.C))
                .SetItem(Clamp.I3, ClampPlace.Right(Conductor.B)),
        },
        new CheckOptions { Load = LoadKind.Motors }, 2);

    private static DemoPanel Offices() => Make(
        "offices", "Office floor, riser board (invented)", "Lighting and desks full of electronics; total power looks plausible.",
        ServiceKind.Wye, Supply(s_wye208, 60, 400),
        [
            PanelLoad.Linear(ServiceKind.Wye, s_wye208, 30_000, 0.866),
            PanelLoad.Rectifier(Conductor.A, Conductor.N, 3_000),
            PanelLoad.Rectifier(Conductor.B, Conductor.N, 3_600),
            PanelLoad.Rectifier(Conductor.C, Conductor.N, 2_700),
        ],
        400,
        hookup => hookup with
        {
            Clamps = hookup.Clamps
                .SetItem(Clamp.I1, new ClampPlace(Conductor.B, true, 1))
                .SetItem(Clamp.I2, new ClampPlace(Conductor.C, true, 1))
                .SetItem(Clamp.I3, new ClampPlace(Conductor.A, true, 1)),
        },
        new CheckOptions(), 3);

    private static DemoPanel PumpHouse() => Make(
        "pump-house", "Pump house, motor panel (invented)", "Three-wire service, two pumps in duty and standby.",
        ServiceKind.Delta, Supply(s_delta480, 60, 200),
        [
            PanelLoad.Motor(s_delta480, 45_000, 0.84),
            PanelLoad.Motor(s_delta480, 11_000, 0.72).Switched(new LoadSchedule(false, [4.0])),
            PanelLoad.LineToLine(ServiceKind.Delta, s_delta480, Conductor.A, Conductor.B, 3_000, 0.97),
        ],
        200,
        hookup => hookup with { Leads = hookup.Leads.SetItem(Lead.V3, null) },
        new CheckOptions { Load = LoadKind.Motors }, 4);

    private static DemoPanel ColdStore() => Make(
        "cold-store", "Cold store, compressor panel (invented)", "Two clamps on three wires; compressors run all day.",
        ServiceKind.DeltaTwoClamp, Supply(s_delta400, 50, 200),
        [
            PanelLoad.Motor(s_delta400, 52_000, 0.8),
            PanelLoad.LineToLine(ServiceKind.DeltaTwoClamp, s_delta400, Conductor.B, Conductor.C, 4_000, 1)
                .Switched(new LoadSchedule(true, [5.2])),
        ],
        200,
        hookup => hookup with { Clamps = hookup.Clamps.SetItem(Clamp.I3, new ClampPlace(Conductor.C, true, 1)) },
        new CheckOptions { Load = LoadKind.Motors }, 5);

    private static DemoPanel SchoolRoof() => Make(
        "school-roof", "School, incomer with roof generation (invented)", "Sunny noon: the roof makes more than the building takes.",
        ServiceKind.Wye, Supply(s_wye400, 50, 200),
        [
            PanelLoad.Linear(ServiceKind.Wye, s_wye400, 12_000, 0.93),
            PanelLoad.SinglePhase(s_wye400, Conductor.A, 1_800, 0.98).Switched(new LoadSchedule(true, [2.2, 6.1])),
            PanelLoad.Rectifier(Conductor.B, Conductor.N, 1_100),
            PanelLoad.Generation(ServiceKind.Wye, 33_000, 500),
        ],
        200, hookup => hookup, new CheckOptions { MayExport = true }, 6);

    private static DemoPanel Farmhouse() => Make(
        "farmhouse", "Farmhouse, service panel (invented)", "Single-phase three-wire; range, well pump and lights.",
        ServiceKind.Split, Supply(s_split, 60, 100),
        [
            PanelLoad.LineToLine(ServiceKind.Split, s_split, Conductor.A, Conductor.B, 4_500, 1),
            PanelLoad.LineToLine(ServiceKind.Split, s_split, Conductor.A, Conductor.B, 900, 0.72),
            PanelLoad.SinglePhase(s_split, Conductor.A, 1_600, 0.93),
            PanelLoad.SinglePhase(s_split, Conductor.B, 500, 0.9).Switched(new LoadSchedule(false, [3.3])),
        ],
        100,
        hookup => hookup with { Clamps = hookup.Clamps.SetItem(Clamp.I2, new ClampPlace(Conductor.B, true, 1)) },
        new CheckOptions(), 7);

    private static DemoPanel Kiosk() => Make(
        "kiosk", "Newspaper kiosk, consumer unit (invented)", "Two wires: a heater, a fridge and a lamp.",
        ServiceKind.Single, Supply(new NominalVoltage(230, 230), 50, 50),
        [
            PanelLoad.SinglePhase(s_wye400, Conductor.A, 1_500, 1),
            PanelLoad.SinglePhase(s_wye400, Conductor.A, 180, 0.65),
            PanelLoad.Rectifier(Conductor.A, Conductor.N, 60),
        ],
        50, hookup => hookup, new CheckOptions { Load = LoadKind.Lighting }, 8);

    private static DemoPanel Laundry() => Make(
        "laundry", "Laundry, distribution board (invented)", "Washers and dryers; one lead would not stay on its screw.",
        ServiceKind.Wye, Supply(s_wye208, 60, 200),
        [
            PanelLoad.Linear(ServiceKind.Wye, s_wye208, 18_000, 0.97),
            PanelLoad.Motor(s_wye208, 7_000, 0.75),
            PanelLoad.SinglePhase(s_wye208, Conductor.C, 2_400, 1).Switched(new LoadSchedule(true, [4.4])),
            PanelLoad.Rectifier(Conductor.A, Conductor.N, 700),
        ],
        200,
        hookup => hookup with
        {
            Leads = hookup.Leads.SetItem(Lead.V2, null),
            Clamps = hookup.Clamps.SetItem(Clamp.I3, new ClampPlace(Conductor.C, false, 10)),
        },
        new CheckOptions(), 9);

    private static DemoPanel MachineShop() => Make(
        "machine-shop", "Machine shop, drives panel (invented)", "Variable-speed drives on three wires, clamps right, leads from memory.",
        ServiceKind.Delta, Supply(s_delta480, 60, 200),
        [
            PanelLoad.Drive(40_000),
            PanelLoad.Motor(s_delta480, 6_000, 0.7),
            PanelLoad.LineToLine(ServiceKind.Delta, s_delta480, Conductor.C, Conductor.A, 2_500, 1)
                .Switched(new LoadSchedule(true, [3.9])),
        ],
        200,
        hookup => hookup with
        {
            Leads = hookup.Leads.SetItem(Lead.V1, Conductor.B).SetItem(Lead.V2, Conductor.A),
        },
        new CheckOptions { Load = LoadKind.Drives, ToldRotation = Rotation.Abc }, 10);

    private static DemoPanel Sawmill() => Make(
        "sawmill", "Sawmill, main panel (invented)", "Four-wire delta: saws on three phases, office and lights on the 120 V legs.",
        ServiceKind.HighLeg, Supply(s_highLeg, 60, 200) with { HighLeg = Conductor.C },
        [
            PanelLoad.Motor(s_highLeg, 21_000, 0.81),
            PanelLoad.SinglePhase(s_highLeg, Conductor.A, 3_200, 0.96),
            PanelLoad.SinglePhase(s_highLeg, Conductor.B, 2_100, 0.93).Switched(new LoadSchedule(true, [4.8])),
            PanelLoad.LineToLine(ServiceKind.HighLeg, s_highLeg, Conductor.A, Conductor.B, 2_500, 1),
            PanelLoad.Rectifier(Conductor.A, Conductor.N, 700),
        ],
        200,
        hookup => hookup with { Clamps = hookup.Clamps.SetItem(Clamp.I2, new ClampPlace(Conductor.B, true, 1)) },
        new CheckOptions { Load = LoadKind.Motors }, 11);

    private static DemoPanel Flat() => Make(
        "flat", "Flat in a tall block, panel (invented)", "Two lines and the neutral of the building's wye; cooker, cooler and lights.",
        ServiceKind.Network, Supply(s_wye208, 60, 100),
        [
            PanelLoad.LineToLine(ServiceKind.Network, s_wye208, Conductor.A, Conductor.B, 1_800, 0.98),
            PanelLoad.SinglePhase(s_wye208, Conductor.A, 1_900, 0.94),
            PanelLoad.SinglePhase(s_wye208, Conductor.B, 1_300, 0.88).Switched(new LoadSchedule(false, [3.7])),
            PanelLoad.Rectifier(Conductor.B, Conductor.N, 300),
        ],
        100,
        hookup => hookup with
        {
            Clamps = hookup.Clamps.SetItem(Clamp.I1, ClampPlace.Right(Conductor.B)).SetItem(Clamp.I2, ClampPlace.Right(Conductor.A)),
        },
        new CheckOptions(), 12);

    private static PanelSource Supply(NominalVoltage nominal, double frequencyHertz, double ratingAmperes)
    {
        // Some 1.5 % drop at rated current, reactance and resistance alike.
        var ohms = 0.015 * nominal.LineToNeutralVolts / ratingAmperes / Math.Sqrt(2);
        return new PanelSource
        {
            Nominal = nominal,
            FrequencyHertz = frequencyHertz + 0.012,
            NominalFrequencyHertz = frequencyHertz,
            Line = new Impedance(ohms, ohms),
            Neutral = new Impedance(1.2 * ohms, 1.2 * ohms),
            DeviationA = new PhaseDeviation(0.004, 0.1),
            DeviationB = new PhaseDeviation(-0.003, -0.2),
            DeviationC = new PhaseDeviation(0.001, 0.15),
            Background = new Spectrum(
                new SpectrumLine(3, 0.005, 170), new SpectrumLine(5, 0.014, -160), new SpectrumLine(7, 0.008, 40)),
            GroundOffset = Phasor.FromDegrees(0.4, 30),
            History = new SupplyHistory([], 0.0002),
        };
    }

    private static DemoPanel Make(
        string key, string name, string story, ServiceKind kind, PanelSource source, ImmutableArray<PanelLoad> loads,
        double ratingAmperes, Func<Hookup, Hookup> change, CheckOptions options, ulong seed)
    {
        var service = Service.Of(kind);
        var truth = change(Hookup.Expected(service.Leads, service.Clamps));
        var instrument = InstrumentDraw.Draw(
            truth, ratingAmperes, false,
            InstrumentDisplay.Everything with { ShowsVoltageSum = false, SignificantDigits = 4, AngleDecimals = 1 },
            new SeededRandom(seed).Fork(15));
        return new DemoPanel(key, name, story, new VirtualPanel(kind, source, loads), truth, instrument, options, seed);
    }
}
