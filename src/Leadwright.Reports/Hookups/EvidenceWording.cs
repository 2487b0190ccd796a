using System.Globalization;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;

namespace Leadwright.Reports.Hookups;

/// <summary>Says what each kind of evidence shows, with the figures read and how much it weighs.</summary>
public static class EvidenceWording
{
    /// <summary>One piece of evidence: its figures, then what it says against or for the rival.</summary>
    /// <param name="evidence">The evidence.</param>
    /// <param name="verdict">The verdict it belongs to.</param>
    public static string Of(Evidence evidence, HookupVerdict verdict)
    {
        ArgumentNullException.ThrowIfNull(evidence);
        ArgumentNullException.ThrowIfNull(verdict);
        var rival = PlaceWording.Rival(verdict.Best.Hookup, evidence.Rival);
        var figures = evidence.Kind switch
        {
            EvidenceKind.Prior => "Before anything is read, by how often such slips happen:",
            EvidenceKind.VoltageGeometry => Voltages(verdict),
            EvidenceKind.Displacement => Displacements(verdict, evidence.Rival),
            EvidenceKind.Kirchhoff => CurrentSum(verdict, evidence.Rival),
            EvidenceKind.Magnitudes => Currents(verdict),
            EvidenceKind.Steps => Steps(verdict),
            EvidenceKind.Harmonics => "The harmonics of the currents against the voltages, and how they add up:",
            EvidenceKind.Convention => "The signs of angle and power that the instrument uses:",
            _ => throw new ArgumentOutOfRangeException(nameof(evidence), evidence.Kind, "This is a bug in Leadwright: evidence without words."),
        };
        return figures.EndsWith(':')
            ? $"{figures} this {Strength(evidence.LogOdds)} {rival}."
            : $"{figures} This {Strength(evidence.LogOdds)} {rival}.";
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

    private static string Steps(HookupVerdict verdict) => verdict.StepCount == 1
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
