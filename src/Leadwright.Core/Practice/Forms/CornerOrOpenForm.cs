using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Hookups.Settling;
using Leadwright.Core.Panels;

namespace Leadwright.Core.Practice.Forms;

/// <summary>Three wires, read to ground with the fourth lead: one voltage is next to nothing. An earthed corner, a lead without
/// contact, or a lead on ground?</summary>
/// <remarks>With an earthed corner the two others stand at the line-to-line voltage, 60 degrees apart; with a lead that makes no contact
/// at the line-to-neutral voltage, 120 degrees apart. An earthed corner is as live as the others to whoever stands elsewhere:
/// nothing about it is dead.</remarks>
internal sealed class CornerOrOpenForm : IPracticeForm
{
    public const string Corner = "corner-grounded";
    public const string LeadOpen = "lead-open";
    public const string LeadOnGround = "lead-on-ground";

    public Exercise Make(ExerciseKey key)
    {
        var random = new SeededRandom(key.Seed).Fork(106);
        var choice = new[] { Corner, LeadOpen, LeadOnGround }[random.Below(key.Level == 1 ? 2 : 3)];
        var line = (Conductor)random.Below(3);
        var lineToLine = new[] { 240.0, 480, 400 }[random.Below(3)];
        var nominal = new NominalVoltage(lineToLine / Math.Sqrt(3), lineToLine);
        var service = Service.Of(ServiceKind.Delta);
        var right = Hookup.Expected(service.Leads, service.Clamps);
        var leads = right.Leads.Add(Lead.VN, Conductor.G);
        var hookup = right with
        {
            Leads = choice switch
            {
                LeadOpen => leads.SetItem((Lead)(int)line, null),
                LeadOnGround => leads.SetItem((Lead)(int)line, Conductor.G),
                _ => leads,
            },
        };
        var source = new PanelSource
        {
            Nominal = nominal, FrequencyHertz = lineToLine == 400 ? 50 : 60, EarthedCorner = choice == Corner ? line : null,
            DeviationA = new PhaseDeviation(random.Uniform(-0.006, 0.006), 0), DeviationB = new PhaseDeviation(random.Uniform(-0.006, 0.006), 0),
        };
        var panel = new VirtualPanel(
            ServiceKind.Delta, source, PanelLoad.Motor(nominal, random.Uniform(8_000, 30_000), 0.82));
        // Level 1 leaves the angles; without them the voltages between leads have to do.
        var display = (key.Level == 3 ? InstrumentDisplay.MagnitudesOnly : InstrumentDisplay.NoPowers) with
        {
            ShowsLineToLine = key.Level < 3,
            SignificantDigits = 4,
            AngleDecimals = 1,
        };
        var instrument = new Instrument
        {
            ClampRatingAmperes = 200, VoltageNoiseFraction = 1e-4, CurrentNoiseFraction = 3e-4, Display = display,
        };
        var site = new PracticeSite(panel, instrument, hookup, key.Seed);
        return new Exercise
        {
            Key = key,
            Service = ServiceKind.Delta,
            Nominal = nominal,
            Readings = site.Readings,
            Known = new CheckOptions { Load = LoadKind.Motors },
            Choices = [Corner, LeadOpen, LeadOnGround],
            RightChoices = [choice],
            Actions =
            [
                new SettlingAction(SettlingKind.Rotation),
                .. service.Leads.Select(lead => new SettlingAction(SettlingKind.Meter) { AtLead = lead, AtConductor = Conductor.G }),
                new SettlingAction(SettlingKind.Meter) { AtLead = Lead.V1, ToLead = Lead.V2 },
                new SettlingAction(SettlingKind.Meter) { AtLead = Lead.V2, ToLead = Lead.V3 },
                new SettlingAction(SettlingKind.Meter) { AtLead = Lead.V1, ToLead = Lead.V3 },
            ],
            Site = site,
        };
    }
}
