using System.Collections.Immutable;
using Leadwright.Core.Hookups;
using Leadwright.Core.Hookups.Settling;
using Leadwright.Core.Wording;

namespace Leadwright.Reports.Hookups;

/// <summary>Asks, in words, for what would settle what is open; and says what was answered.</summary>
public static class SettleWording
{
    /// <summary>What stands beside every such action.</summary>
    public static string Frame => Say.Of("settle.frame", "A qualified person does this, under the site's rules.");

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
            SettlingKind.Rotation => Say.Of("settle.look-at-a-rotation-indicator", "Look at a rotation indicator on conductors A, B and C: which way does the supply turn?"),
            SettlingKind.Arrow => Say.Of("settle.look-at-the-arrow-of", "Look at the arrow of clamp {atClamp}: does it point to the load or to the source?", ("atClamp", action.AtClamp)),
            SettlingKind.Clamp => Say.Of("settle.follow-the-conductor-in-the", "Follow the conductor in the jaws of clamp {atClamp} to its label: which one is it?", ("atClamp", action.AtClamp)),
            SettlingKind.Lead => Say.Of("settle.follow-lead-to-its-clip", "Follow lead {atLead} to its clip and read the label there: which conductor is it on?", ("atLead", action.AtLead)),
            SettlingKind.Contact => Say.Of("settle.look-whether-the-clip-of", "Look whether the clip of lead {atLead} sits on bare metal and the lead is plugged in at the recorder: does it make contact?", ("atLead", action.AtLead)),
            SettlingKind.Meter => action.ToLead is { } lead
                ? Say.Of("settle.measure-between-lead-and-lead", "Measure between lead {atLead} and lead {lead} with a hand meter of low input resistance: what does it show?", ("atLead", action.AtLead), ("lead", lead))
                : Say.Of("settle.measure-between-lead-and-with", "Measure between lead {atLead} and {conductor} with a hand meter of low input resistance: what does it show?", ("atLead", action.AtLead), ("conductor", naming.Phrase(action.AtConductor!.Value))),
            SettlingKind.HandClamp => Say.Of("settle.read-with-a-hand-clamp", "Read {conductor} with a hand clamp: how much current flows there?", ("conductor", naming.Phrase(action.AtConductor!.Value))),
            SettlingKind.Switched => Switched(settlement, naming),
            SettlingKind.Motor => Say.Of("settle.start-a-three-phase-motor", "Start a three-phase motor and watch the power of each phase: does it rise in all, fall in all, or neither?"),
            SettlingKind.Export => Say.Of("settle.ask-whether-generation-runs-and", "Ask whether generation runs and the site sends power back now: does it?"),
            SettlingKind.Watts => Say.Of("settle.look-up-how-the-instrument", "Look up how the instrument shows power that flows to the load: positive or negative?"),
            SettlingKind.Angles => Say.Of("settle.look-up-how-the-instrument-2", "Look up how the instrument counts angles: is a positive angle one that leads or one that lags?"),
            SettlingKind.ReadAgain => Say.Of("settle.read-everything-again-at-one", "Read everything again, at one time and under more load, with angles if the instrument shows them, and check again."),
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
        return Say.Of("settle.as-reported-in-the-other", "{question}: {reported} as reported, {rival} in the other case.", ("question", colon < 0 ? question.TrimEnd('?', '.') : question[..colon]), ("reported", Found(settlement.Action, reported.Answer, reported.IfReported)), ("rival", Found(settlement.Action, rival.Answer, rival.IfRival)));
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
            SettlingKind.Arrow => answer switch { "load" => Say.Of("settle.to-the-load", "to the load"), "source" => Say.Of("settle.to-the-source", "to the source"), _ => answer },
            SettlingKind.Clamp => answer == "none" ? Say.Of("settle.nothing-or-not-closed", "nothing, or not closed") : Place(answer),
            SettlingKind.Lead => answer == "none" ? Say.Of("settle.none-in-the-air", "none, in the air") : Place(answer),
            SettlingKind.Meter => answer == "0" ? Say.Of("settle.about-v", "about 0 V") : Say.Of("settle.about-v-2", "about {answer} V", ("answer", answer)),
            SettlingKind.HandClamp => answer switch { "other" => Say.Of("settle.none-of-these", "none of these"), "0" => Say.Of("settle.nothing", "nothing"), _ => Say.Of("settle.about-a", "about {answer} A", ("answer", answer)) },
            SettlingKind.Switched => Moves(answer),
            SettlingKind.Motor => answer switch { "up" => Say.Of("settle.all-rise", "all rise"), "down" => Say.Of("settle.all-fall", "all fall"), _ => Say.Of("settle.some-rise-some-fall", "some rise, some fall") },
            SettlingKind.Watts => answer == "load-positive" ? Say.Of("settle.positive", "positive") : Say.Of("settle.negative", "negative"),
            SettlingKind.Angles => answer == "lead-positive" ? Say.Of("settle.leads", "leads") : Say.Of("settle.lags", "lags"),
            _ => answer switch { "yes" => Say.Of("settle.yes", "yes"), "no" => Say.Of("settle.no", "no"), _ => answer },
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
            SettlingKind.Rotation => Say.Of("settle.rotation-indicator", "rotation indicator: {answer}", ("answer", answer)),
            SettlingKind.Arrow => Say.Of("settle.arrow-of-clamp", "arrow of clamp {atClamp}: {answer}", ("atClamp", action.AtClamp), ("answer", answer)),
            SettlingKind.Clamp => Say.Of("settle.in-the-jaws-of-clamp", "in the jaws of clamp {atClamp}: {answer}", ("atClamp", action.AtClamp), ("answer", answer)),
            SettlingKind.Lead => Say.Of("settle.lead-on", "lead {atLead} on: {answer}", ("atLead", action.AtLead), ("answer", answer)),
            SettlingKind.Contact => Say.Of("settle.lead-makes-contact", "lead {atLead} makes contact: {answer}", ("atLead", action.AtLead), ("answer", answer)),
            SettlingKind.Meter => Say.Of("settle.meter-between-and", "meter between {atLead} and {atConductor}: {answer}", ("atLead", action.AtLead), ("atConductor", action.ToLead?.ToString() ?? action.AtConductor.ToString()), ("answer", answer)),
            SettlingKind.HandClamp => Say.Of("settle.hand-clamp-on", "hand clamp on {atConductor}: {answer}", ("atConductor", action.AtConductor), ("answer", answer)),
            SettlingKind.Switched => Say.Of("settle.load-switched-on", "load switched on {conductor}: {answer}", ("conductor", Ends(action)), ("answer", answer)),
            SettlingKind.Motor => Say.Of("settle.motor-started-powers", "motor started, powers: {answer}", ("answer", answer)),
            SettlingKind.Export => Say.Of("settle.site-sends-power-back", "site sends power back: {answer}", ("answer", answer)),
            SettlingKind.Watts => Say.Of("settle.instrument-shows-power-to-the", "instrument shows power to the load: {answer}", ("answer", answer)),
            SettlingKind.Angles => Say.Of("settle.a-positive-angle", "a positive angle: {answer}", ("answer", answer)),
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
                Say.Of("settle.what-was-told-speaks-against", "What was told ({told}) speaks against the reported hook-up: the readings or other answers weigh more. Look again, and withdraw the answer if it was wrong.", ("told", told.Told)),
            ToldStanding.NotUsed => Say.Of("settle.what-was-told-was-not", "What was told ({told}) was not used: this service or recorder has no such lead, clamp or conductor.", ("told", told.Told)),
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
        return probability < Nearly ? Say.Of("settle.likeliest", "likeliest {words}", ("words", words)) : words;
    }

    private static string Switched(Settlement settlement, ConductorNaming naming)
    {
        var action = settlement.Action;
        var where = action.ToConductor is { } other
            ? Say.Of("settle.between-and", "between {conductor} and {conductor2}", ("conductor", naming.Phrase(action.AtConductor!.Value)), ("conductor2", naming.Phrase(other)))
            : Say.Of("settle.on-alone", "on {conductor} alone", ("conductor", naming.Phrase(action.AtConductor!.Value)));
        var seesDirection = settlement.Outcomes.Any(outcome => ToldAnswer.MovedClamps(outcome.Answer).Values.Any(way => way != 0));
        return seesDirection
            ? Say.Of("settle.switch-on-a-known-load", "Switch on a known load, such as a heater, {where} and watch the power of each clamp's phase: which moves, and does it rise or fall?", ("where", where))
            : Say.Of("settle.switch-on-a-known-load-2", "Switch on a known load, such as a heater, {where} and watch the clamps: which one moves?", ("where", where));
    }

    private static string Ends(SettlingAction action) =>
        action.ToConductor is { } other ? $"{action.AtConductor}-{other}" : $"{action.AtConductor}";

    private static string Moves(string answer)
    {
        var moved = ToldAnswer.MovedClamps(answer);
        return moved.Count == 0 ? Say.Of("settle.none-moves", "none moves") : Phrases.Join(moved.Select(pair =>
            pair.Value switch
            {
                > 0 => Say.Of("settle.rises", "{clamp} rises", ("clamp", pair.Key)),
                < 0 => Say.Of("settle.falls", "{clamp} falls", ("clamp", pair.Key)),
                _ => Say.Of("settle.moves", "{clamp} moves", ("clamp", pair.Key)),
            }));
    }

    private static string Place(string answer) => answer == "N" ? Say.Of("settle.the-neutral", "the neutral") : answer;
}
