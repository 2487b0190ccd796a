using System.Globalization;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups.Settling;
using Leadwright.Core.Practice;
using Leadwright.Reports.Hookups;

namespace Leadwright.Reports.Practice;

/// <summary>Names what may be done in an exercise, and what was found.</summary>
public static class ActionWording
{
    /// <summary>The action as a few words, such as <c>Hand clamp on conductor B</c>.</summary>
    /// <param name="action">The action.</param>
    public static string Of(SettlingAction action)
    {
        ArgumentNullException.ThrowIfNull(action);
        return action.Kind switch
        {
            SettlingKind.Rotation => "Rotation indicator on conductors A, B and C",
            SettlingKind.Meter when action.ToLead is { } lead => $"Hand meter from lead {action.AtLead} to lead {lead}",
            SettlingKind.Meter => $"Hand meter from lead {action.AtLead} to {Place(action.AtConductor!.Value)}",
            SettlingKind.HandClamp => $"Hand clamp on {Place(action.AtConductor!.Value)}",
            SettlingKind.Switched when action.ToConductor is { } other => $"Switch a heater on between conductors {action.AtConductor} and {other}",
            SettlingKind.Switched => $"Switch a heater on, conductor {action.AtConductor} to neutral",
            SettlingKind.Motor => "Start a three-phase motor",
            _ => throw new ArgumentOutOfRangeException(nameof(action), action.Kind, "This is a bug in Leadwright: an action that practice lacks."),
        };
    }

    /// <summary>The kind of action, for a heading.</summary>
    /// <param name="kind">The kind.</param>
    public static string Of(SettlingKind kind) => kind switch
    {
        SettlingKind.Rotation => "Rotation indicator",
        SettlingKind.Meter => "Hand meter",
        SettlingKind.HandClamp => "Hand clamp",
        SettlingKind.Switched => "Switch a heater on",
        SettlingKind.Motor => "Start a motor",
        _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "This is a bug in Leadwright: an action that practice lacks."),
    };

    /// <summary>Where a kind of action is done, as a few letters: <c>V1 to B</c>, <c>A to neutral</c>; empty where there is one place only.</summary>
    /// <param name="action">The action.</param>
    public static string PlaceOf(SettlingAction action)
    {
        ArgumentNullException.ThrowIfNull(action);
        return action.Kind switch
        {
            SettlingKind.Meter => $"{action.AtLead} to {action.ToLead?.ToString() ?? Letter(action.AtConductor!.Value)}",
            SettlingKind.HandClamp => Letter(action.AtConductor!.Value),
            SettlingKind.Switched => $"{action.AtConductor} to {action.ToConductor?.ToString() ?? "N"}",
            _ => "",
        };
    }

    /// <summary>What was found, as one sentence.</summary>
    /// <param name="taken">The finding.</param>
    public static string Found(TakenReading taken)
    {
        ArgumentNullException.ThrowIfNull(taken);
        return taken.Action.Kind switch
        {
            SettlingKind.Rotation => taken.Answer == "acb" ? "The supply turns A, C, B." : "The supply turns A, B, C.",
            SettlingKind.Meter => $"It shows {taken.Answer} V.",
            SettlingKind.HandClamp => $"It shows {taken.Answer} A.",
            SettlingKind.Switched => Moved(taken.Answer),
            _ => taken.Answer switch
            {
                "up" => "The power of every phase rises.",
                "down" => "The power of every phase falls.",
                _ => "The phases don't move alike: not all rise, not all fall.",
            },
        };
    }

    private static string Moved(string answer)
    {
        var moved = ToldAnswer.MovedClamps(answer);
        if (moved.Count == 0) return "No phase moves to speak of.";
        return Phrases.Sentence(Phrases.Join(moved.Select(pair => string.Create(
            CultureInfo.InvariantCulture, $"the power with clamp {pair.Key} {(pair.Value > 0 ? "rises" : "falls")}"))));
    }

    private static string Place(Conductor conductor) => conductor switch
    {
        Conductor.N => "the neutral",
        Conductor.G => "ground",
        _ => $"conductor {conductor}",
    };

    private static string Letter(Conductor conductor) => conductor == Conductor.G ? "ground" : conductor.ToString();
}
