using Leadwright.Core.Hookups;
using Leadwright.Core.Wording;

namespace Leadwright.Reports.Hookups;

/// <summary>Says what to move, turn or set.</summary>
public static class RemedyWording
{
    /// <summary>One movement as a short sentence: <c>Move clamp I2 to conductor B (black).</c></summary>
    /// <param name="movement">The movement.</param>
    /// <param name="naming">How the site's conductors are called.</param>
    public static string Of(Movement movement, ConductorNaming naming)
    {
        ArgumentNullException.ThrowIfNull(naming);
        return movement switch
        {
            MoveLead { From: null } move => Say.Of("remedy.clip-lead-firmly-on-it", "Clip lead {lead} firmly on {conductor}: it makes no contact now.", ("lead", move.Lead), ("conductor", naming.Phrase(move.To))),
            MoveLead move => Say.Of("remedy.move-lead-to", "Move lead {lead} to {conductor}.", ("lead", move.Lead), ("conductor", naming.Phrase(move.To))),
            MoveClamp { From: null } move => Say.Of("remedy.close-clamp-round-its-arrow", "Close clamp {clamp} round {conductor}, its arrow to the load.", ("clamp", move.Clamp), ("conductor", naming.Phrase(move.To))),
            MoveClamp { AndTurn: true } move =>
                Say.Of("remedy.move-clamp-to-and-turn", "Move clamp {clamp} to {conductor} and turn it round: its arrow must point to the load.", ("clamp", move.Clamp), ("conductor", naming.Phrase(move.To))),
            MoveClamp move => Say.Of("remedy.move-clamp-to", "Move clamp {clamp} to {conductor}.", ("clamp", move.Clamp), ("conductor", naming.Phrase(move.To))),
            TurnClamp turn => Say.Of("remedy.turn-clamp-round-its-arrow", "Turn clamp {clamp} round: its arrow must point to the load.", ("clamp", turn.Clamp)),
            SetRatio set => Say.Of("remedy.set-the-ratio-or-range", "Set the ratio or range of clamp {clamp} again: it reads {ratio}.", ("clamp", set.Clamp), ("ratio", Phrases.Ratio(set.Scale))),
            SetService set => ServiceWording.Remedy(set),
            _ => throw new ArgumentOutOfRangeException(nameof(movement), movement, "This is a bug in Leadwright: a movement without words."),
        };
    }

    /// <summary>All that puts one fault right, as one text.</summary>
    /// <param name="fault">The fault.</param>
    /// <param name="naming">How the site's conductors are called.</param>
    public static string Of(Fault fault, ConductorNaming naming)
    {
        ArgumentNullException.ThrowIfNull(fault);
        if (!fault.Movements.IsDefaultOrEmpty) return string.Join(' ', fault.Movements.Select(movement => Of(movement, naming)));
        return fault.Kind switch
        {
            FaultKind.ServiceMismatch => Say.Of("remedy.read-the-nameplate-then-give", "Read the nameplate, then give the service and its nominal voltage again."),
            FaultKind.RotationReversed => Say.Of("remedy.look-again-at-the-rotation", "Look again at the rotation indicator and at which lead of it was on which conductor; then exchange two phases, each with its lead and its clamp."),
            FaultKind.ClampReversed => Say.Of("remedy.turn-round-in-the-same", "Turn {clamps} round in the same movement: arrows must point to the load.", ("clamps", Phrases.Join("clamp", fault.Clamps))),
            _ => Say.Of("remedy.put-right-by-the-movements", "Put right by the movements of the other faults."),
        };
    }
}
