using System.Collections.Immutable;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups.Likelihoods;
using Leadwright.Core.Hookups.Settling;

namespace Leadwright.Core.Hookups.Answers;

/// <summary>What the person must know about the readings themselves.</summary>
internal static class ReadingNotes
{
    private const double FarFromNominal = 0.12;
    private const double ImpossiblyFarFromNominal = 0.2;
    private const double Dead = 0.05;
    private const double GroundFraction = 0.04;
    private const double GroundVolts = 6;
    private const double LittleAmperes = 0.2;
    private const double HardlyLoadedAmperes = 2;
    private const int SeveralChanges = 3;

    public static ImmutableArray<Note> Complete(
        ImmutableArray<Note>.Builder notes, PanelReadings readings, CheckOptions options, Posterior posterior)
    {
        var best = posterior.Answers[0];
        Conventions(notes, readings, best.Strongest.Convention);
        Contradictions(notes, readings, best.Strongest);
        Unread(notes, readings);
        Live(notes, readings);
        if (posterior.ProbabilityOfNone > 0.5) notes.Add(new Note(NoteKind.FitsNothing, [], posterior.ProbabilityOfNone));
        Voltages(notes, readings, best);
        var currents = readings.Channels.Where(entry => entry.Key >= Channel.I1).ToList();
        var isThreePhase = Hookups.Service.Of(readings.Service).HasRotation;
        if (!readings.IsReplayed && isThreePhase && readings.Channels.Count(entry => entry.Key <= Channel.V31 && entry.Value.AngleDegrees is not null) < 2)
            notes.Add(new Note(NoteKind.NoVoltageAngles, [], double.NaN));
        Unplaced(notes, readings, options);
        Ground(notes, readings, best);
        CurrentSum.Note(notes, readings, best);
        var largest = currents.Max(entry => entry.Value.Rms);
        if (largest < HardlyLoadedAmperes && readings.Steps is { Steps: { Steps.IsEmpty: true, VoltageChanges: >= SeveralChanges } quiet })
            notes.Add(new Note(NoteKind.CurrentsStandStill, [.. currents.Select(entry => entry.Key)], quiet.VoltageChanges));
        if (largest < LittleAmperes) notes.Add(new Note(NoteKind.LittleCurrent, [.. currents.Select(entry => entry.Key)], largest.Value));
        if (options.ToldRotation == Rotation.Unknown && Hookups.Service.Of(readings.Service).IsThreePhase
            && !options.Told.Any(told => told.Action.Kind == SettlingKind.Rotation) && best.Answer.Rotation == Rotation.Acb)
            notes.Add(new Note(NoteKind.RotationReadsReversed, [], double.NaN));
        if (IsSignOpen(posterior)) notes.Add(new Note(NoteKind.ExportOrAllReversed, [], double.NaN));
        return notes.ToImmutable();
    }

    /// <summary>True when what was noted does not allow to call the hook-up right.</summary>
    public static bool ForbidCorrect(ImmutableArray<Note> notes) => notes.Any(note => note.Kind switch
    {
        NoteKind.PowerImpossible or NoteKind.PowerContradictsAngles or NoteKind.NothingLive or NoteKind.FitsNothing
            or NoteKind.NotAllRead or NoteKind.NeutralFarFromGround or NoteKind.ServiceInDoubt or NoteKind.NoCurrentAngles or NoteKind.CurrentsDoNotAddUp => true,
        NoteKind.VoltageOffNominal => Math.Abs(note.Value - 1) > ImpossiblyFarFromNominal,
        _ => false,
    });

    /// <summary>True when what was noted leaves nothing to judge.</summary>
    public static bool ForbidVerdict(ImmutableArray<Note> notes) => notes.Any(note => note.Kind == NoteKind.NothingLive);

    /// <summary>A neutral that is where it belongs and still far from ground.</summary>
    private static void Ground(ImmutableArray<Note>.Builder notes, PanelReadings readings, WeighedAnswer best)
    {
        if (readings.NeutralToGround is not { Rms: { } volts }) return;
        var isHome = best.Answer.Hookup.Leads.TryGetValue(Lead.VN, out var place) && place == Conductor.N;
        if (isHome && volts > Math.Max(GroundFraction * (readings.Nominal?.LineToNeutralVolts ?? 0), GroundVolts))
            notes.Add(new Note(NoteKind.NeutralFarFromGround, [], volts));
    }

    /// <summary>True on a dead board, or with the leads not plugged in.</summary>
    public static bool IsNothingLive(PanelReadings readings)
    {
        var notes = ImmutableArray.CreateBuilder<Note>();
        Live(notes, readings);
        return notes.Count > 0;
    }

    private static void Live(ImmutableArray<Note>.Builder notes, PanelReadings readings)
    {
        var volts = readings.Channels.Where(entry => entry.Key <= Channel.V31 && entry.Value.Rms is not null).ToList();
        var nominal = readings.Nominal?.LineToNeutralVolts ?? 20;
        if (readings.Channels.Any(entry => entry.Key >= Channel.I1 && entry.Value.Rms > LittleAmperes)) return;
        if (volts.Count > 0 && volts.All(entry => entry.Value.Rms < Dead * nominal) && volts.Count >= Hookups.Service.Of(readings.Service).Leads.Length - 1)
            notes.Add(new Note(NoteKind.NothingLive, [.. volts.Select(entry => entry.Key)], volts.Max(entry => entry.Value.Rms!.Value)));
    }

    private static void Unread(ImmutableArray<Note>.Builder notes, PanelReadings readings)
    {
        var service = Hookups.Service.Of(readings.Service);
        var missing = ImmutableArray.CreateBuilder<Channel>();
        foreach (var lead in service.Leads)
        {
            if (lead == Lead.VN || (readings.IsReplayed && lead != Lead.V1)) continue;
            var channels = readings.Channels.Keys.Concat(readings.LineToLineVolts.Keys);
            if (!channels.Any(channel => Touches(channel, (int)lead)) && !readings.Phases.ContainsKey((int)lead + 1))
                missing.Add(Channel.V1 + (int)lead);
        }

        foreach (var clamp in service.Clamps)
        {
            var isSecondElement = readings.Service == ServiceKind.DeltaTwoClamp && clamp == Clamp.I3 && readings.Phases.ContainsKey(2);
            if (!readings.Channels.ContainsKey(Channel.I1 + (int)clamp) && !readings.Phases.ContainsKey((int)clamp + 1) && !isSecondElement)
                missing.Add(Channel.I1 + (int)clamp);
        }

        if (missing.Count > 0) notes.Add(new Note(NoteKind.NotAllRead, missing.ToImmutable(), double.NaN));
    }

    /// <summary>Clamps whose size alone was read.</summary>
    private static void Unplaced(ImmutableArray<Note>.Builder notes, PanelReadings readings, CheckOptions options)
    {
        var unplaced = ImmutableArray.CreateBuilder<Channel>();
        foreach (var clamp in Hookups.Service.Of(readings.Service).Clamps)
        {
            var channel = Channel.I1 + (int)clamp;
            if (!readings.Channels.TryGetValue(channel, out var reading) || reading.AngleDegrees is not null || reading.Rms is null or 0)
                continue;
            var number = readings.Service == ServiceKind.DeltaTwoClamp && clamp == Clamp.I3 && !readings.Phases.ContainsKey(3)
                ? 2 : (int)clamp + 1;
            var power = readings.Phases.GetValueOrDefault(number);
            if (power.Watts is null && power.PowerFactor is null && !IsTold(clamp, options)) unplaced.Add(channel);
        }

        if (unplaced.Count > 0) notes.Add(new Note(NoteKind.NoCurrentAngles, unplaced.ToImmutable(), double.NaN));
    }

    /// <summary>True when both the conductor and the direction of a clamp were found at the panel.</summary>
    private static bool IsTold(Clamp clamp, CheckOptions options)
    {
        var (isPlaced, isDirected) = (false, false);
        foreach (var (action, answer) in options.Told)
        {
            if (action.Kind == SettlingKind.Switched && ToldAnswer.MovedClamps(answer).TryGetValue(clamp, out var way))
                (isPlaced, isDirected) = (true, isDirected || way != 0);
            if (action.AtClamp != clamp) continue;
            isPlaced |= action.Kind == SettlingKind.Clamp;
            isDirected |= action.Kind == SettlingKind.Arrow;
        }

        return isPlaced && isDirected;
    }

    private static bool Touches(Channel channel, int lead) => channel switch
    {
        Channel.V12 => lead is 0 or 1,
        Channel.V23 => lead is 1 or 2,
        Channel.V31 => lead is 0 or 2,
        _ => channel == Channel.V1 + lead,
    };

    private static void Conventions(ImmutableArray<Note>.Builder notes, PanelReadings readings, Convention convention)
    {
        if (convention.LagPositive && readings.AngleSign != AngleSign.LagPositive)
            notes.Add(new Note(NoteKind.AnglesFitLagPositive, [], double.NaN));
        if (!convention.LagPositive && readings.AngleSign == AngleSign.LagPositive)
            notes.Add(new Note(NoteKind.AnglesFitLeadPositive, [], double.NaN));
        if (convention.OwnVoltage && readings.CurrentAngleReference != CurrentAngleReference.OwnVoltage)
            notes.Add(new Note(NoteKind.CurrentAnglesFitOwnVoltage, [], double.NaN));
        if (convention.LoadNegative && readings.PowerSign != PowerSign.LoadNegative)
            notes.Add(new Note(NoteKind.PowerFitsLoadNegative, [], double.NaN));
    }

    /// <summary>Watts that were read besides angles must agree with them.</summary>
    private static void Contradictions(ImmutableArray<Note>.Builder notes, PanelReadings readings, Hypothesis strongest)
    {
        if (readings.Service is ServiceKind.Delta or ServiceKind.DeltaTwoClamp) return;
        var phasors = ReadingPhasors.Of(readings, strongest);
        var opposite = 0;
        var compared = 0;
        var contradicting = new List<Channel>();
        foreach (var (number, power) in readings.Phases)
        {
            var current = Channel.I1 + (number - 1);
            if (power.Watts is not { } watts || !readings.Channels.TryGetValue(current, out var reading)
                || reading.AngleDegrees is null
                || !phasors.TryGetValue(Channel.V1 + (number - 1), out var volts) || !phasors.TryGetValue(current, out var amperes))
                continue;
            compared++;
            var computed = (volts * amperes.Conjugate).Real;
            var slack = 0.25 * volts.Magnitude * amperes.Magnitude;
            if (Math.Abs(watts - computed) <= slack) continue;
            if (Math.Abs(watts + computed) <= slack) opposite++;
            contradicting.Add(current);
        }

        if (compared > 0 && opposite == compared && readings.PowerSign != PowerSign.LoadNegative)
            notes.Add(new Note(NoteKind.PowerFitsLoadNegative, [.. contradicting], double.NaN));
        else if (contradicting.Count > 0 && !(readings.PowerSign == PowerSign.LoadNegative && opposite == contradicting.Count))
            notes.Add(new Note(NoteKind.PowerContradictsAngles, [.. contradicting], double.NaN));
    }

    private static void Voltages(ImmutableArray<Note>.Builder notes, PanelReadings readings, WeighedAnswer best)
    {
        if (readings.Nominal is not { } nominal) return;
        var service = Hookups.Service.Of(readings.Service);
        foreach (var (channel, reading) in readings.Channels)
        {
            if (channel > Channel.V31 || reading.Rms is not { } volts) continue;
            if (!AreAtHome(channel, best.Answer.Hookup)) continue;
            var expected = channel >= Channel.V12 ? nominal.LineToLineVolts : nominal.LineToNeutralVolts;
            if (best.Answer.HighLeg is { } high && channel == Channel.V1 + (int)high) expected *= Math.Sqrt(3);
            if (best.Answer.Corner is not null && channel <= Channel.V3) continue;
            if (channel <= Channel.V3 && service.IsThreeWire) expected = nominal.LineToNeutralVolts;
            if (Math.Abs((volts / expected) - 1) > FarFromNominal)
                notes.Add(new Note(NoteKind.VoltageOffNominal, [channel], volts / expected));
        }
    }

    private static bool AreAtHome(Channel channel, Hookup hookup)
    {
        Lead[] leads = channel switch
        {
            Channel.V12 => [Lead.V1, Lead.V2],
            Channel.V23 => [Lead.V2, Lead.V3],
            Channel.V31 => [Lead.V3, Lead.V1],
            _ => hookup.Leads.ContainsKey(Lead.VN) ? [(Lead)(int)channel, Lead.VN] : [(Lead)(int)channel],
        };
        return leads.All(lead => hookup.Leads.TryGetValue(lead, out var on) && on == Hookups.Service.HomeOf(lead));
    }

    /// <summary>True when "all clamps the other way round" is still likely enough to be said.</summary>
    private static bool IsSignOpen(Posterior posterior)
    {
        var clamps = posterior.Answers[0].Answer.Hookup.Clamps;
        return posterior.Answers.Skip(1).Any(entry =>
            entry.Answer.Probability > 0.02
            && entry.Answer.Hookup.Leads.SequenceEqual(posterior.Answers[0].Answer.Hookup.Leads)
            && entry.Answer.Hookup.Clamps.All(clamp =>
                clamps[clamp.Key].On == clamp.Value.On && clamps[clamp.Key].Reversed != clamp.Value.Reversed));
    }
}
