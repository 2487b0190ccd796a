using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Wording;

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
            FaultKind.ClampReversed => fault.Clamps.Length == 1 ? Say.Of("fault.faces-the-source", "{clamps} faces the source", ("clamps", clamps)) : Say.Of("fault.face-the-source", "{clamps} face the source", ("clamps", clamps)),
            FaultKind.ClampsExchanged => Say.Of("fault.are-exchanged", "{clamps} are exchanged{facing}", ("clamps", clamps), ("facing", Facing(fault, answer))),
            FaultKind.ClampsRotated => Say.Of("fault.are-each-on-the-next", "{clamps} are each on the next conductor: {places}{facing}", ("clamps", clamps), ("places", ClampPlaces(fault, answer)), ("facing", Facing(fault, answer))),
            FaultKind.ClampOpen => fault.Clamps.Length == 1
                ? Say.Of("fault.surrounds-nothing-or-is-not", "{clamps} surrounds nothing or is not closed", ("clamps", clamps)) : Say.Of("fault.surround-nothing-or-are-not", "{clamps} surround nothing or are not closed", ("clamps", clamps)),
            FaultKind.LeadsExchanged => fault.Leads.Length == 2
                ? Say.Of("fault.are-exchanged-2", "{leads} are exchanged", ("leads", leads)) : Say.Of("fault.are-on-each-others-conductors", "{leads} are on each other's conductors: {places}", ("leads", leads), ("places", LeadPlaces(fault, answer))),
            FaultKind.LeadOpen => fault.Leads.Length == 1 ? Say.Of("fault.makes-no-contact", "{leads} makes no contact", ("leads", leads)) : Say.Of("fault.make-no-contact", "{leads} make no contact", ("leads", leads)),
            FaultKind.LeadOnNeutral => fault.Leads.Length == 1 ? Say.Of("fault.is-on-the-neutral", "{leads} is on the neutral", ("leads", leads)) : Say.Of("fault.are-on-the-neutral", "{leads} are on the neutral", ("leads", leads)),
            FaultKind.LeadsOnSameConductor => TogetherLeads(fault, answer, naming),
            FaultKind.ClampsOnSameConductor => TogetherClamps(fault, answer, naming),
            FaultKind.ClampOnNeutral => OnNeutral(fault, answer, naming),
            FaultKind.NeutralOpen => Say.Of("fault.the-neutral-lead-vn-makes", "the neutral lead VN makes no contact"),
            FaultKind.NeutralExchanged => fault.Leads.Any(lead => lead != Lead.VN)
                ? Say.Of("fault.the-neutral-lead-vn-is", "the neutral lead VN is exchanged with {leads}", ("leads", Phrases.Join("lead", fault.Leads.Where(lead => lead != Lead.VN).ToArray())))
                : Say.Of("fault.the-neutral-lead-vn-is-2", "the neutral lead VN is on a line"),
            FaultKind.RotationReversed => Say.Of("fault.the-voltages-come-in-the", "the voltages come in the other order than the rotation indicator showed"),
            FaultKind.RatioWrong => fault.Clamps.Length == 1
                ? Say.Of("fault.reads", "{clamps} reads {ratio}", ("clamps", clamps), ("ratio", Ratios(fault, answer))) : Say.Of("fault.read", "{clamps} read {ratio}", ("clamps", clamps), ("ratio", Ratios(fault, answer))),
            FaultKind.ServiceMismatch when fault.Movements is [SetService fits] => ServiceWording.Mismatch(fits),
            FaultKind.ServiceMismatch => Say.Of("fault.the-readings-cant-come-from", "the readings can't come from a {name} service", ("name", ServiceWording.Name(service))),
            _ => throw new ArgumentOutOfRangeException(nameof(fault), fault.Kind, "This is a bug in Leadwright: a fault without words."),
        };
    }

    private static string LeadPlaces(Fault fault, Answer answer) => Phrases.Join(fault.Leads.Select(lead =>
        answer.Hookup.Leads.GetValueOrDefault(lead) is { } on ? Say.Of("fault.on", "{lead} on {conductor}", ("lead", lead), ("conductor", ConductorNaming.Brief(on))) : Say.Of("fault.in-the-air", "{lead} in the air", ("lead", lead))));

    private static string ClampPlaces(Fault fault, Answer answer) => Phrases.Join(fault.Clamps.Select(clamp =>
        answer.Hookup.Clamps.GetValueOrDefault(clamp).On is { } on ? Say.Of("fault.on-2", "{clamp} on {conductor}", ("clamp", clamp), ("conductor", ConductorNaming.Brief(on))) : Say.Of("fault.round-nothing", "{clamp} round nothing", ("clamp", clamp))));

    // A clamp that is both elsewhere and turned is said here only when no fault of its own says that it is turned.
    private static string Facing(Fault fault, Answer answer)
    {
        var said = answer.Faults.Where(other => other.Kind == FaultKind.ClampReversed).SelectMany(other => other.Clamps);
        var turned = fault.Clamps.Where(clamp => answer.Hookup.Clamps.GetValueOrDefault(clamp).Reversed).Except(said).ToArray();
        return turned.Length switch
        {
            0 => "",
            1 => Say.Of("fault.and-faces-the-source", ", and {turned} faces the source", ("turned", turned[0])),
            _ => Say.Of("fault.and-face-the-source", ", and {turned} face the source", ("turned", Phrases.Join(turned))),
        };
    }

    private static string TogetherLeads(Fault fault, Answer answer, ConductorNaming naming)
    {
        var movers = fault.Movements.OfType<MoveLead>().Select(move => move.Lead).Distinct().ToArray();
        var home = fault.Leads.Except(movers).ToArray();
        var first = fault.Leads.IsEmpty ? null : answer.Hookup.Leads.GetValueOrDefault(fault.Leads[0]);
        var place = first is { } on ? naming.Phrase(on) : Say.Of("fault.one-conductor", "one conductor");
        return movers.Length == 1 && home.Length > 0
            ? Say.Of("fault.lead-is-on-together-with", "lead {lead} is on {place} together with {others}", ("lead", movers[0]), ("place", place), ("others", Phrases.Join(home)))
            : Say.Of("fault.are-on-the-same-conductor", "{leads} are on the same conductor: {place}", ("leads", Phrases.Join("lead", fault.Leads)), ("place", place));
    }

    private static string TogetherClamps(Fault fault, Answer answer, ConductorNaming naming)
    {
        var movers = fault.Movements.OfType<MoveClamp>().Select(move => move.Clamp).Distinct().ToArray();
        var home = fault.Clamps.Except(movers).ToArray();
        var first = fault.Clamps.IsEmpty ? null : answer.Hookup.Clamps.GetValueOrDefault(fault.Clamps[0]).On;
        var place = first is { } on ? naming.Phrase(on) : Say.Of("fault.one-conductor", "one conductor");
        return movers.Length == 1 && home.Length > 0
            ? Say.Of("fault.clamp-is-on-together-with", "clamp {clamp} is on {place} together with {others}{facing}", ("clamp", movers[0]), ("place", place), ("others", Phrases.Join(home)), ("facing", Facing(fault, answer)))
            : Say.Of("fault.are-on-the-same-conductor-2", "{clamps} are on the same conductor: {place}{facing}", ("clamps", Phrases.Join("clamp", fault.Clamps)), ("place", place), ("facing", Facing(fault, answer)));
    }

    private static string OnNeutral(Fault fault, Answer answer, ConductorNaming naming) => Phrases.Join(fault.Clamps.Select(clamp =>
        answer.Hookup.Clamps.GetValueOrDefault(clamp).On is { } on
            ? Say.Of("fault.clamp-is-on", "clamp {clamp} is on {conductor}", ("clamp", clamp), ("conductor", naming.Phrase(on))) : Say.Of("fault.clamp-is-on-the-neutral", "clamp {clamp} is on the neutral", ("clamp", clamp)))) + Facing(fault, answer);

    private static string Ratios(Fault fault, Answer answer) => Phrases.Join(
        fault.Clamps.Select(clamp => Phrases.Ratio(answer.Hookup.Clamps.GetValueOrDefault(clamp, ClampPlace.Right(Conductor.A)).Scale)).Distinct());
}
