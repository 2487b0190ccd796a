namespace Leadwright.Core.Integrity.Relations;

/// <summary>Tells a clamp on nothing from a line that draws nothing: loads that nobody sees still move their line's voltage when they are switched.</summary>
/// <remarks>
/// A row is a step that nothing explains where the phase's voltage, against the others', moved by six spreads more than all currents that are shown would have it. How many of the rows inside are such steps is
/// held against how many are outside, and in other rows in which the clamp shows nothing, by the binomial law; the supply and the neighbours may make them thrice as often on other days (our choice). They must be
/// this line's: an unseen load moves its own phase twice as far as it moves each of the others, the neighbours' one as often as another.
/// </remarks>
internal static class HiddenSteps
{
    private const double Spreads = 6;
    private const int LeastRows = 12;
    private const int LeastSteps = 3;

    /// <summary>Hours seem unsteady in which a clamp was off on all days.</summary>
    private const double MostStirred = 2;
    private const double OnOtherDays = 3;
    private const double LeastOwn = 0.6;

    /// <summary>Steps come in pairs, one up and one down, and a day of them is one habit.</summary>
    private const double Independent = 0.3;
    private const double Most = 20;

    /// <summary>Log-odds of loads that the clamp does not show, over none; 0 where the voltage can't tell.</summary>
    /// <param name="answers">How the phases answer, by line.</param>
    /// <param name="amperes">What the clamp shows.</param>
    /// <param name="floor">What counts as nothing, amperes.</param>
    /// <param name="clamp">The clamp that shows nothing.</param>
    /// <param name="from">First row.</param>
    /// <param name="to">Last row.</param>
    public static double Odds(IReadOnlyList<VoltageAnswer> answers, double[] amperes, double floor, int clamp, int from, int to)
    {
        var answer = answers[clamp];
        if (!answer.IsKnown || !answer.IsSharp) return 0;
        Tally inside = default, outside = default, idle = default;
        var own = 0;
        for (var row = 1; row < answer.Count; row++)
        {
            if (Math.Abs(row - from) < 3 || Math.Abs(row - to - 1) < 3) continue;
            var isIdle = amperes[row] <= floor && amperes[row - 1] <= floor;
            var isInside = row > from && row <= to && isIdle;
            var left = Left(answer, row, isInside);
            if (double.IsNaN(left)) continue;
            var isStep = Math.Abs(left) > Spreads * Math.Min(answer.SpreadAt(row), MostStirred * answer.Spread);
            if (isInside)
            {
                inside.Add(isStep);
                if (isStep && IsLargest(answers, clamp, row, Math.Abs(left))) own++;
                continue;
            }

            outside.Add(isStep);
            if (isIdle) idle.Add(isStep);
        }

        if (inside.Rows < LeastRows || outside.Rows < LeastRows || inside.Steps < LeastSteps || own < LeastOwn * inside.Steps) return 0;
        var usual = Math.Min(0.5, OnOtherDays * Math.Max(outside.Share, idle.Rows < LeastRows ? 0 : idle.Share));
        var share = (double)inside.Steps / inside.Rows;
        if (share <= usual) return 0;
        var odds = inside.Rows * ((share * Math.Log(share / usual)) + ((1 - share) * Math.Log((1 - share) / (1 - usual))));
        return Math.Min(Most, Independent * odds);
    }

    /// <summary>What the currents leave of a change of the phase's voltage against the others'.</summary>
    private static double Left(VoltageAnswer answer, int row, bool isWithoutOwn) =>
        answer.Change(row) - answer.Others(row) - (isWithoutOwn ? 0 : answer.Own(row) - answer.Own(row - 1));

    private static bool IsLargest(IReadOnlyList<VoltageAnswer> answers, int clamp, int row, double left)
    {
        for (var line = 0; line < answers.Count; line++)
        {
            if (line != clamp && answers[line].IsKnown && Math.Abs(Left(answers[line], row, false)) >= left) return false;
        }

        return true;
    }

    private struct Tally
    {
        public int Rows { get; private set; }

        public int Steps { get; private set; }

        public readonly double Share => (Steps + 1.0) / (Rows + 2);

        public void Add(bool isStep)
        {
            Rows++;
            Steps += isStep ? 1 : 0;
        }
    }
}
