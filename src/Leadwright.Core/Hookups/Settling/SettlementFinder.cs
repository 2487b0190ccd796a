using System.Collections.Immutable;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups.Answers;
using Leadwright.Core.Hookups.Likelihoods;

namespace Leadwright.Core.Hookups.Settling;

/// <summary>What to ask, and what came of the answers, for one set of readings.</summary>
internal sealed class SettlementFinder
{
    private const int MostAnswers = 24;
    private const int MostMembers = 6;
    private const double Smallest = 2e-4;
    private readonly Dictionary<(Convention Convention, string Leads), VoltageFit> _fits = [];
    private readonly Dictionary<Convention, Observation> _observations = [];
    private readonly PanelReadings _readings;
    private readonly CheckOptions _options;
    private readonly Clamp[] _clamps;
    private readonly bool _showsPower;

    public SettlementFinder(
        PanelReadings readings, CheckOptions options, Clamp[] clamps, List<Convention> conventions, List<Observation> observations)
    {
        (_readings, _options, _clamps) = (readings, options, clamps);
        for (var index = 0; index < conventions.Count; index++) _observations[conventions[index]] = observations[index];
        _showsPower = readings.Channels.Values.Any(reading => reading.AngleDegrees is not null)
            || readings.Phases.Values.Any(power => power.Watts is not null || power.PowerFactor is not null);
    }

    /// <summary>Weighs an arrangement with what was told: the logarithm of the probability of those answers under it.</summary>
    public Hypothesis WithTold(Hypothesis hypothesis)
    {
        if (_options.Told.IsDefaultOrEmpty) return hypothesis;
        var situation = SituationOf(hypothesis);
        double log = 0;
        foreach (var told in _options.Told)
        {
            var odds = AnswerOdds.Of(told.Action, told.Answer, situation, _showsPower);
            if (odds > 0) log += Math.Log(odds);
        }

        return hypothesis with { Told = log };
    }

    /// <summary>What came of each answer.</summary>
    public ImmutableArray<WeighedTold> Weigh(Posterior posterior)
    {
        if (_options.Told.IsDefaultOrEmpty) return [];
        var situation = SituationOf(posterior.Answers[0].Strongest);
        return [.. _options.Told.Select(told => new WeighedTold(told, StandingOf(told, situation)))];
    }

    /// <summary>The question that narrows down most, and for each rival the one that tells it from the reported answer.</summary>
    /// <param name="posterior">The answers.</param>
    /// <param name="rivals">How many rivals are reported.</param>
    /// <param name="isOpen">True when the verdict is undecided: then there is always something to do, if only to read again.</param>
    /// <param name="others">Other services that the readings may come from: what is asked for can be done on them too.</param>
    public (Settlement? Settle, ImmutableArray<Settlement> Rivals) Find(
        Posterior posterior, int rivals, bool isOpen, ImmutableArray<ServiceKind> others)
    {
        var situations = new List<Situation>();
        var answers = new List<int>();
        var weights = new List<double>();
        for (var number = 0; number < Math.Min(posterior.Answers.Length, MostAnswers); number++)
        {
            var answer = posterior.Answers[number];
            if (number > rivals && answer.Answer.Probability < Smallest) break;
            var top = answer.Members[0].Log;
            var members = answer.Members.Take(MostMembers).Where(member => member.Log > top - 6).ToList();
            var mass = members.Sum(member => Math.Exp(member.Log - top));
            foreach (var member in members)
            {
                situations.Add(SituationOf(member));
                answers.Add(number);
                weights.Add(answer.Answer.Probability * Math.Exp(member.Log - top) / mass);
            }
        }

        // An action that was told is not asked for again.
        var told = _options.Told.IsDefault ? [] : _options.Told.Select(entry => entry.Action).ToHashSet();
        Service[] services = [situations[0].Service, .. others.Select(Service.Of)];
        var actions = Catalogue.Of(services, situations[0].Leads, _clamps, _readings, _options).Where(action => !told.Contains(action));
        var search = new SettlingSearch(situations, actions, _showsPower);
        var again = new Settlement(new SettlingAction(SettlingKind.ReadAgain), [], 0);

        var total = weights.Sum();
        var best = search.Best(
            [.. weights.Select(weight => weight / total)], Targets(situations), [.. answers.Select(number => number == 0)]);
        var pairs = Enumerable.Range(1, rivals).Select(rival => search.Best(
            Halves(answers, weights, rival), [.. answers.Select(number => number == rival ? 1 : 0)],
            [.. answers.Select(number => number == 0)]) ?? again);
        return (best ?? (isOpen ? again : null), [.. pairs]);
    }

    /// <summary>The reported answer and one rival, as if either were as likely.</summary>
    private static double[] Halves(List<int> answers, List<double> weights, int rival)
    {
        double reported = 0, other = 0;
        for (var index = 0; index < answers.Count; index++)
        {
            if (answers[index] == 0) reported += weights[index];
            if (answers[index] == rival) other += weights[index];
        }

        return [.. answers.Select((number, index) => number == 0 ? weights[index] / (2 * reported)
            : number == rival ? weights[index] / (2 * other) : 0)];
    }

    /// <summary>Numbers the hook-ups: the same places of all leads and clamps, the same number.</summary>
    private static int[] Targets(List<Situation> situations)
    {
        var numbers = new Dictionary<string, int>(StringComparer.Ordinal);
        return [.. situations.Select(situation =>
        {
            var (leads, clamps) = (situation.Hypothesis.Leads, situation.Hypothesis.Clamps);
            var key = $"{string.Join(',', leads.On)};{string.Join(',', clamps.On)};{string.Join(',', clamps.Reversed)};{clamps.OffScale};{clamps.Scale};{clamps.SecondOffScale};{clamps.SecondScale}";
            if (!numbers.TryGetValue(key, out var number)) numbers[key] = number = numbers.Count;
            return number;
        })];
    }

    private ToldStanding StandingOf(ToldAnswer told, Situation situation)
    {
        var odds = AnswerOdds.Of(told.Action, told.Answer, situation, _showsPower);
        if (double.IsNaN(odds)) return ToldStanding.NotUsed;
        return odds < 0.06 ? ToldStanding.Contradicts : ToldStanding.Agrees;
    }

    private Situation SituationOf(Hypothesis hypothesis)
    {
        var observation = _observations[hypothesis.Convention];
        var key = (hypothesis.Convention, $"{hypothesis.Leads.Rotation}{string.Join(',', hypothesis.Leads.On)}");
        if (!_fits.TryGetValue(key, out var fit)) _fits[key] = fit = VoltageFit.Of(observation, hypothesis.Leads);
        return new Situation(hypothesis, observation, fit, _clamps);
    }
}
