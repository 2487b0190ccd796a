using System.Collections.Immutable;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups.Hypotheses;
using Leadwright.Core.Hookups.Likelihoods;

namespace Leadwright.Core.Hookups.Answers;

/// <summary>An answer with the arrangements in it, likeliest first, and the strongest of its main convention.</summary>
/// <param name="Answer">The answer.</param>
/// <param name="Strongest">The strongest arrangement.</param>
/// <param name="Members">All of them.</param>
/// <param name="Alike">Those of them that read the same as the strongest in one convention: in another one the reported hook-up may
/// go with the other rotation.</param>
internal sealed record WeighedAnswer(Answer Answer, Hypothesis Strongest, List<Hypothesis> Members, List<Hypothesis> Alike);

/// <summary>The arrangements gathered into answers, with their probabilities.</summary>
/// <param name="Answers">Likeliest first; at least one.</param>
/// <param name="ProbabilityCorrect">Probability that every lead and clamp is right.</param>
/// <param name="ProbabilityOfNone">Probability that the voltages come from no arrangement on this service.</param>
/// <param name="LogTotal">Natural logarithm of the readings' density, all arrangements and none of them summed.</param>
internal sealed record Posterior(
    ImmutableArray<WeighedAnswer> Answers, double ProbabilityCorrect, double ProbabilityOfNone, double LogTotal)
{
    /// <summary>A member below this share of its answer is not named in words.</summary>
    public const double SmallestShare = 0.002;

    private const double NoneOfThese = 0.002;
    private const int MostNamed = 8;

    public static Posterior Of(List<Hypothesis> found, Observation observation, Clamp[] clamps, Rotation told)
    {
        var top = found.Max(hypothesis => hypothesis.Log);
        var total = found.Sum(hypothesis => Math.Exp(hypothesis.Log - top));
        var none = Math.Exp(LogNone(observation, found) - top);
        total += none;

        // First what reads the same within a convention, then what is the same hook-up in any convention.
        var neutralIsSilent = NeutralLead.IsSilent(observation);
        var classes = found
            .GroupBy(hypothesis => (
                hypothesis.Convention,
                Signature.Of(observation, hypothesis.Leads, hypothesis.Clamps, neutralIsSilent)))
            .Select(group => new Class(group.Key.Item2, [.. group.OrderByDescending(hypothesis => hypothesis.Log)]))
            .ToList();
        var answers = classes
            .GroupBy(entry => (
                Hookup: ToHookup(entry.Members[0], observation.Leads, clamps),
                Rotation: observation.IsReplayed ? entry.Members[0].Leads.Rotation : Rotation.Unknown))
            .Select(group => Gather(group.Key.Hookup, [.. group], top, total, observation, clamps, told))
            .OrderByDescending(entry => entry.Answer.Probability)
            .ToImmutableArray();
        var correct = answers.Where(entry => IsRight(entry.Answer)).Sum(entry => entry.Answer.Probability);
        return new Posterior(answers, correct, none / total, top + Math.Log(total));
    }

    /// <summary>True when nothing is to be put right.</summary>
    public static bool IsRight(Answer answer) => answer.Faults.IsEmpty;

    public static Hookup ToHookup(Hypothesis hypothesis, Lead[] leads, Clamp[] clamps) =>
        ToHookup(hypothesis.Leads, hypothesis.Clamps, leads, clamps);

    public static Hookup ToHookup(LeadMap leadMap, ClampMap clampMap, Lead[] leads, Clamp[] clamps) => new(
        leads.ToImmutableSortedDictionary(lead => lead, lead => ToConductor(leadMap[lead])),
        Enumerable.Range(0, clamps.Length).ToImmutableSortedDictionary(
            index => clamps[index],
            index => new ClampPlace(ToConductor(clampMap.On[index]), clampMap.Reversed[index], clampMap.ScaleOf(index))));

    private static Conductor? ToConductor(int place) => place == Place.Air ? null : (Conductor)place;

    private static WeighedAnswer Gather(
        Hookup hookup, List<Class> classes, double top, double total, Observation observation, Clamp[] clamps, Rotation told)
    {
        var leads = observation.Leads;
        var (signature, strongest) = classes.MaxBy(entry => entry.Members[0].Log)!;
        var mass = classes.Sum(entry => entry.Members.Sum(member => Math.Exp(member.Log - top)));
        var others = strongest.Skip(1)
            .Select(member => new SameReading(
                ToHookup(member, leads, clamps), member.Leads.Rotation, Math.Exp(member.Log - top) / mass)
            {
                HighLeg = member.Leads.HighLegOf(observation.Service),
            })
            .Where(member => member.Share >= SmallestShare && !member.Hookup.Equals(hookup))
            .Take(MostNamed);
        var rotation = strongest[0].Leads.Rotation;
        var faults = FaultFinder.Find(hookup, told);
        // A voltage replayed in the order A-B-C pairs clamps 2 and 3 with the wrong voltages on a supply that turns A-C-B.
        if (observation.IsReplayed && rotation == Rotation.Acb)
            faults = faults.Insert(0, new Fault(FaultKind.RotationReversed, [], [], []));
        var answer = new Answer(hookup, rotation, mass / total, faults, [.. others])
        {
            HighLeg = strongest[0].Leads.HighLegOf(observation.Service),
            Corner = strongest[0].Leads.CornerOf(observation.Service),
        };
        var members = classes.SelectMany(entry => entry.Members).OrderByDescending(member => member.Log).ToList();
        var alike = classes.Where(entry => entry.Signature == signature).SelectMany(entry => entry.Members).ToList();
        return new WeighedAnswer(answer, strongest[0], members, alike);
    }

    /// <summary>Voltages of any size and angle at all, with the clamps where the best arrangement has them, as rare as that is.</summary>
    private static double LogNone(Observation observation, List<Hypothesis> found)
    {
        const double Radius = 2.2;
        var log = Math.Log(NoneOfThese);
        foreach (var voltage in observation.Voltages)
            log -= double.IsNaN(voltage.AngleRadians) ? Math.Log(Radius) : Math.Log(Math.PI * Radius * Radius);
        log -= observation.LineToLine.Length * Math.Log(Radius);
        var best = found.MaxBy(hypothesis => hypothesis.Log)!;
        return log + best.Clamps.LogPrior + best.Current.Total + best.Told;
    }

    /// <summary>Arrangements that read the same in one convention, likeliest first.</summary>
    private sealed record Class(string Signature, List<Hypothesis> Members);
}
