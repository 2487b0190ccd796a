using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Hookups.Settling;
using Leadwright.Core.Panels;

namespace Leadwright.Core.Practice.Forms;

/// <summary>Two clamps on three wires, heaters on: the total is what the nameplates say. A motor is there to be started.</summary>
/// <remarks>With leads 2 and 3 exchanged and clamp 3 turned the instrument reads 1 + 0.577 tan φ of the true power, with leads 1 and 2
/// exchanged and clamp 1 turned 1 − 0.577 tan φ: right at power factor 1 (docs/methods/wrong-connection-effects.md).</remarks>
internal sealed class HeaterTestForm : IPracticeForm
{
    public const string Right = "right";
    public const string ReadsMore = "leads-2-3-clamp-3";
    public const string ReadsLess = "leads-1-2-clamp-1";

    public Exercise Make(ExerciseKey key)
    {
        var random = new SeededRandom(key.Seed).Fork(104);
        var isEurope = random.Chance(0.5);
        var lineToLine = isEurope ? 400.0 : 480.0;
        var nominal = new NominalVoltage(lineToLine / Math.Sqrt(3), lineToLine);
        var heaters = 1000.0 * (6 + (3 * random.Below(6)));
        var powerFactor = key.Level switch { 1 => 0.8, 2 => 0.85, _ => 0.88 };
        var motor = 100 * Math.Round(heaters * (key.Level == 3 ? 0.5 : 1.2) / 100);
        var choice = new[] { Right, ReadsMore, ReadsLess }[random.Below(3)];
        var source = new PanelSource { Nominal = nominal, FrequencyHertz = isEurope ? 50 : 60 };
        var panel = new VirtualPanel(
            ServiceKind.DeltaTwoClamp, source, PanelLoad.Linear(ServiceKind.DeltaTwoClamp, nominal, heaters, 1));
        var hookup = Of(choice);
        var display = InstrumentDisplay.NoAngles with
        {
            ShowsVars = false,
            ShowsVoltAmperes = false,
            ShowsPowerFactor = false,
            SignificantDigits = 4,
        };
        var instrument = new Instrument { ClampRatingAmperes = 200, CurrentNoiseFraction = 1e-5, VoltageNoiseFraction = 1e-5, Display = display };
        var site = new PracticeSite(panel, instrument, hookup, key.Seed) { Motor = PanelLoad.Motor(nominal, motor, powerFactor) };
        return new Exercise
        {
            Key = key,
            Service = ServiceKind.DeltaTwoClamp,
            Nominal = nominal,
            Readings = site.Readings,
            Known = new CheckOptions { Load = LoadKind.Lighting },
            Figures =
            [
                new ExerciseFigure("heater-watts", heaters, "W"),
                new ExerciseFigure("motor-watts", motor, "W"),
                new ExerciseFigure("motor-power-factor", powerFactor, ""),
            ],
            Choices = [Right, ReadsMore, ReadsLess],
            RightChoices = [choice],
            Actions = [new SettlingAction(SettlingKind.Motor), new SettlingAction(SettlingKind.Rotation)],
            Site = site,
        };
    }

    private static Hookup Of(string choice)
    {
        var service = Service.Of(ServiceKind.DeltaTwoClamp);
        var right = Hookup.Expected(service.Leads, service.Clamps);
        return choice switch
        {
            ReadsMore => right with
            {
                Leads = right.Leads.SetItem(Lead.V2, Conductor.C).SetItem(Lead.V3, Conductor.B),
                Clamps = right.Clamps.SetItem(Clamp.I3, new ClampPlace(Conductor.C, true, 1)),
            },
            ReadsLess => right with
            {
                Leads = right.Leads.SetItem(Lead.V1, Conductor.B).SetItem(Lead.V2, Conductor.A),
                Clamps = right.Clamps.SetItem(Clamp.I1, new ClampPlace(Conductor.A, true, 1)),
            },
            _ => right,
        };
    }
}
