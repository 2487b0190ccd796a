using System.Globalization;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;

namespace Leadwright.Reports.Hookups;

/// <summary>Says what each kind of evidence shows, with the figures read and how much it weighs.</summary>
public static class EvidenceWording
{
    // A kind of evidence is one line here: what it is called and what it shows. A kind without a line is called by its name.
    private static readonly (EvidenceKind Kind, string Title, Func<Evidence, HookupVerdict, string> Figures)[] s_kinds =
    [
        (EvidenceKind.VoltageGeometry, "Voltages", (_, verdict) => Voltages(verdict)),
        (EvidenceKind.Displacement, "Displacement", (evidence, verdict) => Displacements(verdict, evidence.Rival)),
        (EvidenceKind.Kirchhoff, "Sum of the currents", (evidence, verdict) => CurrentSum(verdict, evidence.Rival)),
        (EvidenceKind.Magnitudes, "Sizes of the currents", (_, verdict) => Currents(verdict)),
        (EvidenceKind.Steps, "Switched loads", (_, verdict) => Steps(verdict)),
        (EvidenceKind.Harmonics, "Harmonics", (_, _) => "The harmonics of the currents against the voltages, and how they add up:"),
        (EvidenceKind.Prior, "How often it happens", (_, _) => "Before anything is read, by how often such slips happen:"),
        (EvidenceKind.Convention, "Signs", (_, _) => "The signs of angle and power that the instrument uses:"),
        (EvidenceKind.Told, "Told at the panel", (_, verdict) => ToldAnswers(verdict)),
    ];

    /// <summary>What a kind of evidence is called.</summary>
    public static string Title(EvidenceKind kind)
    {
        foreach (var entry in s_kinds)
        {
            if (entry.Kind == kind) return entry.Title;
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
        var weighs = $"{Strength(evidence.LogOdds)} {rival} ({Odds(evidence.LogOdds)})";
        return figures.EndsWith(':') ? $"{figures} this {weighs}." : $"{figures} This {weighs}.";
    }

    /// <summary>Everything together: the odds of the reported hook-up against the rival that the evidence was weighed against; empty
    /// when there is no evidence.</summary>
    /// <param name="verdict">The verdict.</param>
    public static string Together(HookupVerdict verdict)
    {
        ArgumentNullException.ThrowIfNull(verdict);
        if (verdict.Evidence.IsEmpty) return "";
        var sum = verdict.Evidence.Sum(evidence => evidence.LogOdds);
        return $"Together this {Strength(sum)} {PlaceWording.Rival(verdict.Best.Hookup, verdict.Evidence[0].Rival)} ({Odds(sum)}).";
    }

    /// <summary>How many times likelier the evidence makes the report than the rival, or the other way round: <c>1,100 to 1 for the
    /// report</c>. Two significant digits; never above a million.</summary>
    /// <param name="logOdds">Natural logarithm of the odds, above zero for the report.</param>
    public static string Odds(double logOdds)
    {
        var odds = Math.Exp(Math.Min(Math.Abs(logOdds), 30));
        if (double.IsNaN(odds) || odds < 1.05) return "even odds";
        var side = logOdds > 0 ? "for the report" : "against the report";
        if (odds > 1e6) return $"more than a million to 1 {side}";
        var step = Math.Pow(10, Math.Floor(Math.Log10(odds)) - 1);
        var rounded = Math.Round(odds / step) * step;
        return string.Create(CultureInfo.InvariantCulture, $"{rounded.ToString(rounded < 10 ? "0.0" : "#,0", CultureInfo.InvariantCulture)} to 1 {side}");
    }

    /// <summary>How much evidence weighs, as a verb phrase that goes before the rival's name: below 1 it says little, from 1 it
    /// leans, from 3 it speaks clearly, above 5 it leaves hardly any room.</summary>
    /// <param name="logOdds">Natural logarithm of how many times likelier the report is than the rival by this evidence.</param>
    public static string Strength(double logOdds) => logOdds switch
    {
        > 5 => "leaves hardly any room for",
        >= 3 => "speaks clearly against",
        >= 1 => "leans against",
        > -1 => "says little for or against",
        > -3 => "leans towards",
        >= -5 => "speaks clearly for",
        _ => "by itself leaves room only for",
    };

    private static string ToldAnswers(HookupVerdict verdict) => verdict.Told.IsEmpty
        ? "What was told at the panel:"
        : $"{Phrases.Capital(string.Join("; ", verdict.Told.Select(told => SettleWording.Told(told.Told))))}.";

    private static string Voltages(HookupVerdict verdict)
    {
        var parts = verdict.Phasors.Where(channel => channel.Key < Channel.I1)
            .Select(channel => $"{channel.Key} {Phrases.Size(channel.Value.Magnitude, "V")} at {Phrases.Degrees(channel.Value.AngleDegrees)}")
            .ToArray();
        return parts.Length == 0 ? "The sizes of the voltages:" : $"{Phrases.Join(parts)}.";
    }

    private static string Currents(HookupVerdict verdict)
    {
        var parts = verdict.Phasors.Where(channel => channel.Key >= Channel.I1)
            .Select(channel => $"{channel.Key} {Phrases.Size(channel.Value.Magnitude, "A")}").ToArray();
        return parts.Length == 0 ? "The sizes of the currents:" : $"{Phrases.Join(parts)}.";
    }

    private static string Displacements(HookupVerdict verdict, Hookup rival)
    {
        var reported = Lags(verdict, verdict.Best.Hookup, verdict.Best.Hookup.Clamps.Keys);
        if (reported.Length == 0) return "The displacement between currents and voltages:";
        var difference = new HookupDifference(verdict.Best.Hookup, rival);
        var affected = difference.Leads.IsEmpty ? difference.Clamps : [.. rival.Clamps.Keys];
        var instead = Lags(verdict, rival, affected);
        var text = $"Against the voltage of its own conductor {Phrases.Join(reported)}";
        return instead.Length == 0 ? $"{text}." : $"{text}; in the other case {Phrases.Join(instead)}.";
    }

    private static string Steps(HookupVerdict verdict) => verdict.IsLogged
        ? $"How the voltages answered the {verdict.StepCount} largest changes of the currents from one interval to the next:"
        : verdict.StepCount == 1
        ? "One load was switched during the recording; the voltages' answer:"
        : $"{verdict.StepCount} times a load was switched during the recording; the voltages' answer:";

    private static string[] Lags(HookupVerdict verdict, Hookup hookup, IEnumerable<Clamp> clamps)
    {
        var phasors = new ConductorPhasors(verdict, hookup);
        return [.. clamps.Select(clamp => (clamp, lag: phasors.LagOf(clamp))).Where(pair => pair.lag is not null)
            .Select(pair => $"{pair.clamp} {(pair.lag < 0 ? "leads" : "lags")} by {Phrases.Degrees(Math.Abs(pair.lag!.Value))}")];
    }

    private static string CurrentSum(HookupVerdict verdict, Hookup rival)
    {
        if (SumOf(verdict, verdict.Best.Hookup) is not { } sum) return "How the currents add up:";
        var neutral = verdict.Phasors.TryGetValue(Channel.IN, out var shown) ? $" while the neutral clamp shows {Phrases.Size(shown.Magnitude, "A")}" : "";
        var text = $"The line currents add up to {Phrases.Size(sum.Amperes, "A")}, {Percent(sum.Fraction)} of the largest{neutral}";
        return SumOf(verdict, rival) is { } other && Math.Abs(other.Fraction - sum.Fraction) > 0.005
            ? $"{text}; in the other case to {Percent(other.Fraction)}."
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

    private static string Percent(double fraction) => string.Create(CultureInfo.InvariantCulture, $"{100 * fraction:0} %");
}
