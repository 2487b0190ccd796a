using System.Globalization;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;

namespace Leadwright.Reports.Hookups;

/// <summary>Says which service the readings come from, and what of the supply they show.</summary>
public static class ServiceWording
{
    /// <summary>A nominal voltage as it is written on the nameplate of a service.</summary>
    /// <param name="service">The service.</param>
    /// <param name="nominal">The nominal voltage.</param>
    public static string Nominal(ServiceKind service, NominalVoltage nominal)
    {
        ArgumentNullException.ThrowIfNull(nominal);
        return service switch
        {
            ServiceKind.Delta or ServiceKind.DeltaTwoClamp => nominal.LineToLineVolts.ToString("0", CultureInfo.InvariantCulture),
            ServiceKind.Single => nominal.LineToNeutralVolts.ToString("0", CultureInfo.InvariantCulture),
            _ => string.Create(CultureInfo.InvariantCulture, $"{nominal.LineToNeutralVolts:0.#}/{nominal.LineToLineVolts:0.#}"),
        };
    }

    /// <summary>The high leg or the earthed corner in a sentence after a space; empty where there is none.</summary>
    /// <param name="verdict">The verdict.</param>
    /// <param name="naming">How the site's conductors are called.</param>
    public static string Supply(HookupVerdict verdict, ConductorNaming naming)
    {
        ArgumentNullException.ThrowIfNull(verdict);
        ArgumentNullException.ThrowIfNull(naming);
        if (verdict.Best.HighLeg is { } highLeg)
        {
            var rule = highLeg == Conductor.B ? "" : " By the usual rule it is B, by some metering rules C: see how the board is marked.";
            return $" The high leg is {naming.Phrase(highLeg)}.{rule}";
        }

        return verdict.Best.Corner is { } corner
            ? $" The voltages were read to ground, and {naming.Phrase(corner)} is earthed: it reads nothing to ground and is live to the others."
            : "";
    }

    /// <summary>The label of a conductor in a drawing: <c>high leg</c>, <c>earthed</c>, or nothing.</summary>
    internal static string Label(Answer answer, Conductor conductor) =>
        answer.HighLeg == conductor ? "high leg" : answer.Corner == conductor ? "earthed" : "";

    /// <summary>After the service's name, what is to be known of it: how likely it is, or what was stated instead.</summary>
    internal static string Standing(HookupVerdict verdict)
    {
        if (verdict.Services.IsEmpty) return "";
        var share = verdict.Services.FirstOrDefault(share => share.Service == verdict.Service);
        var words = share is null ? "" : $", {ConfidenceWording.Words(share.Probability)} ({ConfidenceWording.Percent(share.Probability)})";
        return verdict.StatedService is { } stated
            ? $"{words}; stated was {CheckWords.InSentence(stated)}"
            : words.Length > 0 ? $" at {Nominal(share!.Service, share.Nominal)} V by the readings{words}" : "";
    }

    /// <summary>What is wrong, as a clause.</summary>
    internal static string Mismatch(SetService fits) =>
        $"the readings come from a {Service.Of(fits.Service).Name} service at {Nominal(fits.Service, fits.Nominal)} V, not from what was stated";

    /// <summary>What to do about it.</summary>
    internal static string Remedy(SetService set) =>
        $"Read the nameplate. If it says so, state the service {Service.Of(set.Service).Name} at {Nominal(set.Service, set.Nominal)} V, "
        + "set the recorder to it and check again.";

    /// <summary>What the readings say of the service that was stated.</summary>
    internal static string Evidence(Evidence evidence, HookupVerdict verdict)
    {
        var stated = verdict.StatedService is { } other ? $"a {Service.Of(other).Name} service" : "the nominal voltage that was stated";
        return $"All readings together, every hook-up and slip on either side counted in: this {EvidenceWording.Strength(evidence.LogOdds)} {stated}.";
    }

    /// <summary>Which services the readings could come from, and what to look at.</summary>
    internal static string Doubt(HookupVerdict verdict)
    {
        var likely = verdict.Services.Where(share => share.Probability >= 0.01).Take(3).ToArray();
        if (likely.Length < 2) return NoteWording.Of(new Note(NoteKind.ServiceInDoubt, [], double.NaN));
        var names = likely.Select(share =>
            $"{Service.Of(share.Service).Name} at {Nominal(share.Service, share.Nominal)} V ({ConfidenceWording.Percent(share.Probability)})");
        return $"The service is in doubt: {Phrases.Join(names)}. {LookAt(likely[0].Service, likely[1].Service)}";
    }

    /// <summary>What tells two services apart.</summary>
    private static string LookAt(ServiceKind first, ServiceKind second)
    {
        bool Either(ServiceKind kind) => first == kind || second == kind;
        if (first == second) return "Look at the nameplate for the nominal voltage.";
        if (Either(ServiceKind.Network) && Either(ServiceKind.Split))
            return "Look at the nameplate, or measure between the two lines: twice the voltage to neutral is a split service, 1.73 times it "
                + "is two lines of a wye.";
        if (Either(ServiceKind.HighLeg))
            return "Look at the nameplate and for the marking of a high leg, or measure each line to neutral: one that stands at 1.73 times "
                + "the other two is a high leg.";
        if (Either(ServiceKind.Delta) || Either(ServiceKind.DeltaTwoClamp))
            return "Look whether the board has a neutral, and what VN is on. A line that reads nothing to ground and is live to the others is the "
                + "earthed corner of a delta, not a dead line.";
        return "Look at the nameplate.";
    }
}
