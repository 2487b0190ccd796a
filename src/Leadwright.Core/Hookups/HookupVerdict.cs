using System.Collections.Immutable;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups.Settling;

namespace Leadwright.Core.Hookups;

/// <summary>The three answers of a check.</summary>
public enum Verdict
{
    /// <summary>Every lead and clamp is right.</summary>
    Correct,

    /// <summary>Something is to be moved, turned or set.</summary>
    Faulty,

    /// <summary>The readings do not carry enough to say.</summary>
    Undecided,
}

/// <summary>The kinds of fault; their names in files are the same words in lower case with hyphens.</summary>
public enum FaultKind
{
    /// <summary>A clamp's arrow points away from the load.</summary>
    ClampReversed,

    /// <summary>Two clamps sit on each other's conductor.</summary>
    ClampsExchanged,

    /// <summary>Three clamps are rotated: each sits on the next conductor.</summary>
    ClampsRotated,

    /// <summary>A clamp surrounds nothing or is not closed.</summary>
    ClampOpen,

    /// <summary>Two or more line leads sit on each other's conductor.</summary>
    LeadsExchanged,

    /// <summary>A lead is in the air.</summary>
    LeadOpen,

    /// <summary>A line lead is on the neutral.</summary>
    LeadOnNeutral,

    /// <summary>Two leads are on one conductor.</summary>
    LeadsOnSameConductor,

    /// <summary>Two clamps are on one conductor.</summary>
    ClampsOnSameConductor,

    /// <summary>A line clamp is on the neutral, or the neutral clamp on a line.</summary>
    ClampOnNeutral,

    /// <summary>The neutral lead is in the air.</summary>
    NeutralOpen,

    /// <summary>The neutral lead is on a line, in exchange with that line's lead.</summary>
    NeutralExchanged,

    /// <summary>The voltages come in the other order than the rotation indicator showed.</summary>
    RotationReversed,

    /// <summary>A clamp's ratio or range is set wrong.</summary>
    RatioWrong,

    /// <summary>The readings can't come from the stated service.</summary>
    ServiceMismatch,
}

/// <summary>One thing that is wrong.</summary>
/// <param name="Kind">What it is.</param>
/// <param name="Leads">The leads concerned, in order.</param>
/// <param name="Clamps">The clamps concerned, in order.</param>
/// <param name="Movements">The hand movements that put it right, in the order to do them; empty when there is none to do.</param>
public sealed record Fault(
    FaultKind Kind, ImmutableArray<Lead> Leads, ImmutableArray<Clamp> Clamps, ImmutableArray<Movement> Movements);

/// <summary>One hand movement at the panel, or one setting at the recorder.</summary>
public abstract record Movement;

/// <summary>Move a lead.</summary>
/// <param name="Lead">The lead.</param>
/// <param name="From">Where it is; null when it is in the air.</param>
/// <param name="To">Where it belongs.</param>
public sealed record MoveLead(Lead Lead, Conductor? From, Conductor To) : Movement;

/// <summary>Move a clamp, and turn it in the same movement where needed.</summary>
/// <param name="Clamp">The clamp.</param>
/// <param name="From">Where it is; null when it surrounds nothing.</param>
/// <param name="To">Where it belongs.</param>
/// <param name="AndTurn">True when it also faces the source now.</param>
public sealed record MoveClamp(Clamp Clamp, Conductor? From, Conductor To, bool AndTurn) : Movement;

/// <summary>Turn a clamp round where it is.</summary>
/// <param name="Clamp">The clamp.</param>
/// <param name="On">The conductor it is on.</param>
public sealed record TurnClamp(Clamp Clamp, Conductor On) : Movement;

/// <summary>Correct the ratio or range of a clamp in the recorder's settings.</summary>
/// <param name="Clamp">The clamp.</param>
/// <param name="Scale">What its readings must be divided by now.</param>
public sealed record SetRatio(Clamp Clamp, double Scale) : Movement;

/// <summary>State another service, or another nominal voltage, in the recorder's settings.</summary>
/// <param name="Service">The service that the readings come from.</param>
/// <param name="Nominal">Its nominal voltage.</param>
public sealed record SetService(ServiceKind Service, NominalVoltage Nominal) : Movement;

/// <summary>How likely one service is.</summary>
/// <param name="Service">The service.</param>
/// <param name="Nominal">The nominal voltage that goes with it.</param>
/// <param name="Probability">Its probability among the services that the channels at hand could come from.</param>
public sealed record ServiceShare(ServiceKind Service, NominalVoltage Nominal, double Probability);

/// <summary>The kinds of evidence that the check weighs.</summary>
public enum EvidenceKind
{
    /// <summary>How often such slips happen, before anything is read.</summary>
    Prior,

    /// <summary>Sizes and angles of the voltages.</summary>
    VoltageGeometry,

    /// <summary>Displacement between each current and its voltage, under what is known of the load.</summary>
    Displacement,

    /// <summary>Currents add up to zero, or to the neutral clamp.</summary>
    Kirchhoff,

    /// <summary>Sizes of the currents against each other.</summary>
    Magnitudes,

    /// <summary>Changes of the voltages when loads are switched.</summary>
    Steps,

    /// <summary>Harmonics of the currents against the voltages and against each other.</summary>
    Harmonics,

    /// <summary>The conventions of the instrument: sign of angles and of power.</summary>
    Convention,

    /// <summary>What a person found at the panel when asked.</summary>
    Told,

    /// <summary>The service: all readings together under the one reported against the one stated.</summary>
    Service,
}

/// <summary>What one kind of evidence says.</summary>
/// <param name="Kind">The kind.</param>
/// <param name="LogOdds">Natural logarithm of how many times likelier it makes the reported hook-up than the strongest
/// rival that it is weighed against; above zero speaks for the report.</param>
/// <param name="Rival">The hook-up that it is weighed against.</param>
public sealed record Evidence(EvidenceKind Kind, double LogOdds, Hookup Rival);

/// <summary>One answer: a hook-up with all those that no reading of these channels can tell from it.</summary>
/// <param name="Hookup">The likeliest of them.</param>
/// <param name="Rotation">The rotation of the supply that goes with it.</param>
/// <param name="Probability">The probability of the answer, all its members included.</param>
/// <param name="Faults">What is wrong in it, in the order to put it right; empty when it is right.</param>
/// <param name="SameReading">The other members that are likely enough to be named, likeliest first.</param>
public sealed record Answer(
    Hookup Hookup,
    Rotation Rotation,
    double Probability,
    ImmutableArray<Fault> Faults,
    ImmutableArray<SameReading> SameReading)
{
    /// <summary>The line that is the high leg, on a high-leg service; null on others.</summary>
    public Conductor? HighLeg { get; init; }

    /// <summary>The earthed line, where a three-wire service was read to ground and one corner of its delta is earthed; else null.</summary>
    public Conductor? Corner { get; init; }

    /// <summary>Every other hook-up that reads the same and can be listed, likeliest first, however unlikely: those of <see cref="SameReading"/>,
    /// and those too rare to be named or even weighed, whose share is 0. Of the reported answer alone; empty in a rival.</summary>
    public ImmutableArray<SameReading> Alike { get; init; } = [];
}

/// <summary>A hook-up that reads the same as the reported one.</summary>
/// <param name="Hookup">The hook-up.</param>
/// <param name="Rotation">The rotation of the supply that goes with it.</param>
/// <param name="Share">Its share of the answer's probability; 0 where it was too rare to be weighed.</param>
public sealed record SameReading(Hookup Hookup, Rotation Rotation, double Share)
{
    /// <summary>The line that is the high leg with it, on a high-leg service; null on others.</summary>
    public Conductor? HighLeg { get; init; }
}

/// <summary>Something about the readings themselves that the person must know.</summary>
public enum NoteKind
{
    /// <summary>The angles fit only when positive angles lag.</summary>
    AnglesFitLagPositive,

    /// <summary>The angles fit only when positive angles lead.</summary>
    AnglesFitLeadPositive,

    /// <summary>The current angles fit only when measured from each phase's own voltage.</summary>
    CurrentAnglesFitOwnVoltage,

    /// <summary>The powers fit only when load is negative.</summary>
    PowerFitsLoadNegative,

    /// <summary>Watts exceed volts times amperes: the value can't be true and was left out.</summary>
    PowerImpossible,

    /// <summary>Watts contradict the volts, amperes and angles of the same phase.</summary>
    PowerContradictsAngles,

    /// <summary>Voltages are far from the nominal value.</summary>
    VoltageOffNominal,

    /// <summary>The readings fit no hook-up of this service well.</summary>
    FitsNothing,

    /// <summary>Of these clamps nothing was read that tells where they are.</summary>
    NoCurrentAngles,

    /// <summary>Nothing was read that tells which lead is on which conductor.</summary>
    NoVoltageAngles,

    /// <summary>The currents do not add up to nothing, or to the neutral clamp, in the reported hook-up.</summary>
    CurrentsDoNotAddUp,

    /// <summary>Leads or clamps of the service were not read: nothing can be said of them.</summary>
    NotAllRead,

    /// <summary>No voltage to speak of on any channel: a dead board, or leads that are not plugged in.</summary>
    NothingLive,

    /// <summary>The currents are so small that their angles say little.</summary>
    LittleCurrent,

    /// <summary>The voltages changed several times while next to no current was read and none changed: a clamp on nothing, or a
    /// neighbour's loads.</summary>
    CurrentsStandStill,

    /// <summary>All currents could also be turned together while the site sends power back.</summary>
    ExportOrAllReversed,

    /// <summary>The neutral lead is on the neutral, and yet far from ground.</summary>
    NeutralFarFromGround,

    /// <summary>The readings could come from another service too, or from another nominal voltage: see
    /// <see cref="HookupVerdict.Services"/>.</summary>
    ServiceInDoubt,

    /// <summary>The supply turns A-C-B, or leads and clamps of two lines are exchanged together.</summary>
    RotationReadsReversed,
}

/// <summary>A note.</summary>
/// <param name="Kind">What it is.</param>
/// <param name="Channels">The channels concerned.</param>
/// <param name="Value">The figure that belongs to it (a ratio, a percentage: see the wording); NaN when there is none.</param>
public sealed record Note(NoteKind Kind, ImmutableArray<Channel> Channels, double Value);

/// <summary>The answer of a check.</summary>
public sealed record HookupVerdict
{
    /// <summary>The service that the answer is for: the one that was stated, unless that one can't be, or none was.</summary>
    public required ServiceKind Service { get; init; }

    /// <summary>The service that was stated, where the answer is for another one; else null.</summary>
    public ServiceKind? StatedService { get; init; }

    /// <summary>The services that were weighed against each other, likeliest first; empty when the stated one was not in doubt.</summary>
    public ImmutableArray<ServiceShare> Services { get; init; } = [];

    /// <summary>Correct, faulty or undecided.</summary>
    public required Verdict Verdict { get; init; }

    /// <summary>The likeliest answer. Its probability is the confidence of the report.</summary>
    public required Answer Best { get; init; }

    /// <summary>Probability that every lead and clamp is right.</summary>
    public required double ProbabilityCorrect { get; init; }

    /// <summary>The rivals, likeliest first; at most six, none below one in ten thousand.</summary>
    public required ImmutableArray<Answer> Alternatives { get; init; }

    /// <summary>Each kind of evidence that says something, strongest first.</summary>
    public required ImmutableArray<Evidence> Evidence { get; init; }

    /// <summary>What the person must know about the readings.</summary>
    public required ImmutableArray<Note> Notes { get; init; }

    /// <summary>The phasors that the check worked with, in this project's convention, for drawing; a channel without an
    /// angle is not in it.</summary>
    public required ImmutableSortedDictionary<Channel, Phasor> Phasors { get; init; }

    /// <summary>What would settle most of what is open; null when no action tells more than it costs.</summary>
    public Settlement? Settle { get; init; }

    /// <summary>For each of <see cref="Alternatives"/>, what tells it from the best answer.</summary>
    public ImmutableArray<Settlement> AlternativeSettles { get; init; } = [];

    /// <summary>What was told at the panel, and what came of it.</summary>
    public ImmutableArray<WeighedTold> Told { get; init; } = [];

    /// <summary>How many times a load was switched in the recording that the readings come from; 0 without a recording.</summary>
    public int StepCount { get; init; }

    /// <summary>True when the readings are means of a log, and <see cref="StepCount"/> counts changes from interval to interval.</summary>
    public bool IsLogged { get; init; }
}
