using System.Collections.Immutable;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Hookups.Settling;

namespace Leadwright.Reports.Tests.Hookups;

/// <summary>Verdicts made by hand, so that the words are tested without the engine that would give them.</summary>
internal static class SampleVerdicts
{
    /// <summary>The contract's example: clamp I1 faces the source, I2 and I3 are exchanged.</summary>
    public static HookupVerdict Exchanged()
    {
        var hookup = Wye(i1: new(Conductor.A, true, 1), i2: ClampPlace.Right(Conductor.C), i3: ClampPlace.Right(Conductor.B));
        var right = Wye();
        var turned = Wye(i1: new(Conductor.A, false, 1), i2: new(Conductor.C, true, 1), i3: new(Conductor.B, true, 1));
        return new HookupVerdict
        {
            Service = ServiceKind.Wye,
            Verdict = Verdict.Faulty,
            Best = new Answer(
                hookup, Rotation.Abc, 0.99412,
                [
                    new Fault(FaultKind.ClampReversed, [], [Clamp.I1], [new TurnClamp(Clamp.I1, Conductor.A)]),
                    new Fault(FaultKind.ClampsExchanged, [], [Clamp.I2, Clamp.I3],
                        [new MoveClamp(Clamp.I2, Conductor.C, Conductor.B, false), new MoveClamp(Clamp.I3, Conductor.B, Conductor.C, false)]),
                ],
                [new SameReading(RoundByOne(hookup), Rotation.Abc, 0.05)]),
            ProbabilityCorrect = 0.0002,
            Alternatives =
            [
                new Answer(turned, Rotation.Abc, 0.004,
                    [
                        new Fault(FaultKind.ClampReversed, [], [Clamp.I2, Clamp.I3], []),
                        new Fault(FaultKind.ClampsExchanged, [], [Clamp.I2, Clamp.I3],
                            [new MoveClamp(Clamp.I2, Conductor.C, Conductor.B, true), new MoveClamp(Clamp.I3, Conductor.B, Conductor.C, true)]),
                    ],
                    []),
                new Answer(right, Rotation.Abc, 0.0002, [], []),
            ],
            AlternativeSettles =
            [
                Settling("motor", 0.86, ("mixed", 0.5, 0.98, 0.02), ("up", 0.5, 0.01, 0.97)),
                Settling("switched:A", 0.86, ("I1,down", 0.5, 0.98, 0.003), ("I1,up", 0.5, 0.003, 0.98)),
            ],
            Evidence =
            [
                new Evidence(EvidenceKind.Displacement, 7.1, right),
                new Evidence(EvidenceKind.VoltageGeometry, 3.4, right),
                new Evidence(EvidenceKind.Prior, -4.2, right),
            ],
            Notes = [],
            Phasors = Phasors(
                (Channel.V1, 231.2, 0), (Channel.V2, 230.1, -120.3), (Channel.V3, 229.8, 119.8),
                (Channel.I1, 41.2, 161), (Channel.I2, 38.0, 95), (Channel.I3, 44.9, -146.1)),
        };
    }

    /// <summary>Everything right on a four-wire service.</summary>
    public static HookupVerdict Correct()
    {
        var right = Wye();
        return new HookupVerdict
        {
            Service = ServiceKind.Wye,
            Verdict = Verdict.Correct,
            Best = new Answer(right, Rotation.Abc, 0.99998, [], [new SameReading(RoundByOne(right), Rotation.Abc, 0.02)]),
            ProbabilityCorrect = 0.99998,
            Alternatives = [],
            Evidence = [new Evidence(EvidenceKind.Displacement, 11.3, Wye(i1: new(Conductor.A, true, 1)))],
            Notes = [],
            Phasors = Phasors(
                (Channel.V1, 231.2, 0), (Channel.V2, 230.1, -120.3), (Channel.V3, 229.8, 119.8),
                (Channel.I1, 41.2, -19), (Channel.I2, 38.0, -146.1), (Channel.I3, 44.9, 95)),
        };
    }

    /// <summary>Sizes alone were read: nothing tells where the clamps are.</summary>
    public static HookupVerdict Undecided()
    {
        var right = Wye();
        var allTurned = Wye(i1: new(Conductor.A, true, 1), i2: new(Conductor.B, true, 1), i3: new(Conductor.C, true, 1));
        return new HookupVerdict
        {
            Service = ServiceKind.Wye,
            Verdict = Verdict.Undecided,
            Best = new Answer(right, Rotation.Unknown, 0.62, [], []),
            ProbabilityCorrect = 0.62,
            Alternatives =
            [
                new Answer(allTurned, Rotation.Unknown, 0.21,
                    [new Fault(FaultKind.ClampReversed, [], [Clamp.I1, Clamp.I2, Clamp.I3],
                        [new TurnClamp(Clamp.I1, Conductor.A), new TurnClamp(Clamp.I2, Conductor.B), new TurnClamp(Clamp.I3, Conductor.C)])],
                    []),
            ],
            Settle = Settling("switched:A", 0.71, ("I1,up", 0.66, 0.98, 0.11), ("I1,down", 0.26, 0.003, 0.66), ("none", 0.08, 0.003, 0.2)),
            AlternativeSettles = [Settling("switched:A", 0.86, ("I1,up", 0.5, 0.98, 0.003), ("I1,down", 0.5, 0.003, 0.98))],
            Told =
            [
                new WeighedTold(Told("arrow:I2=load"), ToldStanding.Agrees),
                new WeighedTold(Told("motor=down"), ToldStanding.Contradicts),
                new WeighedTold(Told("arrow:IN=load"), ToldStanding.NotUsed),
            ],
            Evidence = [new Evidence(EvidenceKind.Prior, 1.1, allTurned), new Evidence(EvidenceKind.Told, -0.6, allTurned)],
            Notes =
            [
                new Note(NoteKind.NoCurrentAngles, [Channel.I1, Channel.I2, Channel.I3], double.NaN),
                new Note(NoteKind.VoltageOffNominal, [Channel.V1], 0.871),
            ],
            Phasors = ImmutableSortedDictionary<Channel, Phasor>.Empty,
        };
    }

    /// <summary>Neutral lead in the air, I1 at ten times its ratio, I2 beside I3 on C and turned, I3 right, IN round nothing.</summary>
    public static HookupVerdict ManyFaults()
    {
        var right = Wye();
        var hookup = new Hookup(
            right.Leads.SetItem(Lead.VN, null),
            right.Clamps.SetItem(Clamp.I1, new(Conductor.A, false, 10)).SetItem(Clamp.I2, new(Conductor.C, true, 1))
                .SetItem(Clamp.IN, new(null, false, 1)));
        var neutralRight = hookup with { Leads = right.Leads };
        return new HookupVerdict
        {
            Service = ServiceKind.Wye,
            Verdict = Verdict.Faulty,
            Best = new Answer(
                hookup, Rotation.Abc, 0.93,
                [
                    new Fault(FaultKind.NeutralOpen, [Lead.VN], [], [new MoveLead(Lead.VN, null, Conductor.N)]),
                    new Fault(FaultKind.ClampsOnSameConductor, [], [Clamp.I2, Clamp.I3], [new MoveClamp(Clamp.I2, Conductor.C, Conductor.B, true)]),
                    new Fault(FaultKind.ClampOpen, [], [Clamp.IN], [new MoveClamp(Clamp.IN, null, Conductor.N, false)]),
                    new Fault(FaultKind.RatioWrong, [], [Clamp.I1], [new SetRatio(Clamp.I1, 10)]),
                ],
                []),
            ProbabilityCorrect = 0,
            Alternatives = [new Answer(neutralRight, Rotation.Abc, 0.05, [], [])],
            Settle = Settling("contact:VN", 0.2, ("no", 0.92, 0.97, 0.03), ("yes", 0.08, 0.03, 0.97)),
            AlternativeSettles = [Settling("meter:VN-A", 0.7, ("0", 0.5, 0.85, 0.01), ("231", 0.5, 0.01, 0.98))],
            Evidence =
            [
                new Evidence(EvidenceKind.Magnitudes, 4.0, hookup with { Clamps = hookup.Clamps.SetItem(Clamp.I1, ClampPlace.Right(Conductor.A)) }),
                new Evidence(EvidenceKind.Kirchhoff, 2.0, right),
            ],
            Notes = [new Note(NoteKind.LittleCurrent, [Channel.IN], double.NaN)],
            Phasors = Phasors(
                (Channel.V1, 231.2, 0), (Channel.V2, 230.1, -120.3), (Channel.V3, 229.8, 119.8),
                (Channel.I1, 412, -19), (Channel.I2, 44.1, -85), (Channel.I3, 44.9, 95), (Channel.IN, 0.2, 10)),
        };
    }

    /// <summary>Three-wire, leads V1 and V2 exchanged.</summary>
    public static HookupVerdict ThreeWire()
    {
        var right = Hookup.Expected([Lead.V1, Lead.V2, Lead.V3], [Clamp.I1, Clamp.I2, Clamp.I3]);
        var hookup = right with { Leads = right.Leads.SetItem(Lead.V1, Conductor.B).SetItem(Lead.V2, Conductor.A) };

        // Both of lines A and B, leads and clamps, on a supply that turns the other way.
        var exchangedBoth = new Hookup(
            hookup.Leads.SetItem(Lead.V1, Conductor.A).SetItem(Lead.V2, Conductor.B),
            hookup.Clamps.SetItem(Clamp.I1, ClampPlace.Right(Conductor.B)).SetItem(Clamp.I2, ClampPlace.Right(Conductor.A)));
        return new HookupVerdict
        {
            Service = ServiceKind.Delta,
            Verdict = Verdict.Faulty,
            Best = new Answer(
                hookup, Rotation.Abc, 0.97,
                [new Fault(FaultKind.LeadsExchanged, [Lead.V1, Lead.V2], [],
                    [new MoveLead(Lead.V1, Conductor.B, Conductor.A), new MoveLead(Lead.V2, Conductor.A, Conductor.B)])],
                [new SameReading(exchangedBoth, Rotation.Acb, 0.3)]),
            ProbabilityCorrect = 0.01,
            Alternatives = [new Answer(right, Rotation.Acb, 0.01, [], [])],
            Evidence = [new Evidence(EvidenceKind.Displacement, 5.6, right), new Evidence(EvidenceKind.Kirchhoff, 0.2, right)],
            Notes = [new Note(NoteKind.RotationReadsReversed, [], double.NaN)],

            // A supply of 480 V from line to line that turns A-B-C; V12 is measured from B to A.
            Phasors = Phasors(
                (Channel.V12, 480, -150), (Channel.V23, 480, -30), (Channel.V31, 480, 90),
                (Channel.I1, 60, -30), (Channel.I2, 61, -150), (Channel.I3, 59, 90)),
        };
    }

    /// <summary>Split service, clamp I2 turned.</summary>
    public static HookupVerdict Split()
    {
        var right = Hookup.Expected([Lead.V1, Lead.V2, Lead.VN], [Clamp.I1, Clamp.I2]);
        var hookup = right with { Clamps = right.Clamps.SetItem(Clamp.I2, new(Conductor.B, true, 1)) };
        var exchanged = right with
        {
            Clamps = right.Clamps.SetItem(Clamp.I1, new(Conductor.B, true, 1)).SetItem(Clamp.I2, ClampPlace.Right(Conductor.A)),
        };
        return new HookupVerdict
        {
            Service = ServiceKind.Split,
            Verdict = Verdict.Faulty,
            Best = new Answer(
                hookup, Rotation.Unknown, 0.985,
                [new Fault(FaultKind.ClampReversed, [], [Clamp.I2], [new TurnClamp(Clamp.I2, Conductor.B)])],
                [new SameReading(exchanged, Rotation.Unknown, 0.2)]),
            ProbabilityCorrect = 0.01,
            Alternatives = [new Answer(right, Rotation.Unknown, 0.01, [], [])],
            Evidence = [new Evidence(EvidenceKind.Displacement, 4.4, right)],
            Notes = [],
            Phasors = Phasors((Channel.V1, 121, 0), (Channel.V2, 120, 180), (Channel.I1, 22, -12), (Channel.I2, 31, -15)),
        };
    }

    /// <summary>An answer that was told.</summary>
    public static ToldAnswer Told(string text) => ToldAnswer.TryParse(text, out var told, out var problem)
        ? told! : throw new ArgumentException(problem, nameof(text));

    /// <summary>A question with what may be found: answer, probability, that when the report and when the rival is true.</summary>
    public static Settlement Settling(string action, double bits, params (string Answer, double All, double Reported, double Rival)[] outcomes) => new(
        outcomes.Length > 0 ? Told($"{action}={outcomes[0].Answer}").Action : new SettlingAction(SettlingKind.ReadAgain),
        [.. outcomes.Select(outcome => new SettlingOutcome(outcome.Answer, outcome.All, outcome.Reported, outcome.Rival))],
        bits);

    /// <summary>All of them by name.</summary>
    public static IReadOnlyDictionary<string, Func<HookupVerdict>> All { get; } = new Dictionary<string, Func<HookupVerdict>>
    {
        ["exchanged"] = Exchanged,
        ["correct"] = Correct,
        ["undecided"] = Undecided,
        ["many-faults"] = ManyFaults,
        ["three-wire"] = ThreeWire,
        ["split"] = Split,
    };

    /// <summary>The usual four-wire hook-up, with clamps placed elsewhere where given.</summary>
    public static Hookup Wye(ClampPlace? i1 = null, ClampPlace? i2 = null, ClampPlace? i3 = null)
    {
        var right = Hookup.Expected([Lead.V1, Lead.V2, Lead.V3, Lead.VN], [Clamp.I1, Clamp.I2, Clamp.I3]);
        return right with
        {
            Clamps = right.Clamps
                .SetItem(Clamp.I1, i1 ?? ClampPlace.Right(Conductor.A))
                .SetItem(Clamp.I2, i2 ?? ClampPlace.Right(Conductor.B))
                .SetItem(Clamp.I3, i3 ?? ClampPlace.Right(Conductor.C)),
        };
    }

    /// <summary>The hook-up with all line leads and clamps one conductor further.</summary>
    public static Hookup RoundByOne(Hookup hookup) => new(
        hookup.Leads.ToImmutableSortedDictionary(lead => lead.Key, lead => Next(lead.Value)),
        hookup.Clamps.ToImmutableSortedDictionary(clamp => clamp.Key, clamp => clamp.Value with { On = Next(clamp.Value.On) }));

    private static Conductor? Next(Conductor? conductor) =>
        conductor is { } on && on < Conductor.N ? (Conductor)(((int)on + 1) % 3) : conductor;

    internal static ImmutableSortedDictionary<Channel, Phasor> Phasors(params (Channel Channel, double Rms, double Degrees)[] read) =>
        read.ToImmutableSortedDictionary(item => item.Channel, item => Phasor.FromDegrees(item.Rms, item.Degrees));
}
