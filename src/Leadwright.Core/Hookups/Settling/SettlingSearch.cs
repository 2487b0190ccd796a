using System.Collections.Immutable;

namespace Leadwright.Core.Hookups.Settling;

/// <summary>Finds the action whose answer is expected to narrow down most where leads and clamps are.</summary>
/// <remarks>
/// The gain of an action is the mutual information between its answer and the hook-up, in bits: what is uncertain now, less what is
/// expected to be uncertain afterwards. Hook-ups that no reading tells apart are different here: an action may tell them apart.
/// From the gain goes the cost of the action. Nothing is ruled by hand: which question suits which doubt follows from what each
/// arrangement predicts. Derivation: docs/methods/settling.md.
/// </remarks>
internal sealed class SettlingSearch
{
    private const double SmallestOutcome = 0.004;
    private const int MostOutcomes = 8;
    private readonly SettlingAction[] _actions;
    private readonly string[][] _answers;

    // By action, then situation, then answer.
    private readonly double[][][] _odds;

    public SettlingSearch(IReadOnlyList<Situation> situations, IEnumerable<SettlingAction> actions, bool showsPower)
    {
        var usable = new List<(SettlingAction Action, string[] Answers, double[][] Odds)>();
        foreach (var action in actions)
        {
            var answers = AnswersOf(action, situations, showsPower);
            if (answers.Length < 2) continue;
            var odds = new double[situations.Count][];
            for (var index = 0; index < situations.Count; index++)
            {
                var row = odds[index] = Array.ConvertAll(answers, answer => AnswerOdds.Of(action, answer, situations[index], showsPower));
                var sum = row.Sum();
                for (var answer = 0; answer < row.Length; answer++) row[answer] /= sum;
            }

            usable.Add((action, answers, odds));
        }

        _actions = [.. usable.Select(entry => entry.Action)];
        _answers = [.. usable.Select(entry => entry.Answers)];
        _odds = [.. usable.Select(entry => entry.Odds)];
    }

    /// <summary>The best action, or null when none tells more than it costs.</summary>
    /// <param name="weights">Probability of each situation; they add up to one.</param>
    /// <param name="targets">What is to be found out, as a number from 0 for each situation.</param>
    /// <param name="isReported">True for the situations of the reported answer.</param>
    public Settlement? Best(double[] weights, int[] targets, bool[] isReported)
    {
        var best = -1;
        double bestNet = 0, bestGain = 0;
        for (var action = 0; action < _actions.Length; action++)
        {
            var gain = Gain(_odds[action], _answers[action].Length, weights, targets);
            var net = gain - SettlingRates.CostOf(_actions[action].Kind);
            if (net > bestNet + 1e-9) (best, bestNet, bestGain) = (action, net, gain);
        }

        return best < 0 ? null : new Settlement(_actions[best], Outcomes(best, weights, isReported), bestGain);
    }

    private ImmutableArray<SettlingOutcome> Outcomes(int action, double[] weights, bool[] isReported)
    {
        var list = new List<SettlingOutcome>();
        var reported = Share(weights, isReported);
        for (var answer = 0; answer < _answers[action].Length; answer++)
        {
            double ifReported = 0, ifRival = 0;
            for (var index = 0; index < weights.Length; index++)
            {
                var joint = weights[index] * _odds[action][index][answer];
                if (isReported[index]) ifReported += joint;
                else ifRival += joint;
            }

            list.Add(new SettlingOutcome(
                _answers[action][answer], ifReported + ifRival,
                reported > 0 ? ifReported / reported : 0, reported < 1 ? ifRival / (1 - reported) : 0));
        }

        return [.. list.OrderByDescending(outcome => outcome.Probability)
            .Where((outcome, rank) => rank < 2 || outcome.Probability >= SmallestOutcome).Take(MostOutcomes)];
    }

    private static double Share(double[] weights, bool[] isIn)
    {
        double share = 0;
        for (var index = 0; index < weights.Length; index++)
        {
            if (isIn[index]) share += weights[index];
        }

        return share;
    }

    /// <summary>Mutual information of the answer and the target, bits.</summary>
    private static double Gain(double[][] odds, int answers, double[] weights, int[] targets)
    {
        var joint = new double[targets.Max() + 1, answers];
        for (var index = 0; index < weights.Length; index++)
        {
            for (var answer = 0; answer < answers; answer++) joint[targets[index], answer] += weights[index] * odds[index][answer];
        }

        double gain = 0;
        for (var answer = 0; answer < answers; answer++)
        {
            double column = 0;
            for (var target = 0; target < joint.GetLength(0); target++) column += joint[target, answer];
            for (var target = 0; target < joint.GetLength(0); target++)
            {
                if (joint[target, answer] <= 0) continue;
                double row = 0;
                for (var other = 0; other < answers; other++) row += joint[target, other];
                gain += joint[target, answer] * Math.Log2(joint[target, answer] / (row * column));
            }
        }

        return Math.Max(gain, 0);
    }

    private static string[] AnswersOf(SettlingAction action, IReadOnlyList<Situation> situations, bool showsPower)
    {
        if (action.Kind == SettlingKind.HandClamp) return HandClampAnswers(action, situations);
        var answers = new List<string>();
        foreach (var situation in situations)
        {
            foreach (var (answer, probability) in Predictions.Of(action, situation, showsPower))
            {
                if (probability > 0 && !answers.Exists(known => AnswerOdds.IsSame(action.Kind, known, answer))) answers.Add(answer);
            }
        }

        return [.. answers];
    }

    private static string[] HandClampAnswers(SettlingAction action, IReadOnlyList<Situation> situations)
    {
        const double Apart = 0.2;
        var sizes = new List<double>();
        foreach (var situation in situations)
        {
            var amperes = situation.AmperesIn((int)action.AtConductor!.Value);
            if (double.IsNaN(amperes)) continue;
            if (amperes < Math.Max(0.02 * situation.LargestAmperes, 0.1)) amperes = 0;
            if (!sizes.Exists(size => (size == 0 && amperes == 0) || Math.Abs(Math.Log(size / amperes)) < Apart)) sizes.Add(amperes);
        }

        return sizes.Count == 0 ? [] : [.. sizes.Select(SettlingText.Size), "other"];
    }
}
