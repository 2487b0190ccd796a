using System.Globalization;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Hookups.Settling;
using Leadwright.Core.Panels;

namespace Leadwright.Populations;

/// <summary>What a person who never errs would find at a simulated panel.</summary>
/// <remarks>A load is really switched and a motor really started on the simulated panel, and the instrument read before and after:
/// the check's own prediction of an answer is not used.</remarks>
internal static class TruthAnswers
{
    private const double MovedShare = 0.1;

    public static ToldAnswer? Of(PanelCase panel, Settlement settlement)
    {
        var action = settlement.Action;
        var answer = action.Kind switch
        {
            SettlingKind.Rotation => panel.Rotation == Rotation.Acb ? "acb" : "abc",
            SettlingKind.Arrow => panel.Truth.Clamps[action.AtClamp!.Value].Reversed ? "source" : "load",
            SettlingKind.Clamp => panel.Truth.Clamps[action.AtClamp!.Value].On?.ToString() ?? "none",
            SettlingKind.Lead => panel.Truth.Leads[action.AtLead!.Value]?.ToString() ?? "none",
            SettlingKind.Contact => panel.Truth.Leads[action.AtLead!.Value] is null ? "no" : "yes",
            SettlingKind.Meter => Meter(panel, action),
            SettlingKind.HandClamp => HandClamp(panel, settlement),
            SettlingKind.Switched => Switched(panel, action),
            SettlingKind.Motor => Motor(panel),
            SettlingKind.Export => panel.Panel.Solve().Watts < 0 ? "yes" : "no",
            _ => null,
        };
        return answer is null ? null : new ToldAnswer(action, answer);
    }

    private static string Meter(PanelCase panel, SettlingAction action)
    {
        var solution = panel.Panel.Solve();
        var first = panel.Truth.Leads[action.AtLead!.Value];
        var second = action.ToLead is { } lead ? panel.Truth.Leads[lead] : action.AtConductor;
        if (first is not { } from || second is not { } to) return "0";
        return (solution.Potential(from) - solution.Potential(to)).Magnitude.ToString("0.#", CultureInfo.InvariantCulture);
    }

    // A screen offers sizes; who finds none of them says so.
    private static string HandClamp(PanelCase panel, Settlement settlement)
    {
        var amperes = panel.Panel.Solve().Current(settlement.Action.AtConductor!.Value).Magnitude;
        var offered = settlement.Outcomes.Where(outcome => outcome.Answer != "other").Select(outcome => double.Parse(outcome.Answer, CultureInfo.InvariantCulture));
        var small = 0.02 * panel.Instrument.ClampRatingAmperes * 0.05;
        return offered.Any(size => Math.Abs(size - amperes) < Math.Max(0.1 * amperes, small))
            ? amperes.ToString("0.###", CultureInfo.InvariantCulture) : "other";
    }

    // Where the check doubts the service it may ask for a load on a conductor that this panel doesn't have: nobody can switch that.
    private static string? Switched(PanelCase panel, SettlingAction action)
    {
        if (action.ToConductor is null && !Service.Of(panel.Panel.Service).Conductors.Contains(Conductor.N)) return null;
        var nominal = panel.Panel.Source.Nominal;
        var watts = 0.05 * panel.Instrument.ClampRatingAmperes * nominal.LineToNeutralVolts;
        var load = action.ToConductor is { } other
            ? PanelLoad.LineToLine(panel.Panel.Service, nominal, action.AtConductor!.Value, other, watts, 1)
            : PanelLoad.SinglePhase(nominal, action.AtConductor!.Value, watts, 1);
        if (Changes(panel, load) is not { } changes) return null;
        var words = changes.Where(change => Math.Abs(change.Watts) > MovedShare * watts)
            .Select(change => $"{change.Clamp},{(change.Watts > 0 ? "up" : "down")}").ToArray();
        return words.Length == 0 ? "none" : string.Join(',', words);
    }

    private static string? Motor(PanelCase panel)
    {
        var nominal = panel.Panel.Source.Nominal;
        var watts = 0.05 * panel.Instrument.ClampRatingAmperes * 3 * nominal.LineToNeutralVolts;
        if (Changes(panel, PanelLoad.Motor(nominal, watts, 0.75)) is not { } changes) return null;
        return changes.All(change => change.Watts > 0.02 * watts) ? "up" : changes.All(change => change.Watts < -0.02 * watts) ? "down" : "mixed";
    }

    /// <summary>By how much the power that each clamp goes into moves; null where the instrument shows none, or the supply is too weak.</summary>
    private static List<(Clamp Clamp, double Watts)>? Changes(PanelCase panel, PanelLoad load)
    {
        try
        {
            var quiet = panel.Instrument with { CurrentNoiseFraction = 0, VoltageNoiseFraction = 0, OverloadFactor = 100 };
            var before = quiet.Read(panel.Panel.Solve(), panel.Truth, 1);
            var after = quiet.Read(new VirtualPanel(panel.Panel.Service, panel.Panel.Source, panel.Panel.Loads.Add(load)).Solve(), panel.Truth, 1);
            var changes = new List<(Clamp, double)>();
            foreach (var clamp in panel.Truth.Clamps.Keys.Where(clamp => clamp != Clamp.IN))
            {
                if (!before.Phases.TryGetValue((int)clamp + 1, out var earlier) || earlier.Watts is null) return null;
                changes.Add((clamp, after.Phases[(int)clamp + 1].Watts!.Value - earlier.Watts.Value));
            }

            return changes;
        }
        catch (InvalidOperationException)
        {
            return null;
        }
    }
}
