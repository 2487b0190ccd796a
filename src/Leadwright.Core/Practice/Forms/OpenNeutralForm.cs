using System.Collections.Immutable;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Hookups.Settling;
using Leadwright.Core.Panels;

namespace Leadwright.Core.Practice.Forms;

/// <summary>Three voltages near nominal: is the neutral there, is the recorder's neutral lead off, or has the supply lost its neutral?</summary>
/// <remarks>With equal inputs, or equal loads, the star point stands where the neutral would: the numbers are fine and prove nothing. A
/// single-phase load that is switched on, or a meter of low resistance, tells (docs/methods/wrong-connection-effects.md).</remarks>
internal sealed class OpenNeutralForm : IPracticeForm
{
    public const string Sound = "sound";
    public const string LeadOpen = "neutral-lead-open";
    public const string SupplyOpen = "supply-neutral-open";

    private const double LostNeutralOhms = 500;

    public Exercise Make(ExerciseKey key)
    {
        var random = new SeededRandom(key.Seed).Fork(107);
        var choice = new[] { Sound, LeadOpen, SupplyOpen }[random.Below(3)];
        var nominal = random.Chance(0.5) ? new NominalVoltage(230, 400) : new NominalVoltage(120, 208);
        const double Rating = 200;
        var ohms = 0.012 * nominal.LineToNeutralVolts / Rating;
        var source = new PanelSource
        {
            Nominal = nominal, FrequencyHertz = nominal.LineToNeutralVolts > 200 ? 50 : 60, Line = new Impedance(ohms, ohms),
            Neutral = choice == SupplyOpen ? new Impedance(LostNeutralOhms, 0) : new Impedance(ohms, ohms),
            DeviationA = new PhaseDeviation(random.Uniform(-0.004, 0.004), 0), DeviationC = new PhaseDeviation(random.Uniform(-0.004, 0.004), 0),
            Background = new Spectrum(new SpectrumLine(3, 0.006, random.Uniform(-180, 180)), new SpectrumLine(5, 0.012, random.Uniform(-180, 180))),
            GroundOffset = Phasor.FromDegrees(random.Uniform(0.2, 1.2), random.Uniform(-180, 180)),
        };
        var watts = nominal.LineToNeutralVolts * Rating * random.Uniform(0.2, 0.45);
        var spread = key.Level == 1 ? 0.005 : 0.015;
        var loads = ImmutableArray.CreateBuilder<PanelLoad>(3);
        for (var line = 0; line < 3; line++)
            loads.Add(PanelLoad.SinglePhase(nominal, (Conductor)line, watts * (1 + random.Uniform(-spread, spread)), 0.95));
        var right = TwinSites.Right;
        var hookup = choice == LeadOpen ? right with { Leads = right.Leads.SetItem(Lead.VN, null) } : right;
        var display = InstrumentDisplay.Everything with { ShowsVoltageSum = false, SignificantDigits = 4, AngleDecimals = 1 };
        var instrument = InstrumentDraw.Draw(hookup, Rating, false, display, new SeededRandom(key.Seed).Fork(15));
        var site = new PracticeSite(new VirtualPanel(ServiceKind.Wye, source, loads.ToImmutable()), instrument, hookup, key.Seed);
        return new Exercise
        {
            Key = key,
            Service = ServiceKind.Wye,
            Nominal = nominal,
            Readings = site.Readings,
            Choices = [Sound, LeadOpen, SupplyOpen],
            RightChoices = [choice],
            Actions =
            [
                .. Service.Of(ServiceKind.Wye).Leads.SelectMany(lead => new[] { Conductor.A, Conductor.N, Conductor.G }
                    .Select(conductor => new SettlingAction(SettlingKind.Meter) { AtLead = lead, AtConductor = conductor })),
                new SettlingAction(SettlingKind.HandClamp) { AtConductor = Conductor.N },
                .. new[] { Conductor.A, Conductor.B, Conductor.C }.Select(line => new SettlingAction(SettlingKind.Switched) { AtConductor = line }),
                new SettlingAction(SettlingKind.Motor),
            ],
            Site = site,
        };
    }
}
