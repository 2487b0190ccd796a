using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Hookups.Settling;
using Leadwright.Core.Panels;

namespace Leadwright.Core.Practice.Forms;

/// <summary>The total is true, every channel is positive, the power factor shows 0.866 leading: a site with capacitors, or each
/// clamp one phase on and turned over a load of 0.866 lagging?</summary>
/// <remarks>Turned forward reads 1/2 + 0.866 tan φ of the true power: exactly all of it at φ = 30 degrees
/// (docs/methods/wrong-connection-effects.md). The screen alone can't tell.</remarks>
internal sealed class PlausibleTotalForm : IPracticeForm
{
    public const string RightLeading = "right-leading";
    public const string TurnedForward = "turned-forward";

    public Exercise Make(ExerciseKey key)
    {
        var random = new SeededRandom(key.Seed).Fork(103);
        var rating = new[] { 100.0, 200, 400 }[random.Below(3)];
        var lead = 30 + (key.Level == 1 ? 0 : random.Uniform(-1, 1));
        var size = rating * random.Uniform(0.3, 0.7);
        var spread = key.Level == 3 ? 0.15 : 0.02;
        double[] amperes = [size, size * (1 + random.Uniform(-spread, spread)), size * (1 + random.Uniform(-spread, spread))];
        var isTurned = random.Chance(0.5);
        var site = TwinSites.Of(isTurned ? TwinSites.ForwardTurned : TwinSites.Right, -lead, amperes, rating, key.Seed);
        return new Exercise
        {
            Key = key,
            Service = ServiceKind.Wye,
            Nominal = site.Panel.Source.Nominal,
            Readings = site.Readings,
            Known = new CheckOptions { Load = LoadKind.Unknown },
            Figures = [new ExerciseFigure("supplier-watts", 10 * Math.Round(site.Panel.Solve().Watts / 10), "W")],
            Choices = [RightLeading, TurnedForward],
            RightChoices = [isTurned ? TurnedForward : RightLeading],
            Actions = [.. PracticeSite.ActionsOn(ServiceKind.Wye).Where(action => action.Kind != SettlingKind.Meter)],
            Site = site,
        };
    }
}
