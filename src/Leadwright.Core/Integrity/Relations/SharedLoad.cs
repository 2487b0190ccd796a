namespace Leadwright.Core.Integrity.Relations;

/// <summary>Tells a load on all lines, which comes or goes with the same amperes in each, from what is done to one clamp.</summary>
internal static class SharedLoad
{
    private const int Rows = 3;

    // A load of three lines draws the same of each but for what else is switched beside it.
    private const double MostApart = 1.6;

    // By so much of this line's leap, in logarithms, all other lines leap where a site opens or closes.
    private const double OfSite = 0.6;

    private const double Near = 0.12;

    // All ranges set at once by one ratio multiply alike: no load does that to lines that carry other currents.
    private const double SameRatio = 0.15;

    /// <summary>True when at either edge of a stretch every other line's current steps with this one's by as many amperes.</summary>
    /// <param name="frame">The log.</param>
    /// <param name="clamp">The clamp that is asked about.</param>
    /// <param name="from">First row of the stretch.</param>
    /// <param name="to">Last row.</param>
    /// <param name="scale">The ratio that is asked about, 0 for a clamp on nothing: a step that is just that ratio's is no load's.</param>
    public static bool IsAtAnEdge(GuardFrame frame, int clamp, int from, int to, double scale) =>
        IsAt(frame, clamp, scale, from - Rows, from - 1, from + 1, Math.Min(to, from + Rows)) || IsAt(frame, clamp, scale, to + 1, to + Rows, Math.Max(from, to - Rows), to - 1);

    /// <summary>True when, while this clamp shows nothing, no other line's current comes back by as much as went from it at the edges: with the load of all lines off, a clamp shows nothing by itself.</summary>
    /// <param name="frame">The log.</param>
    /// <param name="clamp">The clamp that is asked about.</param>
    /// <param name="from">First row of the stretch.</param>
    /// <param name="to">Last row.</param>
    public static bool StaysOff(GuardFrame frame, int clamp, int from, int to)
    {
        if (frame.Amperes[clamp] is not { } own) return false;
        var least = 0.5 * Math.Max(from > 1 ? own[from - 2] : 0, to + 2 < own.Length ? own[to + 2] : 0);
        for (var line = 0; line < frame.Lines; line++)
        {
            if (line == clamp || frame.Amperes[line] is not { } column) continue;
            var inside = column.AsSpan(from, to - from + 1);
            if (Robust.Quantile(inside, 0.9) - Robust.Quantile(inside, 0.1) > least) return false;
        }

        return true;
    }

    /// <summary>True when at every edge all other lines rise or fall with this one in nearly its ratio: work begins or ends, and no clamp is touched.</summary>
    /// <param name="frame">The log.</param>
    /// <param name="clamp">The clamp that is asked about.</param>
    /// <param name="from">First row of the stretch.</param>
    /// <param name="to">Last row.</param>
    public static bool IsOfTheSite(GuardFrame frame, int clamp, int from, int to)
    {
        var edges = 0;
        foreach (var (outsideFrom, outsideTo, insideFrom, insideTo) in new[] { (from - Rows, from - 1, from + 1, Math.Min(to, from + Rows)), (to + 1, to + Rows, Math.Max(from, to - Rows), to - 1) })
        {
            if (outsideFrom < 0 || outsideTo >= frame.Count || insideTo < insideFrom) continue;
            var (_, own) = Step(frame.Amperes[clamp], outsideFrom, outsideTo, insideFrom, insideTo);
            var others = 0;
            for (var line = 0; line < frame.Lines; line++)
            {
                if (line == clamp || frame.Amperes[line] is null) continue;
                var (_, log) = Step(frame.Amperes[line], outsideFrom, outsideTo, insideFrom, insideTo);
                if (!(log / own > OfSite)) return false;
                others++;
            }

            if (others == 0) return false;
            edges++;
        }

        return edges > 0;
    }

    private static bool IsAt(GuardFrame frame, int clamp, double scale, int outsideFrom, int outsideTo, int insideFrom, int insideTo)
    {
        if (outsideFrom < 0 || outsideTo >= frame.Count || insideTo < insideFrom) return false;
        var (own, ownLog) = Step(frame.Amperes[clamp], outsideFrom, outsideTo, insideFrom, insideTo);
        if (scale > 0 && Math.Abs(ownLog - Math.Log(scale)) < Near * Math.Abs(Math.Log(scale))) return false;
        var others = 0;
        var isOneRatio = true;
        for (var line = 0; line < frame.Lines; line++)
        {
            if (line == clamp || frame.Amperes[line] is not { } column) continue;
            var (step, log) = Step(column, outsideFrom, outsideTo, insideFrom, insideTo);
            if (!(step / own is > 1 / MostApart and < MostApart)) return false;
            isOneRatio &= Math.Abs(log - ownLog) < SameRatio;
            others++;
        }

        return others > 0 && !isOneRatio;
    }

    /// <summary>By how many amperes, and by which ratio (logarithm), the mean moves from outside to inside; NaN where nothing is known.</summary>
    private static (double Amperes, double Log) Step(double[]? column, int outsideFrom, int outsideTo, int insideFrom, int insideTo)
    {
        if (column is null) return (double.NaN, double.NaN);
        double outside = Robust.Median(column.AsSpan(outsideFrom, outsideTo - outsideFrom + 1)), inside = Robust.Median(column.AsSpan(insideFrom, insideTo - insideFrom + 1));
        return (inside - outside, Math.Log(inside / outside));
    }
}
