using Leadwright.Core.Circuits;
using Leadwright.Core.Panels;

namespace Leadwright.Core.Practice.Forms;

/// <summary>A panel with hidden faults, drawn from the same population as the one on which the check of hook-ups is measured.</summary>
/// <param name="allowsActions">True where more may be read and switched; false where the screen is all there is.</param>
internal sealed class PanelForm(bool allowsActions) : IPracticeForm
{
    // Far more than any level needs: level 3 with three slips takes some fifteen.
    private const int MostTries = 4000;

    private static readonly ServiceKind[] s_services =
        [ServiceKind.Wye, ServiceKind.Wye, ServiceKind.Delta, ServiceKind.Split, ServiceKind.DeltaTwoClamp, ServiceKind.HighLeg];

    private static readonly LoadFamily[] s_ordinary = [LoadFamily.Ordinary, LoadFamily.Motors, LoadFamily.Unbalanced];

    private static readonly LoadFamily[] s_hard =
        [LoadFamily.Ordinary, LoadFamily.Unbalanced, LoadFamily.Export, LoadFamily.Leading, LoadFamily.Light, LoadFamily.Distorted];

    private static readonly SlipKind[] s_easy =
        [SlipKind.ClampReversed, SlipKind.ClampsExchanged, SlipKind.ClampOpen, SlipKind.LeadOpen, SlipKind.LeadsExchanged];

    public Exercise Make(ExerciseKey key)
    {
        var random = new SeededRandom(key.Seed).Fork(101);
        var drawnService = key.Level == 1 ? ServiceKind.Wye : s_services[random.Below(s_services.Length)];
        var families = key.Level == 3 ? s_hard : s_ordinary;
        var drawnFamily = key.Level == 1 ? LoadFamily.Ordinary : families[random.Below(families.Length)];
        var slips = Slips(key.Level, random.NextUnit());
        var population = new PanelPopulation
        {
            Service = key.Service ?? drawnService,
            Family = key.Load ?? drawnFamily,
            Seed = key.Seed,
            VariesDisplay = allowsActions && key.Level == 3,
        };
        var drawn = First(population, key.Level, slips);
        return new Exercise
        {
            Key = key,
            Service = population.Service,
            Nominal = drawn.Panel.Source.Nominal,
            Readings = drawn.Readings,
            Known = drawn.Options,
            Actions = allowsActions ? PracticeSite.ActionsOn(population.Service) : [],
            Site = new PracticeSite(drawn.Panel, drawn.Instrument, drawn.Truth, drawn.Seed, drawn.Readings),
        };
    }

    // Now and then nothing is wrong: who finds a fault in everything has learnt nothing.
    private static int Slips(int level, double unit) => level switch
    {
        1 => unit < 0.15 ? 0 : 1,
        2 => unit < 0.2 ? 0 : unit < 0.6 ? 1 : 2,
        _ => unit < 0.2 ? 0 : unit < 0.7 ? 2 : 3,
    };

    private static PanelCase First(PanelPopulation population, int level, int slips)
    {
        for (var index = 0; index < MostTries; index++)
        {
            var drawn = population.Case(index);
            if (drawn.Slips.Length != slips || drawn.Truth.IsRight != (slips == 0)) continue;
            if (level > 1 || drawn.Slips.All(slip => s_easy.Contains(slip))) return drawn;
        }

        throw new InvalidOperationException($"This is a bug in Leadwright: no panel with {slips} slips among {MostTries}.");
    }
}
