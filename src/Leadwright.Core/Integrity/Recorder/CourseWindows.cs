using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Integrity.Recorder;

/// <summary>A clamp's current in windows of some hours, beside the other clamps': its small, middle and large values, and what windows like each one say that they should be.</summary>
/// <remarks>A load that goes takes the same amperes from small and large values; a jaw that opens takes the same share.</remarks>
internal sealed class CourseWindows
{
    private const int MostWindows = 180;
    private const int LeastRows = 4;

    /// <summary>Windows that are most alike by the hour and by what the other lines carry.</summary>
    private const int Alike = 5;
    private static readonly int[] s_hours = [2, 3, 4, 6, 8, 12];
    private static readonly double[] s_shares = [0.1, 0.5, 0.9];
    private readonly double[][] _values;
    private readonly int[][] _nearest;

    private CourseWindows(int rows, double[][] values, double least, int[][] nearest) => (Rows, _values, Least, _nearest) = (rows, values, least, nearest);

    /// <summary>Rows of a window.</summary>
    public int Rows { get; }

    /// <summary>Number of windows.</summary>
    public int Count => _values[0].Length;

    /// <summary>How many values each window has: small, middle, large.</summary>
    public static int Kinds => s_shares.Length;

    /// <summary>Logarithm of the smallest current that can be read.</summary>
    public double Least { get; }

    /// <summary>Logarithm of a value, amperes; NaN where the window has too few rows.</summary>
    public double Value(int kind, int window) => _values[kind][window];

    /// <summary>The windows of a clamp; null where the recording is too short or too coarse, or too much of it is of no use.</summary>
    /// <param name="frame">The log.</param>
    /// <param name="clamp">The clamp.</param>
    /// <param name="isUsable">Rows that say what the line carries.</param>
    /// <param name="idle">Share of the largest current below which a clamp reads nothing.</param>
    public static CourseWindows? Of(GuardFrame frame, int clamp, bool[] isUsable, double idle)
    {
        var days = frame.Count * frame.Log.IntervalSeconds / 86400;
        var hours = Array.Find(s_hours, hours => days * 24 / hours <= MostWindows);
        var perWindow = (int)Math.Round(hours * 3600 / frame.Log.IntervalSeconds);
        if (hours == 0 || perWindow < LeastRows) return null;
        var count = frame.Count / perWindow;
        if (days < 3 || count < 24) return null;
        int[] others = [.. Enumerable.Range(0, frame.Lines).Where(other => other != clamp && frame.Amperes[other] is not null)];
        var least = Math.Max(0.5 * Robust.Step(frame.Amperes[clamp]!), idle * Robust.Quantile(frame.Amperes[clamp]!, 0.99));
        var values = new double[s_shares.Length][];
        for (var kind = 0; kind < values.Length; kind++) values[kind] = new double[count];
        var beside = new double[count];
        var (own, course) = (new List<double>(), new List<double>());
        for (var window = 0; window < count; window++)
        {
            own.Clear();
            course.Clear();
            for (var row = window * perWindow; row < (window + 1) * perWindow; row++)
            {
                if (!isUsable[row] || !double.IsFinite(frame.Amperes[clamp]![row])) continue;
                own.Add(frame.Amperes[clamp]![row]);
                var sum = 0.0;
                foreach (var other in others) sum += Math.Log(Math.Max(frame.Amperes[other]![row], least));
                course.Add(others.Length == 0 ? 0 : sum / others.Length);
            }

            var isKnown = 2 * own.Count >= perWindow && own.Count >= LeastRows;
            for (var kind = 0; kind < values.Length; kind++) values[kind][window] = isKnown ? Math.Log(Math.Max(Robust.Quantile([.. own], s_shares[kind]), least)) : double.NaN;
            beside[window] = isKnown ? course.Average() : double.NaN;
        }

        return values[0].Count(value => !double.IsNaN(value)) < 0.7 * count ? null : new CourseWindows(perWindow, values, Math.Log(least), Nearest(beside, hours));
    }

    /// <summary>What the windows most like this one say that a value should be, those within a stretch left out; NaN where too few are left.</summary>
    public double Expected(int kind, int window, int from, int to, out double spread)
    {
        spread = double.NaN;
        Span<double> those = stackalloc double[Alike];
        var found = 0;
        foreach (var near in _nearest[window])
        {
            if ((near >= from && near < to) || double.IsNaN(_values[kind][near])) continue;
            those[found++] = _values[kind][near];
            if (found == Alike) break;
        }

        if (found < Alike) return double.NaN;
        those.Sort();
        spread = 0.5 * (those[Alike - 1] - those[0]);
        return those[Alike / 2];
    }

    /// <summary>For every window all others, the likest first.</summary>
    private static int[][] Nearest(double[] beside, double hours)
    {
        var spread = Math.Max(0.05, Robust.Deviation(beside));
        double[] known = [.. beside.Where(double.IsFinite)];
        // Two levels, of the day and of the night, have a small deviation about their middle.
        if (known.Length > 0) spread = Math.Max(spread, 0.4 * (Robust.Quantile(known, 0.9) - Robust.Quantile(known, 0.1)));
        var nearest = new int[beside.Length][];
        for (var window = 0; window < beside.Length; window++)
        {
            var here = window;
            var distances = new double[beside.Length];
            for (var other = 0; other < distances.Length; other++)
            {
                var apart = Math.Abs(other - here) * hours % 24;
                var off = Math.Abs(beside[other] - beside[here]) / spread;
                distances[other] = other == here || double.IsNaN(off) ? double.PositiveInfinity : (3 * off) + (Math.Min(apart, 24 - apart) / 4);
            }

            int[] order = [.. Enumerable.Range(0, beside.Length).Where(other => double.IsFinite(distances[other]))];
            Array.Sort(Array.ConvertAll(order, other => distances[other]), order);
            nearest[window] = order;
        }

        return nearest;
    }
}
