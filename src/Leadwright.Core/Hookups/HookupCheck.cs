using System.Collections.Immutable;
using Leadwright.Core.Hookups.Answers;
using Leadwright.Core.Hookups.Hypotheses;
using Leadwright.Core.Hookups.Likelihoods;
using Leadwright.Core.Hookups.Priors;

namespace Leadwright.Core.Hookups;

/// <summary>Names how every lead and clamp is connected.</summary>
/// <remarks>
/// Every arrangement of leads and clamps is weighed by Bayes' rule: how often such slips happen, times how well it explains
/// the voltages, the displacement of each current under what is known of the load, the sums of the currents and their
/// sizes. Nothing is compared with a threshold before the end; a reading that is missing only carries no weight. Arrangements
/// that no reading can tell apart are one answer. Derivation: docs/methods/hook-up-evidence.md. Accuracy measured on
/// simulated panels: docs/methods/hook-up-accuracy.md. Thread-safe.
/// </remarks>
public static class HookupCheck
{
    /// <summary>Probability of "all right" from which the verdict is <see cref="Verdict.Correct"/>.</summary>
    public const double CorrectFrom = 0.90;

    /// <summary>Probability of "all right" up to which the verdict is <see cref="Verdict.Faulty"/> when one answer stands out.</summary>
    public const double FaultyUpTo = 0.12;

    /// <summary>Probability from which an answer stands out.</summary>
    public const double NamedFrom = 0.70;

    /// <summary>Probability of "all right" up to which the verdict is <see cref="Verdict.Faulty"/> even where it is open which fault
    /// it is.</summary>
    public const double FaultyForSureUpTo = 0.001;

    /// <summary>Weighs every hook-up against the readings.</summary>
    /// <param name="readings">What the recorder shows.</param>
    /// <param name="options">What is known of the site.</param>
    /// <returns>The verdict. The same input gives the same answer.</returns>
    public static HookupVerdict Judge(PanelReadings readings, CheckOptions options) =>
        Judge(readings, options, CheckPriors.Default);

    /// <summary>Weighs every hook-up against the readings under other beliefs than the shipped ones.</summary>
    /// <param name="readings">What the recorder shows.</param>
    /// <param name="options">What is known of the site.</param>
    /// <param name="priors">What to believe before anything is read.</param>
    /// <returns>The verdict. The same input gives the same answer.</returns>
    public static HookupVerdict Judge(PanelReadings readings, CheckOptions options, CheckPriors priors)
    {
        ArgumentNullException.ThrowIfNull(readings);
        ArgumentNullException.ThrowIfNull(options);
        ArgumentNullException.ThrowIfNull(priors);
        var service = Hookups.Service.Of(readings.Service);
        var notes = ImmutableArray.CreateBuilder<Note>();
        var clamps = ObservationBuilder.Clamps(readings, service);
        var grid = new DisplacementGrid(priors.Load(options));
        var conventions = Conventions.For(readings, priors.Slips);
        var observations = conventions.ConvertAll(convention => ObservationBuilder.Build(readings, convention, null));
        ObservationBuilder.Build(readings, conventions[0], notes);
        // Against a replayed voltage an A-C-B supply reads like clamps 2 and 3 exchanged, and exchanging them mends both.
        var supplyRotation = readings.IsReplayed && options.ToldRotation == Circuits.Rotation.Unknown
            ? Circuits.Rotation.Abc
            : options.ToldRotation;
        var leadMaps = LeadMaps.Enumerate(service, observations[0].Leads, supplyRotation, priors.Slips);
        var clampMaps = ClampMaps.Enumerate(service, clamps, options.MayExport, priors.Slips);
        var orbits = LeadOrbit.Group(service, leadMaps);
        var table = new ClampMapTable(service, clampMaps);

        var waves = WaveEvidence.Of(readings, observations[0], clamps, options.Load);
        var found = new List<Hypothesis>();
        var best = double.NegativeInfinity;
        var searches = new List<ConventionSearch>();
        // The likeliest convention first: it sets the bar for the others.
        foreach (var index in Enumerable.Range(0, conventions.Count).OrderByDescending(index => conventions[index].LogPrior))
        {
            var search = new ConventionSearch(observations[index], conventions[index], grid, waves);
            searches.Add(search);
            search.Collect(orbits, table, found, ref best);
        }

        var posterior = Posterior.Of(found, observations[0], clamps, options.ToldRotation);
        var right = RightHookup(searches, leadMaps, clampMaps, clamps);
        var allNotes = ReadingNotes.Complete(notes, readings, options, posterior);
        var verdict = Decide(posterior, allNotes);
        return new HookupVerdict
        {
            Service = readings.Service,
            Verdict = verdict,
            Best = posterior.Answers[0].Answer,
            ProbabilityCorrect = posterior.ProbabilityCorrect,
            Alternatives = [.. posterior.Answers.Skip(1).Take(6).Select(entry => entry.Answer).Where(answer => answer.Probability >= 1e-4)],
            Evidence = EvidenceLedger.Of(posterior, right, verdict, observations[0].Leads, clamps),
            Notes = allNotes,
            StepCount = readings.Steps?.Steps.Steps.Length ?? 0,
            Phasors = ReadingPhasors.Of(readings, posterior.Answers[0].Strongest),
        };
    }

    private static Verdict Decide(Posterior posterior, ImmutableArray<Note> notes)
    {
        var best = posterior.Answers[0].Answer;
        if (ReadingNotes.ForbidVerdict(notes)) return Verdict.Undecided;
        if (Posterior.IsRight(best))
        {
            return posterior.ProbabilityCorrect >= CorrectFrom && !ReadingNotes.ForbidCorrect(notes)
                ? Verdict.Correct : Verdict.Undecided;
        }

        if (posterior.ProbabilityOfNone > 0.5) return Verdict.Undecided;
        var isNamed = posterior.ProbabilityCorrect <= FaultyUpTo && best.Probability >= NamedFrom;
        return isNamed || posterior.ProbabilityCorrect <= FaultyForSureUpTo ? Verdict.Faulty : Verdict.Undecided;
    }

    /// <summary>The right hook-up in its likeliest rotation and convention, to weigh a faulty answer against.</summary>
    private static Hypothesis RightHookup(
        List<ConventionSearch> searches, List<LeadMap> leadMaps, List<ClampMap> clampMaps, Clamp[] clamps)
    {
        var clampMap = clampMaps.First(map => map.OffScale < 0
            && Enumerable.Range(0, clamps.Length).All(index => map.On[index] == (int)clamps[index] && !map.Reversed[index]));
        return leadMaps
            .Where(map => Enumerable.Range(0, 4).All(lead => map.On[lead] < 0 || map.On[lead] == lead))
            .SelectMany(map => searches.Select(search => search.Weigh(map, clampMap)))
            .MaxBy(hypothesis => hypothesis.Log)!;
    }
}
