using System.Collections.Immutable;
using Leadwright.Core.Hookups;
using Leadwright.Core.Hookups.Settling;

namespace Leadwright.Reports.Hookups;

/// <summary>Asks, in words, for what would settle what is open; and says what was answered.</summary>
public static class SettleWording
{
    /// <summary>What stands beside every such action.</summary>
    public const string Frame = "A qualified person does this, under the site's rules.";

    private const double Nearly = 0.55;

    /// <summary>What to do and what to look for, in one sentence.</summary>
    /// <param name="settlement">The action with what may be found.</param>
    /// <param name="verdict">The verdict that it belongs to.</param>
    /// <param name="naming">How the site's conductors are called.</param>
    public static string Question(Settlement settlement, HookupVerdict verdict, ConductorNaming naming)
    {
        ArgumentNullException.ThrowIfNull(settlement);
        ArgumentNullException.ThrowIfNull(verdict);
        ArgumentNullException.ThrowIfNull(naming);
        var action = settlement.Action;
        return action.Kind switch
        {
            SettlingKind.Rotation => "Look at a rotation indicator on conductors A, B and C: which way does the supply turn?",
            SettlingKind.Arrow => $"Look at the arrow of clamp {action.AtClamp}: does it point to the load or to the source?",
            SettlingKind.Clamp => $"Follow the conductor in the jaws of clamp {action.AtClamp} to its label: which one is it?",
            SettlingKind.Lead => $"Follow lead {action.AtLead} to its clip and read the label there: which conductor is it on?",
            SettlingKind.Contact => $"Look whether the clip of lead {action.AtLead} sits on bare metal and the lead is plugged in at the recorder: "
                + "does it make contact?",
            SettlingKind.Meter => action.ToLead is { } lead
                ? $"Measure between lead {action.AtLead} and lead {lead} with a hand meter of low input resistance: what does it show?"
                : $"Measure between lead {action.AtLead} and {naming.Phrase(action.AtConductor!.Value)} with a hand meter of low input "
                    + "resistance: what does it show?",
            SettlingKind.HandClamp => $"Read {naming.Phrase(action.AtConductor!.Value)} with a hand clamp: how much current flows there?",
            SettlingKind.Switched => Switched(settlement, naming),
            SettlingKind.Motor => "Start a three-phase motor and watch the power of each phase: does it rise in all, fall in all, or neither?",
            SettlingKind.Export => "Ask whether generation runs and the site sends power back now: does it?",
            SettlingKind.Watts => "Look up how the instrument shows power that flows to the load: positive or negative?",
            SettlingKind.Angles => "Look up how the instrument counts angles: is a positive angle one that leads or one that lags?",
            SettlingKind.ReadAgain => "Read everything again, at one time and under more load, with angles if the instrument shows them, and check again.",
            _ => throw new ArgumentOutOfRangeException(nameof(settlement), action.Kind, "This is a bug in Leadwright: an action without words."),
        };
    }

    /// <summary>What to do to tell a rival from the report, and what is found in either case.</summary>
    /// <param name="settlement">The action.</param>
    /// <param name="verdict">The verdict that it belongs to.</param>
    /// <param name="naming">How the site's conductors are called.</param>
    public static string Against(Settlement settlement, HookupVerdict verdict, ConductorNaming naming)
    {
        var question = Question(settlement, verdict, naming);
        if (settlement.Outcomes.IsEmpty) return question;
        var reported = settlement.Outcomes.MaxBy(outcome => outcome.IfReported)!;
        var rival = settlement.Outcomes.MaxBy(outcome => outcome.IfRival)!;
        if (reported.Answer == rival.Answer) return question;
        var colon = question.LastIndexOf(':');
        return $"{question[..colon]}: {Found(settlement.Action, reported.Answer, reported.IfReported)} as reported, "
            + $"{Found(settlement.Action, rival.Answer, rival.IfRival)} in the other case.";
    }

    /// <summary>An answer in a few words, for a button or a list.</summary>
    /// <param name="action">The action.</param>
    /// <param name="answer">The answer; see <see cref="ToldAnswer.Answer"/>.</param>
    public static string Answer(SettlingAction action, string answer)
    {
        ArgumentNullException.ThrowIfNull(action);
        ArgumentNullException.ThrowIfNull(answer);
        var text = action.Kind switch
        {
            SettlingKind.Rotation => answer == "abc" ? "A-B-C" : "A-C-B",
            SettlingKind.Arrow => $"to the {answer}",
            SettlingKind.Clamp => answer == "none" ? "nothing, or not closed" : Place(answer),
            SettlingKind.Lead => answer == "none" ? "none, in the air" : Place(answer),
            SettlingKind.Meter => answer == "0" ? "about 0 V" : $"about {answer} V",
            SettlingKind.HandClamp => answer switch { "other" => "none of these", "0" => "nothing", _ => $"about {answer} A" },
            SettlingKind.Switched => Moves(answer),
            SettlingKind.Motor => answer switch { "up" => "all rise", "down" => "all fall", _ => "some rise, some fall" },
            SettlingKind.Watts => answer == "load-positive" ? "positive" : "negative",
            SettlingKind.Angles => answer == "lead-positive" ? "leads" : "lags",
            _ => answer,
        };
        return text;
    }

    /// <summary>What was told, in a clause: <c>the arrow of clamp I1 points to the source</c>.</summary>
    /// <param name="told">The answer.</param>
    public static string Told(ToldAnswer told)
    {
        ArgumentNullException.ThrowIfNull(told);
        var (action, answer) = (told.Action, Answer(told.Action, told.Answer));
        return action.Kind switch
        {
            SettlingKind.Rotation => $"rotation indicator: {answer}",
            SettlingKind.Arrow => $"arrow of clamp {action.AtClamp}: {answer}",
            SettlingKind.Clamp => $"in the jaws of clamp {action.AtClamp}: {answer}",
            SettlingKind.Lead => $"lead {action.AtLead} on: {answer}",
            SettlingKind.Contact => $"lead {action.AtLead} makes contact: {answer}",
            SettlingKind.Meter => $"meter between {action.AtLead} and {action.ToLead?.ToString() ?? action.AtConductor.ToString()}: {answer}",
            SettlingKind.HandClamp => $"hand clamp on {action.AtConductor}: {answer}",
            SettlingKind.Switched => $"load switched on {Ends(action)}: {answer}",
            SettlingKind.Motor => $"motor started, powers: {answer}",
            SettlingKind.Export => $"site sends power back: {answer}",
            SettlingKind.Watts => $"instrument shows power to the load: {answer}",
            SettlingKind.Angles => $"a positive angle: {answer}",
            _ => answer,
        };
    }

    /// <summary>The clause about an answer that does not go with the report or was not used; empty when it agrees.</summary>
    /// <param name="told">The answer.</param>
    public static string Doubt(WeighedTold told)
    {
        ArgumentNullException.ThrowIfNull(told);
        return told.Standing switch
        {
            ToldStanding.Contradicts =>
                $"What was told ({told.Told}) speaks against the reported hook-up: the readings or other answers weigh more. "
                + "Look again, and withdraw the answer if it was wrong.",
            ToldStanding.NotUsed => $"What was told ({told.Told}) was not used: this service or recorder has no such lead, clamp or conductor.",
            _ => "",
        };
    }

    /// <summary>The answers as they are written after <c>--told</c>, joined for a line of text.</summary>
    /// <param name="settlement">The action with what may be found; not <see cref="SettlingKind.ReadAgain"/>.</param>
    public static string Example(Settlement settlement)
    {
        ArgumentNullException.ThrowIfNull(settlement);
        if (settlement.Outcomes.IsEmpty) return "";
        var first = $"--told {settlement.Action.Id}={settlement.Outcomes[0].Answer}";
        ImmutableArray<string> others = [.. settlement.Outcomes.Skip(1).Select(outcome => outcome.Answer)];
        return others.IsEmpty ? first : $"{first} (or {string.Join(" or ", others)})";
    }

    private static string Found(SettlingAction action, string answer, double probability)
    {
        var words = Answer(action, answer);
        return probability < Nearly ? $"likeliest {words}" : words;
    }

    private static string Switched(Settlement settlement, ConductorNaming naming)
    {
        var action = settlement.Action;
        var where = action.ToConductor is { } other
            ? $"between {naming.Phrase(action.AtConductor!.Value)} and {naming.Phrase(other)}"
            : $"on {naming.Phrase(action.AtConductor!.Value)} alone";
        var seesDirection = settlement.Outcomes.Any(outcome => ToldAnswer.MovedClamps(outcome.Answer).Values.Any(way => way != 0));
        return seesDirection
            ? $"Switch on a known load, such as a heater, {where} and watch the power of each clamp's phase: which moves, and does it rise or fall?"
            : $"Switch on a known load, such as a heater, {where} and watch the clamps: which one moves?";
    }

    private static string Ends(SettlingAction action) =>
        action.ToConductor is { } other ? $"{action.AtConductor}-{other}" : $"{action.AtConductor}";

    private static string Moves(string answer)
    {
        var moved = ToldAnswer.MovedClamps(answer);
        return moved.Count == 0 ? "none moves" : Phrases.Join(moved.Select(pair =>
            $"{pair.Key} {pair.Value switch { > 0 => "rises", < 0 => "falls", _ => "moves" }}"));
    }

    private static string Place(string answer) => answer == "N" ? "the neutral" : answer;
}
