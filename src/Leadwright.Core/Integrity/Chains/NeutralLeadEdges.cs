using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Integrity.Chains;

/// <summary>Asks of a stretch in which the voltages hardly answered what a neutral lead that lets go and comes back can't hide.</summary>
internal static class NeutralLeadEdges
{
    // What both edges together may say against it: real ones were seen down to two, loads that are only misread from six on (virtual weeks).
    private const double MostAgainst = 5;

    // How far the ratio of two inputs on one voltage wanders by itself, and the spread of two values rounded to a step, in steps: √2/√12.
    private const double Wander = 3e-4;
    private const double OfStep = 0.41;

    /// <summary>False where what the standing currents held the phases apart by stays at the edges, or two legs that should read the halves of one voltage drift apart within the stretch.</summary>
    /// <param name="frame">The log.</param>
    /// <param name="answers">The phases' answers.</param>
    /// <param name="levels">How strongly they answer with the lead on and off.</param>
    /// <param name="from">First row of the stretch.</param>
    /// <param name="to">Last row.</param>
    public static bool Allow(GuardFrame frame, VoltageAnswer[] answers, NeutralLevels.Levels levels, int from, int to)
    {
        // The rows in which the changes fall are mixed: what is held against each other are those on both sides of them.
        var odds = Odds(frame, answers, levels, from - 1, from + 1, levels.On, Share(frame, levels)) + Odds(frame, answers, levels, to, to + 2, Share(frame, levels), levels.On);
        return odds > -MostAgainst && (frame.Lines != 2 || AreHalves(frame, from, to));
    }

    private static double Share(GuardFrame frame, NeutralLevels.Levels levels) => frame.Lines == 2 ? 0 : levels.Off;

    /// <summary>Log-odds, from one row to another, of voltages that answer with one strength before and another after, over such as answer with the full one throughout.</summary>
    private static double Odds(GuardFrame frame, VoltageAnswer[] answers, NeutralLevels.Levels levels, int before, int after, double strengthBefore, double strengthAfter)
    {
        if (before < 0 || after >= frame.Count) return 0;
        double odds = 0;
        for (var index = 0; index < frame.Lines; index++)
        {
            var answer = answers[index];
            double then = answer.Standing(before), now = answer.Standing(after), moved = 0, square = answer.Spread * answer.Spread * (after - before);
            for (var row = before + 1; row <= after; row++) moved += answer.Change(row);
            var said = NeutralLeadChain.SayStep(moved, (strengthAfter * now) - (strengthBefore * then), square) - NeutralLeadChain.SayStep(moved, levels.On * (now - then), square);
            if (!double.IsNaN(said)) odds += (frame.Lines - 1.0) / frame.Lines * said;
        }

        return odds;
    }

    private static bool AreHalves(GuardFrame frame, int from, int to)
    {
        if (frame.Volts[0] is not { } one || frame.Volts[1] is not { } other || to - from < 4) return true;
        var ratios = new double[to - from - 1];
        for (var row = from + 1; row < to; row++) ratios[row - from - 1] = Math.Log(one[row] / other[row]);
        double rounded = OfStep * Robust.Step(one), allowed = 2 * Math.Sqrt((Wander * Wander) + (rounded * rounded));
        return !(Robust.Deviation(ratios) > allowed);
    }
}
