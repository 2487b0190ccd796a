using System.Globalization;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Wording;

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

    /// <summary>A nominal voltage as it is written on the nameplate of a service.</summary>
    /// <param name="service">The word of the service, as <c>delta</c>.</param>
    /// <param name="nominal">The nominal voltage.</param>
    public static string Nominal(string service, NominalVoltage nominal)
    {
        ArgumentNullException.ThrowIfNull(nominal);
        return Service.Named(service) is { } known ? Nominal(known.Kind, nominal) : nominal.ToString();
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
            var rule = highLeg == Conductor.B ? "" : Say.Of("service.by-the-usual-rule-it", " By the usual rule it is B, by some metering rules C: see how the board is marked.");
            return Say.Of("service.the-high-leg-is", " The high leg is {conductor}.{rule}", ("conductor", naming.Phrase(highLeg)), ("rule", rule));
        }

        return verdict.Best.Corner is { } corner
            ? Say.Of("service.the-voltages-were-read-to", " The voltages were read to ground, and {conductor} is earthed: it reads nothing to ground and is live to the others.", ("conductor", naming.Phrase(corner)))
            : "";
    }

    /// <summary>The label of a conductor in a drawing: <c>high leg</c>, <c>earthed</c>, or nothing.</summary>
    internal static string Label(Answer answer, Conductor conductor) =>
        answer.HighLeg == conductor ? Say.Of("service.high-leg", "high leg") : answer.Corner == conductor ? Say.Of("service.earthed", "earthed") : "";

    /// <summary>After the service's name, what is to be known of it: how likely it is, or what was stated instead.</summary>
    internal static string Standing(HookupVerdict verdict)
    {
        if (verdict.Services.IsEmpty) return "";
        var share = verdict.Services.FirstOrDefault(share => share.Service == verdict.Service);
        var words = share is null ? "" : $", {ConfidenceWording.Words(share.Probability)} ({ConfidenceWording.Percent(share.Probability)})";
        return verdict.StatedService is { } stated
            ? Say.Of("service.stated-was", "{words}; stated was {stated}", ("words", words), ("stated", CheckWords.InSentence(stated)))
            : words.Length > 0 ? Say.Of("service.at-v-by-the-readings", " at {nominal} V by the readings{words}", ("nominal", Nominal(share!.Service, share.Nominal)), ("words", words)) : "";
    }

    /// <summary>The short name of a service in a sentence.</summary>
    internal static string Name(ServiceKind service) => service switch
    {
        ServiceKind.Wye => Say.Of("service.wye.short", "wye"),
        ServiceKind.Delta => Say.Of("service.delta.short", "delta"),
        ServiceKind.DeltaTwoClamp => Say.Of("service.delta-two-clamp.short", "delta-two-clamp"),
        ServiceKind.HighLeg => Say.Of("service.high-leg.short", "high-leg"),
        ServiceKind.Split => Say.Of("service.split.short", "split"),
        ServiceKind.Network => Say.Of("service.network.short", "network"),
        ServiceKind.Single => Say.Of("service.single.short", "single"),
        _ => Service.Of(service).Name,
    };

    /// <summary>What is wrong, as a clause.</summary>
    internal static string Mismatch(SetService fits) =>
        Say.Of("service.the-readings-come-from-a", "the readings come from a {name} service at {nominal} V, not from what was stated", ("name", Name(fits.Service)), ("nominal", Nominal(fits.Service, fits.Nominal)));

    /// <summary>What to do about it.</summary>
    internal static string Remedy(SetService set) =>
        Say.Of("service.read-the-nameplate-if-it", "Read the nameplate. If it says so, state the service {name} at {nominal} V, set the recorder to it and check again.", ("name", Name(set.Service)), ("nominal", Nominal(set.Service, set.Nominal)));

    /// <summary>What the readings say of the service that was stated.</summary>
    internal static string Evidence(Evidence evidence, HookupVerdict verdict)
    {
        var stated = verdict.StatedService is { } other ? Say.Of("service.a-service", "a {name} service", ("name", Name(other))) : Say.Of("service.the-nominal-voltage-that-was", "the nominal voltage that was stated");
        return Say.Of("service.all-readings-together-every-hook", "All readings together, every hook-up and slip on either side counted in: this {strength} {stated}.", ("strength", EvidenceWording.Strength(evidence.LogOdds)), ("stated", stated));
    }

    /// <summary>Which services the readings could come from, and what to look at.</summary>
    internal static string Doubt(HookupVerdict verdict)
    {
        var likely = verdict.Services.Where(share => share.Probability >= 0.01).Take(3).ToArray();
        if (likely.Length < 2) return NoteWording.Of(new Note(NoteKind.ServiceInDoubt, [], double.NaN));
        var names = likely.Select(share =>
            Say.Of("service.at-v", "{name} at {nominal} V ({percent})", ("name", Name(share.Service)), ("nominal", Nominal(share.Service, share.Nominal)), ("percent", ConfidenceWording.Percent(share.Probability))));
        return Say.Of("service.the-service-is-in-doubt", "The service is in doubt: {names}. {lookAt}", ("names", Phrases.Join(names)), ("lookAt", LookAt(likely[0].Service, likely[1].Service)));
    }

    /// <summary>What tells two services apart.</summary>
    private static string LookAt(ServiceKind first, ServiceKind second)
    {
        bool Either(ServiceKind kind) => first == kind || second == kind;
        if (first == second) return Say.Of("service.look-at-the-nameplate-for", "Look at the nameplate for the nominal voltage.");
        if (Either(ServiceKind.Network) && Either(ServiceKind.Split))
            return Say.Of("service.look-at-the-nameplate-or", "Look at the nameplate, or measure between the two lines: twice the voltage to neutral is a split service, 1.73 times it is two lines of a wye.");
        if (Either(ServiceKind.HighLeg))
            return Say.Of("service.look-at-the-nameplate-and", "Look at the nameplate and for the marking of a high leg, or measure each line to neutral: one that stands at 1.73 times the other two is a high leg.");
        if (Either(ServiceKind.Delta) || Either(ServiceKind.DeltaTwoClamp))
            return Say.Of("service.look-whether-the-board-has", "Look whether the board has a neutral, and what VN is on. A line that reads nothing to ground and is live to the others is the earthed corner of a delta, not a dead line.");
        return Say.Of("service.look-at-the-nameplate", "Look at the nameplate.");
    }
}
