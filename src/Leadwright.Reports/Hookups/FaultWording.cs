using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;

namespace Leadwright.Reports.Hookups;

/// <summary>Says what is wrong.</summary>
public static class FaultWording
{
    /// <summary>One fault as a clause without a capital letter or full stop, such as <c>clamps I2 and I3 are exchanged</c>.</summary>
    /// <param name="fault">The fault.</param>
    /// <param name="answer">The answer it belongs to.</param>
    /// <param name="service">The service that the check was made for.</param>
    /// <param name="naming">How the site's conductors are called.</param>
    public static string Clause(Fault fault, Answer answer, ServiceKind service, ConductorNaming naming)
    {
        ArgumentNullException.ThrowIfNull(fault);
        ArgumentNullException.ThrowIfNull(answer);
        ArgumentNullException.ThrowIfNull(naming);
        var leads = Phrases.Join("lead", fault.Leads);
        var clamps = Phrases.Join("clamp", fault.Clamps);
        return fault.Kind switch
        {
            FaultKind.ClampReversed => fault.Clamps.Length == 1 ? $"{clamps} faces the source" : $"{clamps} face the source",
            FaultKind.ClampsExchanged => $"{clamps} are exchanged{Facing(fault, answer)}",
            FaultKind.ClampsRotated => $"{clamps} are each on the next conductor: {ClampPlaces(fault, answer)}{Facing(fault, answer)}",
            FaultKind.ClampOpen => fault.Clamps.Length == 1
                ? $"{clamps} surrounds nothing or is not closed" : $"{clamps} surround nothing or are not closed",
            FaultKind.LeadsExchanged => fault.Leads.Length == 2
                ? $"{leads} are exchanged" : $"{leads} are on each other's conductors: {LeadPlaces(fault, answer)}",
            FaultKind.LeadOpen => fault.Leads.Length == 1 ? $"{leads} makes no contact" : $"{leads} make no contact",
            FaultKind.LeadOnNeutral => fault.Leads.Length == 1 ? $"{leads} is on the neutral" : $"{leads} are on the neutral",
            FaultKind.LeadsOnSameConductor => TogetherLeads(fault, answer, naming),
            FaultKind.ClampsOnSameConductor => TogetherClamps(fault, answer, naming),
            FaultKind.ClampOnNeutral => OnNeutral(fault, answer, naming),
            FaultKind.NeutralOpen => "the neutral lead VN makes no contact",
            FaultKind.NeutralExchanged => fault.Leads.Any(lead => lead != Lead.VN)
                ? $"the neutral lead VN is exchanged with {Phrases.Join("lead", fault.Leads.Where(lead => lead != Lead.VN).ToArray())}"
                : "the neutral lead VN is on a line",
            FaultKind.RotationReversed => "the voltages come in the other order than the rotation indicator showed",
            FaultKind.RatioWrong => $"{clamps} {(fault.Clamps.Length == 1 ? "reads" : "read")} {Ratios(fault, answer)}",
            FaultKind.ServiceMismatch when fault.Movements is [SetService fits] => ServiceWording.Mismatch(fits),
            FaultKind.ServiceMismatch => $"the readings can't come from a {Service.Of(service).Name} service",
            _ => throw new ArgumentOutOfRangeException(nameof(fault), fault.Kind, "This is a bug in Leadwright: a fault without words."),
        };
    }

    private static string LeadPlaces(Fault fault, Answer answer) => Phrases.Join(fault.Leads.Select(lead =>
        answer.Hookup.Leads.GetValueOrDefault(lead) is { } on ? $"{lead} on {ConductorNaming.Brief(on)}" : $"{lead} in the air"));

    private static string ClampPlaces(Fault fault, Answer answer) => Phrases.Join(fault.Clamps.Select(clamp =>
        answer.Hookup.Clamps.GetValueOrDefault(clamp).On is { } on ? $"{clamp} on {ConductorNaming.Brief(on)}" : $"{clamp} round nothing"));

    // A clamp that is both elsewhere and turned is said here only when no fault of its own says that it is turned.
    private static string Facing(Fault fault, Answer answer)
    {
        var said = answer.Faults.Where(other => other.Kind == FaultKind.ClampReversed).SelectMany(other => other.Clamps);
        var turned = fault.Clamps.Where(clamp => answer.Hookup.Clamps.GetValueOrDefault(clamp).Reversed).Except(said).ToArray();
        return turned.Length switch
        {
            0 => "",
            1 => $", and {turned[0]} faces the source",
            _ => $", and {Phrases.Join(turned)} face the source",
        };
    }

    private static string TogetherLeads(Fault fault, Answer answer, ConductorNaming naming)
    {
        var movers = fault.Movements.OfType<MoveLead>().Select(move => move.Lead).Distinct().ToArray();
        var home = fault.Leads.Except(movers).ToArray();
        var first = fault.Leads.IsEmpty ? null : answer.Hookup.Leads.GetValueOrDefault(fault.Leads[0]);
        var place = first is { } on ? naming.Phrase(on) : "one conductor";
        return movers.Length == 1 && home.Length > 0
            ? $"lead {movers[0]} is on {place} together with {Phrases.Join(home)}"
            : $"{Phrases.Join("lead", fault.Leads)} are on the same conductor: {place}";
    }

    private static string TogetherClamps(Fault fault, Answer answer, ConductorNaming naming)
    {
        var movers = fault.Movements.OfType<MoveClamp>().Select(move => move.Clamp).Distinct().ToArray();
        var home = fault.Clamps.Except(movers).ToArray();
        var first = fault.Clamps.IsEmpty ? null : answer.Hookup.Clamps.GetValueOrDefault(fault.Clamps[0]).On;
        var place = first is { } on ? naming.Phrase(on) : "one conductor";
        return movers.Length == 1 && home.Length > 0
            ? $"clamp {movers[0]} is on {place} together with {Phrases.Join(home)}{Facing(fault, answer)}"
            : $"{Phrases.Join("clamp", fault.Clamps)} are on the same conductor: {place}{Facing(fault, answer)}";
    }

    private static string OnNeutral(Fault fault, Answer answer, ConductorNaming naming) => Phrases.Join(fault.Clamps.Select(clamp =>
        answer.Hookup.Clamps.GetValueOrDefault(clamp).On is { } on
            ? $"clamp {clamp} is on {naming.Phrase(on)}" : $"clamp {clamp} is on the neutral")) + Facing(fault, answer);

    private static string Ratios(Fault fault, Answer answer) => Phrases.Join(
        fault.Clamps.Select(clamp => Phrases.Ratio(answer.Hookup.Clamps.GetValueOrDefault(clamp, ClampPlace.Right(Conductor.A)).Scale)).Distinct());
}
