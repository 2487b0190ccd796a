using System.Collections.Immutable;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups.Priors;

namespace Leadwright.Core.Hookups.Answers;

/// <summary>Finds the service that was not stated, and the one that was stated wrongly.</summary>
/// <remarks>Each service's hook-ups, slips included, are summed into one density of the readings; those densities are weighed like any other
/// hypotheses. So a service is called wrong only where no slip on it explains the readings nearly as well. Derivation:
/// docs/methods/services.md.</remarks>
internal static class ServiceSearch
{
    // How often what was stated is wrong: common practice, no source.
    private const double OtherNominal = 0.01;
    private const double OtherService = 0.02;

    /// <summary>Voltages this far off the stated nominal, as a share of it, put it in doubt.</summary>
    private const double FarFromNominal = 0.12;

    /// <summary>What the check keeps for voltages that are far off the nominal one is mostly a nominal stated wrongly, which is
    /// weighed by itself here.</summary>
    private const double KeptForFarVoltages = 0.001;

    /// <summary>Voltages below this share of nominal are what leads pick up that are on nothing, or on one conductor.</summary>
    private const double DeadShare = 0.05;

    private const double SomeDoubt = 0.01;
    private const double StatedRuledOut = 0.01;
    private const double StatedFrom = 0.90;

    /// <summary>From this probability on a service is asked about: what is asked for can be done on it.</summary>
    private const double RealShare = 0.05;

    /// <summary>More than this, in natural logarithm, the currents do not add to one service over another.</summary>
    private const double MostFromCurrents = 14;

    /// <summary>True when the stated service explains the readings only with a lead gone astray, with voltages far from nominal, or not.</summary>
    public static bool IsInDoubt(Weighing stated, PanelReadings readings)
    {
        if (!readings.Channels.Any(entry => entry.Key <= Channel.V31 && entry.Value.Rms > 0)) return false;
        if (ReadingNotes.IsNothingLive(readings) || AreVoltagesDead(readings)) return false;
        var hookup = stated.Posterior.Answers[0].Answer.Hookup;
        return stated.Posterior.ProbabilityOfNone > SomeDoubt || IsFarFromNominal(stated, readings)
            || hookup.Leads.Any(lead => lead.Value != Hookups.Service.HomeOf(lead.Key));
    }

    /// <summary>True when no lead reads what any service would give, so that the voltages can't speak of the service.</summary>
    private static bool AreVoltagesDead(PanelReadings readings)
    {
        var live = DeadShare * (readings.Nominal?.LineToNeutralVolts ?? StandardVoltages.Of(readings.Service)[0].LineToNeutralVolts);
        return readings.Channels.All(entry => entry.Key > Channel.V31 || !(entry.Value.Rms > live))
            && readings.LineToLineVolts.Values.All(volts => !(volts > live));
    }

    /// <summary>Weighs the stated service against the others that the channels could come from.</summary>
    public static HookupVerdict Compare(Weighing stated, PanelReadings readings, CheckOptions options, CheckPriors priors)
    {
        var isFar = IsFarFromNominal(stated, readings);
        var models = new List<Model>
        {
            new(stated, readings, Math.Log(1 - OtherNominal - OtherService) + (isFar ? Math.Log(KeptForFarVoltages) : 0)),
        };
        var open = readings with { Nominal = null };
        if (isFar) models.Add(new(new Weighing(open, options, priors, true), open, Math.Log(OtherNominal)));
        var others = readings.IsReplayed ? [] : ServiceCandidates.Of(readings).Where(entry => entry.Kind != readings.Service).ToList();
        var sum = others.Sum(entry => entry.Share);
        var bar = Weighing.LogOfVoltages(readings, options, priors, false) + models[0].LogPrior - MostFromCurrents;
        foreach (var (kind, share) in others)
        {
            // A nominal voltage that this service has too was read from the same nameplate.
            var nominal = NominalOn(kind, readings.Nominal);
            var other = open with { Service = kind, Nominal = nominal };
            var logPrior = Math.Log(OtherService * share / sum);
            if (Weighing.LogOfVoltages(other, options, priors, nominal is null) + logPrior < bar) continue;
            models.Add(new(new Weighing(other, options, priors, nominal is null), other, logPrior));
        }

        if (models.Count == 1) return stated.ToVerdict([]);
        var shares = Shares(models);
        var possible = Possible(shares);
        var best = Enumerable.Range(0, models.Count).MaxBy(index => shares[index].Probability);
        var ordered = shares.Sort((left, right) => right.Probability.CompareTo(left.Probability));
        if (shares[0].Probability >= StatedFrom) return stated.ToVerdict(possible);
        if (best == 0) return InDoubt(stated.ToVerdict(possible), ordered, shares[0].Probability);

        var fits = shares[best];
        var known = readings with { Service = fits.Service, Nominal = fits.Nominal };
        var verdict = new Weighing(known, options, priors).ToVerdict(possible);
        var isOther = fits.Service != readings.Service;
        var fault = new Fault(FaultKind.ServiceMismatch, [], [], [new SetService(fits.Service, fits.Nominal)]);
        var evidence = new Evidence(
            EvidenceKind.Service, models[best].Log - models[0].Log, stated.Posterior.Answers[0].Answer.Hookup);
        verdict = Scaled(verdict, fits.Probability, fault) with
        {
            StatedService = isOther ? readings.Service : null,
            ProbabilityCorrect = stated.Posterior.ProbabilityCorrect * shares[0].Probability,
            Services = ordered,
        };
        if (shares[0].Probability > StatedRuledOut || fits.Probability < HookupCheck.NamedFrom
            || verdict.Notes.Any(note => note.Kind is NoteKind.FitsNothing or NoteKind.NothingLive))
            return InDoubt(verdict, ordered, 1);
        return verdict with { Verdict = Verdict.Faulty, Evidence = verdict.Evidence.Insert(0, evidence) };
    }

    /// <summary>Finds the service of readings whose service was not stated.</summary>
    public static HookupVerdict Infer(PanelReadings readings, CheckOptions options, CheckPriors priors)
    {
        var candidates = ServiceCandidates.Of(readings);
        if (candidates.IsEmpty) candidates = [(readings.Service, 1)];
        var rough = candidates.Select(entry =>
        {
            var nominal = NominalOn(entry.Kind, readings.Nominal);
            var isOff = readings.Nominal is not null && nominal is null;
            var known = readings with { Service = entry.Kind, Nominal = nominal };
            var logPrior = Math.Log(entry.Share) + (isOff ? Math.Log(OtherNominal) : 0);
            return (Known: known, LogPrior: logPrior, Log: logPrior + Weighing.LogOfVoltages(known, options, priors, nominal is null));
        }).ToList();
        var bar = rough.Max(entry => entry.Log) - MostFromCurrents;
        var models = rough.Where(entry => entry.Log >= bar)
            .Select(entry => new Model(
                new Weighing(entry.Known, options, priors, entry.Known.Nominal is null), entry.Known, entry.LogPrior))
            .ToList();

        var shares = Shares(models);
        var best = Enumerable.Range(0, models.Count).MaxBy(index => shares[index].Probability);
        var ordered = shares.Sort((left, right) => right.Probability.CompareTo(left.Probability));
        var verdict = models[best].Weighing.ToVerdict(Possible(shares)) with { Services = ordered };
        return shares[best].Probability >= StatedFrom ? verdict : InDoubt(verdict, ordered, shares[best].Probability);
    }

    private static HookupVerdict InDoubt(HookupVerdict verdict, ImmutableArray<ServiceShare> services, double share) =>
        Scaled(verdict, share, null) with
        {
            Verdict = Verdict.Undecided,
            Services = services,
            Notes = verdict.Notes.Add(new Note(NoteKind.ServiceInDoubt, [], services[0].Probability)),
        };

    /// <summary>The verdict's probabilities with those of the other services counted in, and a fault more in every answer.</summary>
    private static HookupVerdict Scaled(HookupVerdict verdict, double share, Fault? fault)
    {
        return verdict with
        {
            Best = With(verdict.Best),
            Alternatives = [.. verdict.Alternatives.Select(With)],
            ProbabilityCorrect = verdict.ProbabilityCorrect * share,
        };

        Answer With(Answer answer) => answer with
        {
            Probability = answer.Probability * share,
            Faults = fault is null ? answer.Faults : answer.Faults.Insert(0, fault),
        };
    }

    /// <summary>The services that are likely enough for a question to have to make sense on them.</summary>
    private static ImmutableArray<ServiceKind> Possible(ImmutableArray<ServiceShare> shares) =>
        [.. shares.Where(share => share.Probability >= RealShare).Select(share => share.Service).Distinct()];

    private static ImmutableArray<ServiceShare> Shares(List<Model> models)
    {
        var top = models.Max(model => model.Log);
        var total = models.Sum(model => Math.Exp(model.Log - top));
        return [.. models.Select(model => new ServiceShare(
            model.Readings.Service,
            model.Readings.Nominal ?? StandardVoltages.Nearest(model.Readings.Service, model.Weighing.LineToNeutralVolts),
            Math.Exp(model.Log - top) / total))];
    }

    private static bool IsFarFromNominal(Weighing stated, PanelReadings readings) =>
        readings.Nominal is { } nominal
        && Math.Abs((stated.LineToNeutralVolts / nominal.LineToNeutralVolts) - 1) > FarFromNominal;

    /// <summary>A nominal voltage as it would be on a service; null when its two values are not of that service.</summary>
    private static NominalVoltage? NominalOn(ServiceKind service, NominalVoltage? nominal)
    {
        if (nominal is null) return null;
        if (service == ServiceKind.Single) return new NominalVoltage(nominal.LineToNeutralVolts, nominal.LineToNeutralVolts);
        var ratio = nominal.LineToLineVolts / nominal.LineToNeutralVolts;
        return Math.Abs((ratio / NominalVoltage.LineRatio(service)) - 1) <= 0.03 ? nominal : null;
    }

    /// <summary>One service with its nominal voltage, weighed.</summary>
    private sealed record Model(Weighing Weighing, PanelReadings Readings, double LogPrior)
    {
        public double Log => LogPrior + Weighing.LogEvidence;
    }
}
