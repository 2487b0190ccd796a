using Leadwright.Core.Hookups;

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
            MoveLead { From: null } move => $"Clip lead {move.Lead} firmly on {naming.Phrase(move.To)}: it makes no contact now.",
            MoveLead move => $"Move lead {move.Lead} to {naming.Phrase(move.To)}.",
            MoveClamp { From: null } move => $"Close clamp {move.Clamp} round {naming.Phrase(move.To)}, its arrow to the load.",
            MoveClamp { AndTurn: true } move =>
                $"Move clamp {move.Clamp} to {naming.Phrase(move.To)} and turn it round: its arrow must point to the load.",
            MoveClamp move => $"Move clamp {move.Clamp} to {naming.Phrase(move.To)}.",
            TurnClamp turn => $"Turn clamp {turn.Clamp} round: its arrow must point to the load.",
            SetRatio set => $"Set the ratio or range of clamp {set.Clamp} again: it reads {Phrases.Ratio(set.Scale)}.",
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
            FaultKind.ServiceMismatch => "Read the nameplate, then give the service and its nominal voltage again.",
            FaultKind.RotationReversed => "Look again at the rotation indicator and at which lead of it was on which conductor; "
                + "then exchange two phases, each with its lead and its clamp.",
            FaultKind.ClampReversed => $"Turn {Phrases.Join("clamp", fault.Clamps)} round in the same movement: arrows must point to the load.",
            _ => "Put right by the movements of the other faults.",
        };
    }
}
