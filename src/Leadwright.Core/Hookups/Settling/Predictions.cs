using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups.Hypotheses;

namespace Leadwright.Core.Hookups.Settling;

/// <summary>What a person would find, under one arrangement, by each action.</summary>
/// <remarks>Derivation: docs/methods/settling.md.</remarks>
internal static class Predictions
{
    private const double ContactFound = 0.85;
    private const double PowerFactorTells = 0.1;
    private static readonly double[] s_motorLags = [25, 45, 65];

    /// <summary>The answers that the action may have when the person does not err, with their probabilities, which add up to one;
    /// empty when the action makes no sense here.</summary>
    /// <param name="action">Any action but <see cref="SettlingKind.HandClamp"/> and <see cref="SettlingKind.ReadAgain"/>.</param>
    /// <param name="situation">The arrangement.</param>
    /// <param name="showsPower">True when the instrument shows which way power moves.</param>
    public static List<(string Answer, double Probability)> Of(SettlingAction action, Situation situation, bool showsPower)
    {
        switch (action.Kind)
        {
            case SettlingKind.Rotation when situation.Service.IsThreePhase:
                return [(situation.Rotation == Rotation.Acb ? "acb" : "abc", 1)];
            case SettlingKind.Arrow when situation.PlaceOf(action.AtClamp!.Value) is { } clamp:
                return clamp.Place == Place.Air ? [("load", 0.5), ("source", 0.5)] : Arrow(clamp.Reversed, situation.AllReversed);
            case SettlingKind.Clamp when situation.PlaceOf(action.AtClamp!.Value) is { } clamp:
                return [(NameOf(clamp.Place), 1)];
            case SettlingKind.Lead when situation.Leads.Contains(action.AtLead!.Value):
                return [(NameOf(situation.PlaceOf(action.AtLead.Value)), 1)];
            case SettlingKind.Contact when situation.Leads.Contains(action.AtLead!.Value):
                return [(situation.PlaceOf(action.AtLead.Value) == Place.Air ? "no" : "yes", 1)];
            case SettlingKind.Meter:
                return Meter(action, situation);
            case SettlingKind.Switched when Change(action, situation) is { } change:
                return Switched(situation, change, showsPower);
            case SettlingKind.Motor when situation.Service.IsThreePhase && showsPower:
                return Motor(situation);
            case SettlingKind.Export:
                var factor = situation.PowerFactor();
                return Math.Abs(factor) > PowerFactorTells ? [(factor < 0 ? "yes" : "no", 1)] : [("yes", 0.5), ("no", 0.5)];
            case SettlingKind.Watts:
                return [(situation.Hypothesis.Convention.LoadNegative ? "load-negative" : "load-positive", 1)];
            case SettlingKind.Angles:
                return [(situation.Hypothesis.Convention.LagPositive ? "lag-positive" : "lead-positive", 1)];
            default:
                return [];
        }
    }

    private static List<(string, double)> Arrow(bool reversed, bool throughout) => reversed && throughout
        ? [("source", 1 - SettlingRates.ArrowMisreadThroughout), ("load", SettlingRates.ArrowMisreadThroughout)]
        : [(reversed ? "source" : "load", 1)];

    private static List<(string, double)> Meter(SettlingAction action, Situation situation)
    {
        if (!situation.Leads.Contains(action.AtLead!.Value)) return [];
        var first = situation.PlaceOf(action.AtLead.Value);
        int second;
        if (action.ToLead is { } lead)
        {
            if (!situation.Leads.Contains(lead)) return [];
            second = situation.PlaceOf(lead);
        }
        else
        {
            if (!situation.Service.Conductors.Contains(action.AtConductor!.Value)) return [];
            second = (int)action.AtConductor.Value;
        }

        // A meter of low input resistance pulls a lead in the air to its other end.
        if (first == Place.Air || second == Place.Air)
        {
            var volts = situation.VoltsBetween(0, situation.Service.Conductors.Length > 1 ? (int)situation.Service.Conductors[1] : 0);
            return [("0", ContactFound), (SettlingText.Size(0.5 * volts), 1 - ContactFound)];
        }

        return [(SettlingText.Size(situation.VoltsBetween(first, second)), 1)];
    }

    /// <summary>How the currents of the conductors change when a known resistive load is switched on; null where it can't be there.</summary>
    private static Phasor[]? Change(SettlingAction action, Situation situation)
    {
        var conductors = situation.Service.Conductors;
        var line = action.AtConductor!.Value;
        if (!conductors.Contains(line)) return null;
        var change = new Phasor[4];
        if (action.ToConductor is not { } other)
        {
            if (!conductors.Contains(Conductor.N)) return null;
            change[(int)line] = situation.VoltageOf((int)line);
            change[Place.N] = -change[(int)line];
            return change;
        }

        if (!conductors.Contains(other)) return null;
        change[(int)line] = situation.VoltageOf((int)line) - situation.VoltageOf((int)other);
        change[(int)other] = -change[(int)line];
        return change;
    }

    private static List<(string, double)> Switched(Situation situation, Phasor[] change, bool showsPower)
    {
        // Without powers only the size of the currents tells, and not which way.
        if (!showsPower)
            return [(SettlingText.Moved(situation.CurrentsMoved(change).Order().Select(clamp => KeyValuePair.Create(clamp, 0))), 1)];
        var found = new List<(SortedDictionary<Clamp, int> Moved, double Probability)> { ([], 1) };
        foreach (var (clamp, moves) in situation.PowersMoved(change))
        {
            found = [.. found.SelectMany(part => moves.Select(move => (
                move == 0 ? part.Moved : new SortedDictionary<Clamp, int>(part.Moved) { [clamp] = move },
                part.Probability / moves.Length)))];
        }

        return found.ConvertAll(part => (SettlingText.Moved(part.Moved), part.Probability));
    }

    private static List<(string, double)> Motor(Situation situation)
    {
        double up = 0, down = 0;
        foreach (var lag in s_motorLags)
        {
            var change = new Phasor[4];
            for (var line = 0; line < 3; line++) change[line] = situation.VoltageOf(line).TurnedByDegrees(-lag);
            double allUp = 1, allDown = 1;
            foreach (var (_, moves) in situation.PowersMoved(change))
            {
                allUp *= (double)moves.Count(move => move > 0) / moves.Length;
                allDown *= (double)moves.Count(move => move < 0) / moves.Length;
            }

            up += allUp / s_motorLags.Length;
            down += allDown / s_motorLags.Length;
        }

        return [("up", up), ("down", down), ("mixed", 1 - up - down)];
    }

    private static string NameOf(int place) => place == Place.Air ? "none" : ((Conductor)place).ToString();
}
