using Leadwright.Core.Hookups;
using Leadwright.Core.Wording;

namespace Leadwright.Reports.Hookups;

/// <summary>Says a verdict in plain words.</summary>
public static class VerdictWording
{
    /// <summary>The verdict in one sentence, to be read at arm's length: <c>Clamp I2 is on conductor C together with I3, and I2
    /// faces the source.</c></summary>
    /// <param name="verdict">The verdict.</param>
    /// <param name="naming">How the site's conductors are called.</param>
    public static string Headline(HookupVerdict verdict, ConductorNaming naming)
    {
        ArgumentNullException.ThrowIfNull(verdict);
        ArgumentNullException.ThrowIfNull(naming);
        return verdict.Verdict switch
        {
            Verdict.Correct => Say.Of("answer.every-lead-and-clamp-is", "Every lead and clamp is where it belongs."),
            Verdict.Faulty when !IsNamed(verdict) =>
                Say.Of("answer.something-is-wrong-and-it", "Something is wrong, and it is open what: settle that first. Likeliest: {wrong}.", ("wrong", WhatIsWrong(verdict.Best, verdict.Service, naming))),
            Verdict.Faulty => Phrases.Sentence(WhatIsWrong(verdict.Best, verdict.Service, naming)),
            _ when IsNothingLive(verdict) => Say.Of("answer.there-is-nothing-to-judge", "There is nothing to judge: no voltage to speak of was read."),
            _ => Say.Of("answer.these-readings-dont-carry-enough", "These readings don't carry enough to decide. {likeliest}", ("likeliest", Tendency(verdict, naming))),
        };
    }

    /// <summary>True when the reported hook-up is likelier than all others together; else nobody is to move anything by it.</summary>
    internal static bool IsNamed(HookupVerdict verdict) => verdict.Best.Probability >= 0.5;

    /// <summary>True when nothing was live: then nothing is named.</summary>
    internal static bool IsNothingLive(HookupVerdict verdict) => verdict.Notes.Any(note => note.Kind == NoteKind.NothingLive);

    /// <summary>What is wrong in an answer, as clauses in one line; <c>nothing is wrong</c> when it is right.</summary>
    /// <param name="answer">The answer.</param>
    /// <param name="service">The service that the check was made for.</param>
    /// <param name="naming">How the site's conductors are called.</param>
    public static string WhatIsWrong(Answer answer, Core.Circuits.ServiceKind service, ConductorNaming naming)
    {
        ArgumentNullException.ThrowIfNull(answer);
        var clauses = answer.Faults.Select(fault => FaultWording.Clause(fault, answer, service, naming)).ToArray();
        return clauses.Length switch
        {
            0 when !answer.Hookup.IsRight => WrongPlaces(answer.Hookup, naming),
            0 => Say.Of("answer.nothing-is-wrong", "nothing is wrong"),
            <= 2 => string.Join("; ", clauses),
            _ => Say.Of("answer.things-are-wrong", "{count} things are wrong: {list}", ("count", Phrases.Count(clauses.Length)), ("list", string.Join("; ", clauses))),
        };
    }

    /// <summary>How sure the verdict is: <c>Very likely (99 %).</c></summary>
    /// <param name="verdict">The verdict.</param>
    public static string Confidence(HookupVerdict verdict)
    {
        ArgumentNullException.ThrowIfNull(verdict);
        if (IsNothingLive(verdict)) return Say.Of("answer.not-judged", "Not judged.");
        var probability = verdict.Best.Probability;
        return Phrases.Sentence($"{ConfidenceWording.Words(probability)} ({ConfidenceWording.Percent(probability)})");
    }

    private static string WrongPlaces(Hookup hookup, ConductorNaming naming) => string.Join("; ",
    [
        .. hookup.Leads.Where(lead => lead.Value != Service.HomeOf(lead.Key)).Select(lead => PlaceWording.Of(lead.Key, lead.Value, naming)),
        .. hookup.Clamps.Where(clamp => clamp.Value != ClampPlace.Right(Service.HomeOf(clamp.Key)))
            .Select(clamp => PlaceWording.Of(clamp.Key, clamp.Value, naming)),
    ]);

    private static string Tendency(HookupVerdict verdict, ConductorNaming naming)
    {
        var wrong = WhatIsWrong(verdict.Best, verdict.Service, naming);
        return Say.Of("answer.likeliest", "Likeliest: {wrong}.", ("wrong", wrong));
    }
}
