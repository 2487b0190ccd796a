using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;

namespace Leadwright.Reports.Hookups;

/// <summary>Says which one reading or switching action tells a rival from the reported hook-up.</summary>
public static class SettleWording
{
    /// <summary>What stands beside every such action.</summary>
    public const string Frame = "A qualified person does this, under the site's rules.";

    /// <summary>The action, in a sentence or two, without <see cref="Frame"/>.</summary>
    /// <param name="verdict">The verdict, whose best answer is the reported hook-up.</param>
    /// <param name="rival">The rival answer.</param>
    /// <param name="naming">How the site's conductors are called.</param>
    public static string Of(HookupVerdict verdict, Answer rival, ConductorNaming naming)
    {
        ArgumentNullException.ThrowIfNull(verdict);
        ArgumentNullException.ThrowIfNull(rival);
        ArgumentNullException.ThrowIfNull(naming);
        var reported = verdict.Best;
        var difference = new HookupDifference(reported.Hookup, rival.Hookup);
        if (difference.Relabelling() is not null && reported.Rotation != rival.Rotation) return ByRotation(reported, rival);
        if (!difference.Leads.IsEmpty) return ByHandMeter(difference.Leads, reported.Hookup, rival.Hookup, naming);
        if (difference.IsAllClampsTurned)
            return "Switch on a known load and watch the power of each phase: it rises where the clamp faces the load, "
                + "and falls where it faces the source.";
        if (!difference.Clamps.IsEmpty) return ByClamp(verdict, difference, rival.Hookup, naming);
        return reported.Rotation != rival.Rotation
            ? ByRotation(reported, rival)
            : "Read again under more load, with angles if the instrument shows them, and check again.";
    }

    private static string ByRotation(Answer reported, Answer rival)
    {
        var (first, second) = (CheckWords.InSentence(reported.Rotation), CheckWords.InSentence(rival.Rotation));
        return first is null || second is null
            ? "Look at a rotation indicator on conductors A, B and C."
            : $"Look at a rotation indicator on conductors A, B and C: {first} as reported, {second} in the other case.";
    }

    private static string ByHandMeter(
        IReadOnlyList<Lead> leads, Hookup reported, Hookup rival, ConductorNaming naming)
    {
        // An open neutral lead hides behind plausible readings of the others, so it is looked at first.
        var lead = leads.FirstOrDefault(lead => lead == Lead.VN && (reported.Leads[lead] is null || rival.Leads[lead] is null), leads[0]);
        var (here, there) = (reported.Leads[lead], rival.Leads[lead]);
        if (here is { } on && there is null)
            return $"Measure between lead {lead} and {naming.Phrase(on)} with a hand meter of low input resistance: "
                + "close to 0 V means that it makes contact.";
        if (here is null && there is { } maybe)
            return $"Measure between lead {lead} and {naming.Phrase(maybe)} with a hand meter of low input resistance: "
                + "close to 0 V means that it makes contact after all.";
        return $"Measure between lead {lead} and {naming.Phrase(here!.Value)} with a hand meter: close to 0 V means the same conductor, "
            + $"as reported; otherwise it is on {naming.Phrase(there!.Value)}.";
    }

    private static string ByClamp(HookupVerdict verdict, HookupDifference difference, Hookup rival, ConductorNaming naming)
    {
        var reported = verdict.Best.Hookup;
        foreach (var clamp in difference.Clamps)
        {
            var (here, there) = (reported.Clamps[clamp].On, rival.Clamps[clamp].On);
            if (here == there) continue;
            if (here is { } on && there is not null) return BySwitching(on, reported, rival, naming);
            return $"Read {naming.Phrase((here ?? there)!.Value)} with a hand clamp: if current flows there and clamp {clamp} shows none, "
                + "it surrounds nothing or is not closed.";
        }

        var first = difference.Clamps[0];
        var (place, other) = (reported.Clamps[first], rival.Clamps[first]);
        if (place.Scale != other.Scale) return ByHandClamp(verdict, first, place, other, naming);
        if (place.On is not { } conductor) return $"Look whether clamp {first} is closed round its conductor.";

        var phase = (int)first + 1;
        var isOwnPhase = first != Clamp.IN && reported.Leads.GetValueOrDefault((Lead)(int)first) == conductor;
        return isOwnPhase
            ? $"Switch on a known load on {naming.Phrase(conductor)} alone and watch the power of phase {phase}: it rises if clamp {first} "
                + "faces the load, and falls if it faces the source."
            : $"Look at the arrow of clamp {first} on {naming.Phrase(conductor)}: does it point to the load or to the source?";
    }

    private static string BySwitching(Conductor conductor, Hookup reported, Hookup rival, ConductorNaming naming)
    {
        var now = On(reported, conductor);
        var then = On(rival, conductor);
        var otherwise = then.Length == 0 ? "none of the clamps" : Phrases.Join(then);
        return conductor == Conductor.N
            ? $"Switch a single-phase load and compare with a hand clamp on {naming.Phrase(conductor)}: {Phrases.Join(now)} moves with it "
                + $"as reported, {otherwise} in the other case."
            : $"Switch a single-phase load on {naming.Phrase(conductor)} alone and see which clamp moves: {Phrases.Join(now)} "
                + $"as reported, {otherwise} in the other case.";
    }

    private static Clamp[] On(Hookup hookup, Conductor conductor) =>
        [.. hookup.Clamps.Where(clamp => clamp.Value.On == conductor).Select(clamp => clamp.Key)];

    private static string ByHandClamp(
        HookupVerdict verdict, Clamp clamp, ClampPlace place, ClampPlace other, ConductorNaming naming)
    {
        var where = place.On is { } on ? naming.Phrase(on) : "its conductor";
        return verdict.Phasors.TryGetValue(ConductorPhasors.ChannelOf(clamp), out var read)
            ? $"Read {where} with a hand clamp: about {Phrases.Size(read.Magnitude / place.Scale, "A")} as reported, "
                + $"about {Phrases.Size(read.Magnitude / other.Scale, "A")} in the other case."
            : $"Read {where} with a hand clamp and compare with clamp {clamp}: it reads "
                + $"{(place.Scale == 1 ? "the same" : Phrases.Ratio(place.Scale))} as reported.";
    }
}
