using System.Collections.Immutable;
using Leadwright.Core.Hookups;
using Leadwright.Core.Hookups.Settling;
using Leadwright.Core.Wording;

namespace Leadwright.Reports.Hookups;

/// <summary>The whole answer of a check in words: what the command, the screens and the report all show.</summary>
public sealed record CheckDocument
{
    /// <summary>The name of the file or of the set of readings.</summary>
    public required string File { get; init; }

    /// <summary>The verdict that is put into words.</summary>
    public required HookupVerdict Verdict { get; init; }

    /// <summary>The verdict in one sentence.</summary>
    public required string Headline { get; init; }

    /// <summary>How sure it is, in words and percent.</summary>
    public required string Confidence { get; init; }

    /// <summary>What is wrong, in the order to put it right; empty when nothing is.</summary>
    public required ImmutableArray<FaultEntry> Faults { get; init; }

    /// <summary>The hand movements, one sentence each, in the order to do them.</summary>
    public required ImmutableArray<string> Steps { get; init; }

    /// <summary>Where each lead and clamp is, leads first.</summary>
    public required ImmutableArray<PlaceEntry> Places { get; init; }

    /// <summary>The evidence, strongest first.</summary>
    public required ImmutableArray<EvidenceEntry> Evidence { get; init; }

    /// <summary>All evidence together, in a sentence; empty when there is none.</summary>
    public string EvidenceTotal { get; init; } = "";

    /// <summary>The rivals, likeliest first.</summary>
    public required ImmutableArray<RivalEntry> Rivals { get; init; }

    /// <summary>The question that would settle most of what is open; null when none tells more than it costs.</summary>
    public SettleEntry? Settle { get; init; }

    /// <summary>What was told at the panel, and what came of it.</summary>
    public ImmutableArray<ToldEntry> Told { get; init; } = [];

    /// <summary>What would read the same, one sentence each.</summary>
    public required ImmutableArray<string> SameReading { get; init; }

    /// <summary>What to know about the readings, one or two sentences each.</summary>
    public required ImmutableArray<string> Notes { get; init; }

    /// <summary>Which channel of the file was taken for which; empty for readings that name their channels themselves.</summary>
    public required ImmutableArray<MatchedChannel> Channels { get; init; }

    /// <summary>The order of the voltages in words, see <see cref="VectorDiagram.PhaseOrder"/>, and which line is the high leg or the
    /// earthed corner, where there is one.</summary>
    public required string PhaseOrder { get; init; }

    /// <summary>Puts a verdict into words.</summary>
    /// <param name="file">The name of the file or of the set of readings.</param>
    /// <param name="verdict">The verdict.</param>
    /// <param name="naming">How the site's conductors are called; null for letters alone.</param>
    /// <param name="channels">Which channel of the file was taken for which; empty or default for none.</param>
    /// <param name="extraNotes">Further notes, about how the file was read; they come after the verdict's own.</param>
    public static CheckDocument Of(
        string file, HookupVerdict verdict, ConductorNaming? naming = null,
        ImmutableArray<MatchedChannel> channels = default, IEnumerable<string>? extraNotes = null)
    {
        ArgumentNullException.ThrowIfNull(file);
        ArgumentNullException.ThrowIfNull(verdict);
        naming ??= ConductorNaming.Letters;
        var best = verdict.Best;
        var unread = UnreadChannels.Of(verdict);

        // An undecided answer must send nobody to move a lead, however likely its best guess.
        ImmutableArray<Fault> faults = verdict.Verdict == Core.Hookups.Verdict.Faulty ? best.Faults : [];
        return new CheckDocument
        {
            File = file,
            Verdict = verdict,
            Headline = VerdictWording.Headline(verdict, naming),
            Confidence = VerdictWording.Confidence(verdict),
            Faults = [.. faults.Select(fault => new FaultEntry(
                fault,
                Phrases.Sentence(FaultWording.Clause(fault, best, verdict.Service, naming)),
                RemedyWording.Of(fault, naming)))],
            Steps = VerdictWording.IsNamed(verdict) ? [.. StepsOf(faults, naming)] : [],
            Places = VerdictWording.IsNothingLive(verdict) ? [] :
            [
                .. best.Hookup.Leads.Select(lead => new PlaceEntry(
                    lead.Key.ToString(), unread.Has(lead.Key) && lead.Value == Service.HomeOf(lead.Key)
                        ? Say.Of("at.lead-was-not-read", "Lead {lead} was not read.", ("lead", lead.Key)) : Phrases.Sentence(PlaceWording.Of(lead.Key, lead.Value, naming)),
                    lead.Value == Service.HomeOf(lead.Key))),
                .. best.Hookup.Clamps.Select(clamp => new PlaceEntry(
                    clamp.Key.ToString(), unread.Has(clamp.Key) && clamp.Value == ClampPlace.Right(Service.HomeOf(clamp.Key))
                        ? Say.Of("at.clamp-was-not-read", "Clamp {clamp} was not read.", ("clamp", clamp.Key)) : Phrases.Sentence(PlaceWording.Of(clamp.Key, clamp.Value, naming)),
                    clamp.Value == ClampPlace.Right(Service.HomeOf(clamp.Key)))),
            ],
            Evidence = [.. verdict.Evidence.Where(evidence => !unread.AloneTell(evidence.Rival, best.Hookup)).Select(evidence => new EvidenceEntry(
                evidence, EvidenceWording.Title(evidence.Kind), EvidenceWording.Of(evidence, verdict)))],
            EvidenceTotal = verdict.Evidence.Any(evidence => !unread.AloneTell(evidence.Rival, best.Hookup)) ? EvidenceWording.Together(verdict) : "",
            Rivals = [.. verdict.Alternatives.Select((rival, rank) => (rival, rank)).Where(entry => !unread.AloneTell(entry.rival.Hookup, best.Hookup)).Select(entry => new RivalEntry(
                entry.rival,
                Phrases.Sentence(VerdictWording.WhatIsWrong(entry.rival, verdict.Service, naming)),
                SettleOf(verdict, entry.rank, naming)))],
            Settle = verdict.Settle is { } settlement && !(verdict.Alternatives.Length > 0 && verdict.Alternatives.All(rival => unread.AloneTell(rival.Hookup, best.Hookup))) ? new SettleEntry(
                settlement,
                SettleWording.Question(settlement, verdict, naming),
                [.. settlement.Outcomes.Select(outcome => new SettleChoice(
                    new ToldAnswer(settlement.Action, outcome.Answer),
                    Phrases.Capital(SettleWording.Answer(settlement.Action, outcome.Answer))))]) : null,
            Told = [.. verdict.Told.Select(told => new ToldEntry(told, Phrases.Capital(SettleWording.Told(told.Told))))],
            SameReading = [.. best.SameReading.Select(same => SameReadingWording.Of(best, same, naming)).Distinct()],
            Notes =
            [
                .. verdict.Notes.Where(note => note.Kind != NoteKind.ExportOrAllReversed || !best.Hookup.Clamps.Keys.All(unread.Has)).Select(note => note.Kind == NoteKind.ServiceInDoubt ? ServiceWording.Doubt(verdict) : NoteWording.Of(note)),
                .. verdict.Told.Select(SettleWording.Doubt).Where(doubt => doubt.Length > 0),
                .. extraNotes ?? [],
            ],
            Channels = channels.IsDefault ? [] : channels,
            PhaseOrder = $"{VectorDiagram.PhaseOrder(verdict)}{ServiceWording.Supply(verdict, naming)}",
        };
    }

    private static string SettleOf(HookupVerdict verdict, int rank, ConductorNaming naming) => SettleWording.Against(
        rank < verdict.AlternativeSettles.Length
            ? verdict.AlternativeSettles[rank]
            : new Settlement(new SettlingAction(SettlingKind.ReadAgain), [], 0),
        verdict, naming);

    private static IEnumerable<string> StepsOf(ImmutableArray<Fault> faults, ConductorNaming naming)
    {
        foreach (var fault in faults)
        {
            if (fault.Movements.IsDefaultOrEmpty)
            {
                // A fault without a movement is either cured by another fault's movement, or by looking again.
                if (fault.Kind is FaultKind.ServiceMismatch or FaultKind.RotationReversed) yield return RemedyWording.Of(fault, naming);
                continue;
            }

            foreach (var movement in fault.Movements) yield return RemedyWording.Of(movement, naming);
        }
    }
}
