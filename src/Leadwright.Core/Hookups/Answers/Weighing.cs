using System.Collections.Immutable;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups.Hypotheses;
using Leadwright.Core.Hookups.Likelihoods;
using Leadwright.Core.Hookups.Priors;
using Leadwright.Core.Hookups.Settling;

namespace Leadwright.Core.Hookups.Answers;

/// <summary>Every hook-up of one service weighed against the readings.</summary>
internal sealed class Weighing
{
    private const double DepthOfTold = 4;
    private const double MostDepthOfTold = 8;

    /// <summary>So many of the likeliest arrangements of the clamps: reversed, exchanged, moved round.</summary>
    private const int UsualSlips = 16;

    private readonly PanelReadings _readings;
    private readonly CheckOptions _options;
    private readonly Clamp[] _clamps;
    private readonly Observation _observation;
    private readonly SettlementFinder _settling;
    private readonly List<ConventionSearch> _searches = [];
    private readonly List<LeadMap> _leadMaps;
    private readonly List<ClampMap> _clampMaps;
    private readonly ImmutableArray<Note>.Builder _notes = ImmutableArray.CreateBuilder<Note>();

    /// <summary>Weighs them.</summary>
    /// <param name="readings">The readings, with the service to weigh them on.</param>
    /// <param name="options">What is known of the site.</param>
    /// <param name="priors">What to believe before anything is read.</param>
    /// <param name="expectsStandardVoltages">True when, with no nominal voltage in the readings, the usual ones of the service are
    /// expected and no others.</param>
    public Weighing(PanelReadings readings, CheckOptions options, CheckPriors priors, bool expectsStandardVoltages = false)
    {
        (_readings, _options) = (readings, options);
        var service = Hookups.Service.Of(readings.Service);
        _clamps = ObservationBuilder.Clamps(readings, service);
        var grid = new DisplacementGrid(priors.Load(options));
        var conventions = Conventions.For(readings, priors.Slips);
        var observations = conventions.ConvertAll(convention =>
            ObservationBuilder.Build(readings, convention, null) with { ExpectsStandardVoltages = expectsStandardVoltages });
        ObservationBuilder.Build(readings, conventions[0], _notes);
        _observation = observations[0];

        // Against a replayed voltage an A-C-B supply reads like clamps 2 and 3 exchanged, and exchanging them mends both.
        var toldRotation = RotationTold(options);
        var supplyRotation = !readings.IsReplayed ? options.ToldRotation : toldRotation == Rotation.Unknown ? Rotation.Abc : toldRotation;
        _leadMaps = LeadMaps.Enumerate(service, _observation.Leads, supplyRotation, IsReadToCommonPoint(readings), priors.Slips);
        var orbits = LeadOrbit.Group(service, _leadMaps);
        var table = ClampMapTable.For(service, _clamps, options.MayExport, priors.Slips);
        _clampMaps = table.Maps;

        var waves = WaveEvidence.Of(readings, _observation, _clamps, options.Load);
        var found = new List<Hypothesis>();
        var best = double.NegativeInfinity;
        // An answer may raise what the readings alone would leave far behind.
        var depth = ConventionSearch.UsualDepth + Math.Min(DepthOfTold * options.Told.Length, MostDepthOfTold);
        // The likeliest convention first: it sets the bar for the others.
        foreach (var index in Enumerable.Range(0, conventions.Count).OrderByDescending(index => conventions[index].LogPrior))
        {
            var search = new ConventionSearch(observations[index], conventions[index], grid, waves, depth);
            _searches.Add(search);
            search.Collect(orbits, table, found, ref best);
        }

        // What was kept while the bar was still low goes: the answer must not depend on the order of the search.
        var bar = best - depth;
        found.RemoveAll(hypothesis => hypothesis.Log < bar);

        _settling = new SettlementFinder(readings, options, _clamps, conventions, observations);
        Posterior = Posterior.Of(found.ConvertAll(_settling.WithTold), _observation, _clamps, toldRotation);
        LogEvidence = Posterior.LogTotal - LogUnits(_observation);
    }

    public Posterior Posterior { get; }

    /// <summary>Natural logarithm of the readings' density under this service, per volt, so that services compare.</summary>
    public double LogEvidence { get; }

    /// <summary>Volts from line to neutral that the best answer makes of the readings.</summary>
    public double LineToNeutralVolts
    {
        get
        {
            var strongest = Posterior.Answers[0].Strongest;
            var observation = ObservationBuilder.Build(_readings, strongest.Convention, null) with
            {
                ExpectsStandardVoltages = _observation.ExpectsStandardVoltages,
            };
            return VoltageFit.Of(observation, strongest.Leads).Frame.Magnitude;
        }
    }

    /// <summary>What the voltages alone say of a service: the likeliest arrangement of the leads, per volt. Cheap.</summary>
    /// <param name="readings">The readings, with the service.</param>
    /// <param name="options">What is known of the site.</param>
    /// <param name="priors">What to believe before anything is read.</param>
    /// <param name="expectsStandardVoltages">As in the constructor.</param>
    public static double LogOfVoltages(PanelReadings readings, CheckOptions options, CheckPriors priors, bool expectsStandardVoltages)
    {
        var service = Hookups.Service.Of(readings.Service);
        var best = double.NegativeInfinity;
        foreach (var convention in Conventions.For(readings, priors.Slips).DistinctBy(convention => convention.LagPositive))
        {
            var observation = ObservationBuilder.Build(readings, convention, null) with { ExpectsStandardVoltages = expectsStandardVoltages };
            var maps = LeadMaps.Enumerate(
                service, observation.Leads, options.ToldRotation, IsReadToCommonPoint(readings), priors.Slips);
            foreach (var orbit in LeadOrbit.Group(service, maps))
            {
                var prior = orbit.Members.Max(member => member.Map.LogPrior);
                best = Math.Max(best, prior + VoltageFit.Of(observation, orbit.Representative).LogLikelihood - LogUnits(observation));
            }
        }

        return best;
    }

    /// <summary>The verdict on this service.</summary>
    /// <param name="others">Other services that the readings may come from; empty when this one is not in doubt.</param>
    public HookupVerdict ToVerdict(ImmutableArray<ServiceKind> others)
    {
        var notes = ReadingNotes.Complete(_notes, _readings, _options, Posterior);
        var verdict = Decide(Posterior, notes);
        var isNothing = ReadingNotes.ForbidVerdict(notes);
        ImmutableArray<Answer> alternatives = isNothing ? [] :
            [.. Posterior.Answers.Skip(1).Take(6).Select(entry => entry.Answer).Where(answer => answer.Probability >= 1e-4)];
        var (settle, rivalSettles) = _settling.Find(Posterior, alternatives.Length, verdict == Verdict.Undecided, others);
        return new HookupVerdict
        {
            Service = _readings.Service,
            Verdict = verdict,
            Best = isNothing ? Unnamed() : Posterior.Answers[0].Answer with
            {
                Alike = AlikeHookups.Of(Posterior.Answers[0], _observation, _clamps, _leadMaps),
            },
            ProbabilityCorrect = Posterior.ProbabilityCorrect,
            Alternatives = alternatives,
            AlternativeSettles = rivalSettles,
            Settle = isNothing ? null : settle,
            Told = _settling.Weigh(Posterior),
            Evidence = isNothing ? [] : EvidenceLedger.Of(Posterior, _settling.WithTold(Rival()), _observation.Leads, _clamps),
            Notes = notes,
            StepCount = _readings.Steps?.Steps.Steps.Length ?? _readings.Logged?.Count ?? 0,
            IsLogged = _readings.Logged is not null,
            Phasors = ReadingPhasors.Of(_readings, Posterior.Answers[0].Strongest),
        };
    }

    /// <summary>Where nothing is live nothing is named: the hook-up as it should be, with what is believed of it anyway.</summary>
    private Answer Unnamed() =>
        new(Hookup.Expected(_observation.Leads, _clamps), Rotation.Unknown, Posterior.ProbabilityCorrect, [], []);

    private static Rotation RotationTold(CheckOptions options)
    {
        if (options.ToldRotation != Rotation.Unknown) return options.ToldRotation;
        var told = options.Told.FirstOrDefault(entry => entry.Action.Kind == SettlingKind.Rotation);
        return told?.Answer switch { "abc" => Rotation.Abc, "acb" => Rotation.Acb, _ => Rotation.Unknown };
    }

    /// <summary>True when a voltage of one lead was read, which on three wires is against something that the person chose.</summary>
    private static bool IsReadToCommonPoint(PanelReadings readings) =>
        !readings.IsReplayed && readings.Channels.Any(entry => entry.Key <= Channel.V3 && entry.Value.Rms is not null);

    private static double LogUnits(Observation observation)
    {
        var dimensions = observation.LineToLine.Length
            + (observation.NeutralToGround is { } ground ? double.IsNaN(ground.AngleRadians) ? 1 : 2 : 0)
            + observation.Voltages.Sum(voltage => double.IsNaN(voltage.AngleRadians) ? 1 : 2);
        return dimensions * Math.Log(observation.ReferenceVolts);
    }

    private static Verdict Decide(Posterior posterior, ImmutableArray<Note> notes)
    {
        var best = posterior.Answers[0].Answer;
        if (ReadingNotes.ForbidVerdict(notes)) return Verdict.Undecided;
        if (Posterior.IsRight(best))
        {
            return posterior.ProbabilityCorrect >= HookupCheck.CorrectFrom && !ReadingNotes.ForbidCorrect(notes)
                ? Verdict.Correct : Verdict.Undecided;
        }

        if (posterior.ProbabilityOfNone > 0.5) return Verdict.Undecided;
        var isNamed = posterior.ProbabilityCorrect <= HookupCheck.FaultyUpTo && best.Probability >= HookupCheck.NamedFrom;
        return isNamed || posterior.ProbabilityCorrect <= HookupCheck.FaultyForSureUpTo ? Verdict.Faulty : Verdict.Undecided;
    }

    /// <summary>What the evidence is told against: the right hook-up, or where that is the answer the strongest other.</summary>
    private Hypothesis Rival()
    {
        var best = Posterior.Answers[0];
        if (!Posterior.IsRight(best.Answer)) return RightHookup();
        if (Posterior.Answers.Length > 1) return Posterior.Answers[1].Strongest;

        // Where all others fell below the bar, one of the commonest slips of the clamps stands for them.
        return _clampMaps.Where(map => map.OffScale < 0 && !map.On.Contains(Place.Air))
            .Take(UsualSlips)
            .SelectMany(map => _searches.Select(search => search.Weigh(best.Strongest.Leads, map)))
            .Where(rival => !Posterior.ToHookup(rival, _observation.Leads, _clamps).Equals(best.Answer.Hookup))
            .MaxBy(rival => rival.Log) ?? best.Strongest;
    }

    /// <summary>The right hook-up in its likeliest rotation and convention, to weigh a faulty answer against.</summary>
    private Hypothesis RightHookup()
    {
        var clampMap = _clampMaps.First(map => map.OffScale < 0
            && Enumerable.Range(0, _clamps.Length).All(index => map.On[index] == (int)_clamps[index] && !map.Reversed[index]));
        return _leadMaps
            .Where(map => Enumerable.Range(0, 4).All(lead => map.On[lead] < 0 || map.On[lead] == lead))
            .SelectMany(map => _searches.Select(search => search.Weigh(map, clampMap)))
            .MaxBy(hypothesis => hypothesis.Log)!;
    }
}
