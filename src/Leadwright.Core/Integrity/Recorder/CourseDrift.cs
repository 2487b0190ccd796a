using Leadwright.Core.Integrity.Pieces;

namespace Leadwright.Core.Integrity.Recorder;

/// <summary>Finds a clamp that opens slowly where the lines share the course of their days: its current loses ground against the others', hour by hour.</summary>
/// <remarks>In windows of two hours the mean logarithm of the clamp's current less that of the others is taken, and the usual one of that hour of the day from it. A straight fall
/// of the gain is weighed against none by what is left, n/2 ln(S0/S1), n the number of windows that say something of their own: fewer, the more a window's rest is that of the
/// one before. A load that came for some days must explain it less well.</remarks>
internal static class CourseDrift
{
    private const double WindowSeconds = 7200;
    private const int Hours = 12;
    private const int LeastWindows = 8;

    /// <summary>People live another way at the week's end: what begins there must say more.</summary>
    private const double OfWeekend = 12;
    private const double HoursBefore = 8;
    private const double LeastOdds = 26;
    private static readonly double[] s_rests = [0.2, 0.3, 0.4, 0.5, 0.6, 0.7];

    public static Drift? Fit(Chained chained, int clamp, bool[] isUsable)
    {
        var frame = chained.Frame;
        var perWindow = (int)Math.Round(WindowSeconds / frame.Log.IntervalSeconds);
        var count = frame.Count / Math.Max(1, perWindow);
        if (perWindow < 4 || count < 3 * Hours || count > 14 * Hours) return null;
        var values = Windows(chained, clamp, isUsable, perWindow, count);
        var known = values.Count(value => !double.IsNaN(value));
        if (known < 0.7 * count) return null;
        var rests = new double[count];
        double none = Left(values, rests, 0, 0, 1, false), best = none;
        (int Onset, int End, double Gain, bool Stays) found = (0, 0, 1, false);
        for (var onset = 0; onset + LeastWindows <= count; onset += 2)
        {
            for (var end = onset + LeastWindows; end <= count; end += end == count - 1 ? 1 : 2)
            {
                foreach (var rest in s_rests)
                {
                    for (var stays = 0; stays < (end < count ? 2 : 1); stays++)
                    {
                        var left = Left(values, rests, onset, end, rest, stays == 1);
                        if (left < best) (best, found) = (left, (onset, end, rest, stays == 1));
                    }
                }
            }
        }

        if (found.Gain == 1) return null;
        best = Left(values, rests, found.Onset, found.End, found.Gain, found.Stays);
        var own = Own(rests, known);
        var odds = 0.5 * own * Math.Log(none / Math.Max(best, 1e-9 * known));
        // A week's end begins on the evening before.
        if (frame.From(found.Onset * perWindow).AddHours(HoursBefore).DayOfWeek is DayOfWeek.Saturday or DayOfWeek.Sunday) odds -= OfWeekend;
        if (odds < LeastOdds || odds < (0.5 * own * Math.Log(none / Math.Max(BestStep(values, rests), 1e-9 * known))) + 4) return null;
        var to = found.Stays ? frame.Count - 1 : Math.Min(frame.Count, found.End * perWindow) - 1;
        return new Drift(found.Onset * perWindow, to, found.Gain, Math.Min(40, odds - LeastOdds + 6)) { IsByCourse = true };
    }

    private static double[] Windows(Chained chained, int clamp, bool[] isUsable, int perWindow, int count)
    {
        var frame = chained.Frame;
        int[] others = [.. Enumerable.Range(0, frame.Lines).Where(other => other != clamp && frame.Amperes[other] is not null)];
        var values = new double[count];
        Array.Fill(values, double.NaN);
        if (others.Length == 0) return values;
        for (var window = 0; window < count; window++)
        {
            var (sum, rows) = (0.0, 0);
            for (var row = window * perWindow; row < (window + 1) * perWindow; row++)
            {
                if (!isUsable[row] || !(frame.Amperes[clamp]![row] > 0.3 * chained.Voltages.Floors[clamp])) continue;
                double log = 0;
                foreach (var other in others)
                    log += frame.Amperes[other]![row] > chained.Voltages.Floors[other] && chained.Currents[other] is { } beside && beside.Rows[row] == 0 ? Math.Log(frame.Amperes[other]![row]) : double.NaN;
                if (double.IsNaN(log)) continue;
                sum += Math.Log(frame.Amperes[clamp]![row]) - (log / others.Length);
                rows++;
            }

            if (2 * rows > perWindow) values[window] = sum / rows;
        }

        return values;
    }

    /// <summary>The squares left of the values less the fall and the usual one of their hour.</summary>
    private static double Left(double[] values, double[] rests, int onset, int end, double rest, bool stays)
    {
        Span<double> sums = stackalloc double[Hours];
        Span<int> counts = stackalloc int[Hours];
        sums.Clear();
        counts.Clear();
        for (var window = 0; window < values.Length; window++)
        {
            var gain = window < onset ? 1 : window < end ? 1 - ((1 - rest) * (window + 0.5 - onset) / (end - onset)) : stays ? rest : 1;
            rests[window] = values[window] - Math.Log(gain);
            if (double.IsNaN(rests[window])) continue;
            sums[window % Hours] += rests[window];
            counts[window % Hours]++;
        }

        return Square(rests, sums, counts);
    }

    private static double Square(double[] rests, Span<double> sums, Span<int> counts)
    {
        double square = 0;
        for (var window = 0; window < rests.Length; window++)
        {
            if (double.IsNaN(rests[window])) continue;
            rests[window] -= sums[window % Hours] / counts[window % Hours];
            square += rests[window] * rests[window];
        }

        return square;
    }

    /// <summary>The least that a change of any size from one window to another leaves.</summary>
    private static double BestStep(double[] values, double[] rests)
    {
        var best = double.PositiveInfinity;
        Span<double> sums = stackalloc double[Hours];
        Span<int> counts = stackalloc int[Hours];
        for (var onset = 0; onset < values.Length; onset++)
        {
            for (var end = onset + 1; end <= values.Length; end++)
            {
                for (var log = -1.6; log < 1.7; log += 0.2)
                {
                    sums.Clear();
                    counts.Clear();
                    for (var window = 0; window < values.Length; window++)
                    {
                        rests[window] = values[window] - (window >= onset && window < end ? log : 0);
                        if (double.IsNaN(rests[window])) continue;
                        sums[window % Hours] += rests[window];
                        counts[window % Hours]++;
                    }

                    best = Math.Min(best, Square(rests, sums, counts));
                }
            }
        }

        return best;
    }

    /// <summary>How many of the rests say something of their own.</summary>
    private static double Own(double[] rests, int known)
    {
        double product = 0, square = 0;
        for (var window = 1; window < rests.Length; window++)
        {
            if (double.IsNaN(rests[window]) || double.IsNaN(rests[window - 1])) continue;
            product += rests[window] * rests[window - 1];
            square += rests[window] * rests[window];
        }

        var alike = square > 0 ? Math.Clamp(product / square, 0, 0.95) : 0;
        return Math.Max(1, known - Hours) * (1 - alike) / (1 + alike);
    }
}
