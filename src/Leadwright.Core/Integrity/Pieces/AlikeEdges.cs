using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Integrity.Pieces;

/// <summary>Dates the edges of pieces in which two leads, or two clamps, are on one conductor: their readings then stand in one fixed ratio, row by row.</summary>
/// <remarks>Angles date such an edge only where the power of the phase is large, and without vars hardly. The ratio of the two readings is that of the two
/// inputs' gains while they read the same thing, and wanders with the loads while they do not; the edge is put where the sum of the log-odds of the rows is largest.</remarks>
internal static class AlikeEdges
{
    private const int Reach = 120;
    private const double LeadSpread = 5e-4;
    private const double ClampSpread = 0.006;

    public static void Refine(GuardFrame frame, List<JudgedPiece> judged)
    {
        for (var index = 0; index + 1 < judged.Count; index++)
        {
            if (judged[index].Key.Voltage != 0 || judged[index + 1].Key.Voltage != 0 || judged[index].To + 1 != judged[index + 1].From) continue;
            Arrangement left = Arrangement.Of(judged[index].Hookup), right = Arrangement.Of(judged[index + 1].Hookup);
            if (Border(frame, judged, index, left, right) is not { } border) continue;
            judged[index] = judged[index] with { To = border - 1 };
            judged[index + 1] = judged[index + 1] with { From = border };
        }
    }

    /// <summary>The first row of the right piece; null where no pair of channels tells.</summary>
    private static int? Border(GuardFrame frame, List<JudgedPiece> judged, int index, Arrangement left, Arrangement right)
    {
        for (var one = 0; one < frame.Lines; one++)
        {
            for (var other = one + 1; other < frame.Lines; other++)
            {
                var isLead = !frame.IsPairs && Alike(left.Leads, one, other) != Alike(right.Leads, one, other);
                var isClamp = Alike(left.Clamps, one, other) != Alike(right.Clamps, one, other);
                if (isLead == isClamp) continue;
                var columns = isLead ? frame.Volts : frame.Amperes;
                if (columns[one] is not { } first || columns[other] is not { } second) continue;
                var isLeft = isLead ? Alike(left.Leads, one, other) : Alike(left.Clamps, one, other);
                return Border(first, second, judged[index], judged[index + 1], isLeft, isLead ? LeadSpread : ClampSpread);
            }
        }

        return null;
    }

    private static bool Alike(int[] places, int one, int other) => places[one] >= 0 && places[one] == places[other];

    private static int? Border(double[] one, double[] other, JudgedPiece left, JudgedPiece right, bool isLeft, double spread)
    {
        var (alike, apart) = isLeft ? (left, right) : (right, left);
        var inner = Logs(one, other, alike.From + 1, alike.To - 1);
        if (inner.Length < 4) return null;
        var gain = Robust.Median(inner);
        // What is written to a step strays by it.
        var step = 0.6 * Robust.Step(one) / Robust.Median(one);
        spread = Math.Max(Math.Clamp(1.2 * Robust.Deviation(inner), 0.3 * spread, spread), Math.Min(step, 3 * spread));
        // What the two do near the edge: by night they may stand close whatever they are on.
        var wander = isLeft ? Logs(one, other, apart.From + 1, Math.Min(apart.To - 1, apart.From + Reach)) : Logs(one, other, Math.Max(apart.From + 1, apart.To - Reach), apart.To - 1);
        double middle = Robust.Median(wander), usual = Robust.Deviation(wander);
        // Where the two usually stand within the spread of each other the ratio tells nothing.
        if (wander.Length < 4 || !(usual > 2 * spread || Math.Abs(middle - gain) > 4 * spread)) return null;
        usual = Math.Max(usual, 2 * spread);
        int from = Math.Max(left.From + 1, right.From - Reach), to = Math.Min(right.To - 1, right.From + Reach);
        double sum = 0, best = 0;
        var border = from;
        for (var row = from; row <= to; row++)
        {
            var log = one[row] > 0 && other[row] > 0 ? Math.Log(one[row] / other[row]) : double.NaN;
            var odds = double.IsNaN(log) ? 0 : Math.Clamp(Say(log - gain, spread) - Say(log - middle, usual), -6, 6);
            // What the row says for lying left of the border.
            sum += isLeft ? odds : -odds;
            if (sum <= best) continue;
            (best, border) = (sum, row + 1);
        }

        return border;
    }

    private static double[] Logs(double[] one, double[] other, int from, int to)
    {
        var logs = new List<double>();
        var step = Math.Max(1, (to - from) / 2000);
        for (var row = Math.Max(0, from); row <= Math.Min(to, one.Length - 1); row += step)
        {
            if (one[row] > 0 && other[row] > 0) logs.Add(Math.Log(one[row] / other[row]));
        }

        return [.. logs];
    }

    private static double Say(double off, double spread) => -Math.Log(spread) - (2.5 * Math.Log(1 + (off * off / (4 * spread * spread))));
}
