using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Wording;

namespace Leadwright.Reports.Hookups;

/// <summary>Says what each kind of evidence shows, with the figures read and how much it weighs.</summary>
public static class EvidenceWording
{
    // A kind of evidence is one line here: what it is called and what it shows. A kind without a line is called by its name.
    private static readonly (EvidenceKind Kind, Func<string> Title, Func<Evidence, HookupVerdict, string> Figures)[] s_kinds =
    [
        (EvidenceKind.VoltageGeometry, () => Say.Of("evidence.voltages", "Voltages"), (_, verdict) => Voltages(verdict)),
        (EvidenceKind.Displacement, () => Say.Of("evidence.displacement", "Displacement"), (evidence, verdict) => Displacements(verdict, evidence.Rival)),
        (EvidenceKind.Kirchhoff, () => Say.Of("evidence.sum-of-the-currents", "Sum of the currents"), (evidence, verdict) => CurrentSum(verdict, evidence.Rival)),
        (EvidenceKind.Magnitudes, () => Say.Of("evidence.sizes-of-the-currents", "Sizes of the currents"), (_, verdict) => Currents(verdict)),
        (EvidenceKind.Steps, () => Say.Of("evidence.switched-loads", "Switched loads"), (_, verdict) => Steps(verdict)),
        (EvidenceKind.Harmonics, () => Say.Of("evidence.harmonics", "Harmonics"), (_, _) => Say.Of("evidence.the-harmonics-of-the-currents", "The harmonics of the currents against the voltages, and how they add up:")),
        (EvidenceKind.Prior, () => Say.Of("evidence.how-often-it-happens", "How often it happens"), (_, _) => Say.Of("evidence.before-anything-is-read-by", "Before anything is read, by how often such slips happen:")),
        (EvidenceKind.Convention, () => Say.Of("evidence.signs", "Signs"), (_, _) => Say.Of("evidence.the-signs-of-angle-and", "The signs of angle and power that the instrument uses:")),
        (EvidenceKind.Told, () => Say.Of("evidence.told-at-the-panel", "Told at the panel"), (_, verdict) => ToldAnswers(verdict)),
    ];

    /// <summary>What a kind of evidence is called.</summary>
    public static string Title(EvidenceKind kind)
    {
        foreach (var entry in s_kinds)
        {
            if (entry.Kind == kind) return entry.Title();
        }

        return Phrases.Capital(CheckWords.Of(kind).Replace('-', ' '));
    }

    /// <summary>One piece of evidence: its figures, then what it says against or for the rival, in words and as odds.</summary>
    /// <param name="evidence">The evidence.</param>
    /// <param name="verdict">The verdict it belongs to.</param>
    public static string Of(Evidence evidence, HookupVerdict verdict)
    {
        ArgumentNullException.ThrowIfNull(evidence);
        ArgumentNullException.ThrowIfNull(verdict);
        if (evidence.Kind == EvidenceKind.Service) return ServiceWording.Evidence(evidence, verdict);
        var rival = PlaceWording.Rival(verdict.Best.Hookup, evidence.Rival);
        var figures = s_kinds.FirstOrDefault(entry => entry.Kind == evidence.Kind).Figures?.Invoke(evidence, verdict)
            ?? $"{Title(evidence.Kind)}:";
        var weighs = Say.Of("evidence.weighs", "{strength} {rival} ({odds})", ("strength", Strength(evidence.LogOdds)), ("rival", rival), ("odds", Odds(evidence.LogOdds)));
        return figures.EndsWith(':') ? Say.Of("evidence.this", "{figures} this {weighs}.", ("figures", figures), ("weighs", weighs)) : Say.Of("evidence.this-2", "{figures} This {weighs}.", ("figures", figures), ("weighs", weighs));
    }

    /// <summary>Everything together: the odds of the reported hook-up against the rival that the evidence was weighed against; empty
    /// when there is no evidence.</summary>
    /// <param name="verdict">The verdict.</param>
    public static string Together(HookupVerdict verdict)
    {
        ArgumentNullException.ThrowIfNull(verdict);
        if (verdict.Evidence.IsEmpty) return "";
        var sum = verdict.Evidence.Sum(evidence => evidence.LogOdds);
        return Say.Of("evidence.together-this", "Together this {strength} {rival} ({odds}).", ("strength", Strength(sum)), ("rival", PlaceWording.Rival(verdict.Best.Hookup, verdict.Evidence[0].Rival)), ("odds", Odds(sum)));
    }

    /// <summary>How many times likelier the evidence makes the report than the rival, or the other way round: <c>1,100 to 1 for the
    /// report</c>. Two significant digits; never above a million.</summary>
    /// <param name="logOdds">Natural logarithm of the odds, above zero for the report.</param>
    public static string Odds(double logOdds)
    {
        var odds = Math.Exp(Math.Min(Math.Abs(logOdds), 30));
        if (double.IsNaN(odds) || odds < 1.05) return Say.Of("evidence.even-odds", "even odds");
        var side = logOdds > 0 ? Say.Of("evidence.for-the-report", "for the report") : Say.Of("evidence.against-the-report", "against the report");
        if (odds > 1e6) return Say.Of("evidence.more-than-a-million-to", "more than a million to 1 {side}", ("side", side));
        var step = Math.Pow(10, Math.Floor(Math.Log10(odds)) - 1);
        var rounded = Math.Round(odds / step) * step;
        return Say.Of("evidence.to", "{odds} to 1 {side}", ("odds", Say.Number(rounded, rounded < 10 ? "0.0" : "#,0")), ("side", side));
    }

    /// <summary>How much evidence weighs, as a verb phrase that goes before the rival's name: below 1 it says little, from 1 it
    /// leans, from 3 it speaks clearly, above 5 it leaves hardly any room.</summary>
    /// <param name="logOdds">Natural logarithm of how many times likelier the report is than the rival by this evidence.</param>
    public static string Strength(double logOdds) => logOdds switch
    {
        > 5 => Say.Of("evidence.leaves-hardly-any-room-for", "leaves hardly any room for"),
        >= 3 => Say.Of("evidence.speaks-clearly-against", "speaks clearly against"),
        >= 1 => Say.Of("evidence.leans-against", "leans against"),
        > -1 => Say.Of("evidence.says-little-for-or-against", "says little for or against"),
        > -3 => Say.Of("evidence.leans-towards", "leans towards"),
        >= -5 => Say.Of("evidence.speaks-clearly-for", "speaks clearly for"),
        _ => Say.Of("evidence.by-itself-leaves-room-only", "by itself leaves room only for"),
    };

    private static string ToldAnswers(HookupVerdict verdict) => verdict.Told.IsEmpty
        ? Say.Of("evidence.what-was-told-at-the", "What was told at the panel:")
        : $"{Phrases.Capital(string.Join("; ", verdict.Told.Select(told => SettleWording.Told(told.Told))))}.";

    private static string Voltages(HookupVerdict verdict)
    {
        var parts = verdict.Phasors.Where(channel => channel.Key < Channel.I1)
            .Select(channel => Say.Of("evidence.at", "{channel} {volts} at {degrees}", ("channel", channel.Key), ("volts", Phrases.Size(channel.Value.Magnitude, "V")), ("degrees", Phrases.Degrees(channel.Value.AngleDegrees))))
            .ToArray();
        // One angle is no evidence by itself: it is the one that the others are counted from.
        return parts.Length == 0 || (parts.Length == 1 && verdict.Best.Hookup.Leads.Count > 2) ? Say.Of("evidence.the-sizes-of-the-voltages", "The sizes of the voltages:") : $"{Phrases.Join(parts)}.";
    }

    private static string Currents(HookupVerdict verdict)
    {
        var parts = verdict.Phasors.Where(channel => channel.Key >= Channel.I1)
            .Select(channel => $"{channel.Key} {Phrases.Size(channel.Value.Magnitude, "A")}").ToArray();
        return parts.Length == 0 ? Say.Of("evidence.the-sizes-of-the-currents", "The sizes of the currents:") : $"{Phrases.Join(parts)}.";
    }

    private static string Displacements(HookupVerdict verdict, Hookup rival)
    {
        var reported = Lags(verdict, verdict.Best.Hookup, verdict.Best.Hookup.Clamps.Keys);
        if (reported.Length == 0) return Say.Of("evidence.the-displacement-between-currents-and", "The displacement between currents and voltages:");
        var difference = new HookupDifference(verdict.Best.Hookup, rival);
        var affected = difference.Leads.IsEmpty ? difference.Clamps : [.. rival.Clamps.Keys];
        var instead = Lags(verdict, rival, affected);
        // Where a reading tells the two apart by its power alone, the angles that were read are the same in both.
        if (instead.Length > 0 && instead.All(reported.Contains)) return Say.Of("evidence.the-displacement-from-watts", "The displacement between currents and voltages, by the watts and their sign:");
        var text = Say.Of("evidence.against-the-voltage-of-its", "Against the voltage of its own conductor {reported}", ("reported", Phrases.Join(reported)));
        return instead.Length == 0 ? $"{text}." : Say.Of("evidence.in-the-other-case", "{text}; in the other case {instead}.", ("text", text), ("instead", Phrases.Join(instead)));
    }

    private static string Steps(HookupVerdict verdict) => verdict.IsLogged
        ? Say.Of("evidence.how-the-voltages-answered-the", "How the voltages answered the {stepCount} largest changes of the currents from one interval to the next:", ("stepCount", verdict.StepCount))
        : verdict.StepCount == 1
        ? Say.Of("evidence.one-load-was-switched-during", "One load was switched during the recording; the voltages' answer:")
        : Say.Of("evidence.times-a-load-was-switched", "{stepCount} times a load was switched during the recording; the voltages' answer:", ("stepCount", verdict.StepCount));

    private static string[] Lags(HookupVerdict verdict, Hookup hookup, IEnumerable<Clamp> clamps)
    {
        var phasors = new ConductorPhasors(verdict, hookup);
        return [.. clamps.Select(clamp => (clamp, lag: phasors.LagOf(clamp))).Where(pair => pair.lag is not null)
            .Select(pair => Say.Of("evidence.by", "{clamp} {way} by {degrees}", ("clamp", pair.clamp), ("way", (pair.lag < 0 ? Say.Of("evidence.leads", "leads") : Say.Of("evidence.lags", "lags"))), ("degrees", Phrases.Degrees(Math.Abs(pair.lag!.Value)))))];
    }

    private static string CurrentSum(HookupVerdict verdict, Hookup rival)
    {
        if (SumOf(verdict, verdict.Best.Hookup) is not { } sum) return Say.Of("evidence.how-the-currents-add-up", "How the currents add up:");
        var neutral = verdict.Phasors.TryGetValue(Channel.IN, out var shown) ? Say.Of("evidence.while-the-neutral-clamp-shows", " while the neutral clamp shows {amperes}", ("amperes", Phrases.Size(shown.Magnitude, "A"))) : "";
        var text = Say.Of("evidence.the-line-currents-add-up", "The line currents add up to {amperes}, {percent} of the largest{neutral}", ("amperes", Phrases.Size(sum.Amperes, "A")), ("percent", Percent(sum.Fraction)), ("neutral", neutral));
        return SumOf(verdict, rival) is { } other && Math.Abs(other.Fraction - sum.Fraction) > 0.005
            ? Say.Of("evidence.in-the-other-case-to", "{text}; in the other case to {percent}.", ("text", text), ("percent", Percent(other.Fraction)))
            : $"{text}.";
    }

    private static (double Amperes, double Fraction)? SumOf(HookupVerdict verdict, Hookup hookup)
    {
        var phasors = new ConductorPhasors(verdict, hookup);
        var (sum, largest) = (Phasor.Zero, 0.0);
        foreach (var clamp in hookup.Clamps.Keys.Where(clamp => clamp != Clamp.IN))
        {
            if (phasors.CurrentIn(clamp) is not { } current) return null;
            sum += current;
            largest = Math.Max(largest, current.Magnitude);
        }

        return largest > 0 ? (sum.Magnitude, sum.Magnitude / largest) : null;
    }

    private static string Percent(double fraction) => $"{Say.Number(100 * fraction, "0")} %";
}
