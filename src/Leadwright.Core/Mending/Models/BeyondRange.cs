using Leadwright.Core.Mending.Maps;

namespace Leadwright.Core.Mending.Models;

/// <summary>Estimates how much a clamp carried beyond its range.</summary>
/// <remarks>
/// <para>The lines of one panel feed loads of one kind: above the value that as many of its intervals exceed, another line's current goes as far in proportion as this one's would have gone.
/// Intervals whose mean lies below the range were partly beyond it, so that the comparison begins at <see cref="ChannelFlags.PartlyFrom"/> of the range.</para>
/// <para>Where no other line tells, the large values are taken for a tail that dies away exponentially, cut off at the range: its mean excess is the sum of what is seen above a threshold over
/// the number of values that were not cut off (the maximum-likelihood estimate for censored exponential values; textbook, from memory). Where the clamp itself showed more at other times, that tells. Derivation: docs/methods/mending.md.</para>
/// </remarks>
internal sealed class BeyondRange
{
    private const double Threshold = 0.5;
    private const double MostOfRange = 0.3;

    // Loads end: their tail is shorter than an exponential one. Fitted to virtual weeks of one seed; docs/methods/mending-accuracy.md says how it does on others.
    private const double TailShare = 0.35;

    // Where the range lies amid what the line draws, and not above all but its peaks, the tail is whole (our choice, by outside weeks).
    private const double PeaksOnly = 0.1;
    private const double Amid = 0.35;
    private const double TailAmid = 0.8;
    private const double MostAmid = 0.6;

    private const int LeastAbove = 12;
    private const double Sighted = 1.03;

    private const double LinesDiffer = 0.15;
    private const double ShapesDiffer = 0.3;
    private const double LeastAlike = 0.25;

    private readonly double _excess;

    /// <summary>Learns from the whole recording.</summary>
    /// <param name="lines">The series.</param>
    /// <param name="count">Number of lines.</param>
    /// <param name="clamp">The line whose clamp stood at the end of its range.</param>
    /// <param name="hourOf">The hour of the day of each slot.</param>
    public BeyondRange(LineSeries lines, int count, int clamp, Func<int, int> hourOf)
    {
        var (own, shares) = (lines.Amperes[clamp], lines.ClipShares[clamp]);
        var range = 0.0;
        double shown = 0, weight = 0;
        for (var slot = 0; slot < own.Length; slot++)
        {
            if (!(shares[slot] > 0) || !(own[slot] > 0)) continue;
            range = Math.Max(range, own[slot]);
            weight += shares[slot] * own[slot];
        }

        if (!(weight > 0)) return;
        if (BySightedRows(own, shares, range, hourOf) is { } sighted)
        {
            _excess = sighted * range / (weight / shares.Sum());
            return;
        }

        var foot = ChannelFlags.PartlyFrom * range;
        var above = own.Count(value => value > foot);
        foreach (var value in own) shown += value > foot ? value / foot : 0;
        double ratio = 0, seen = 0;
        var shape = Shape(own, above);
        for (var other = 0; other < count && above >= LeastAbove; other++)
        {
            if (other == clamp || lines.ClipShares[other].Any(share => share > 0) || Shape(lines.Amperes[other], above) is not { Tail: > 0 } there) continue;
            var alike = 1 / (1 + Square((there.Below - shape.Below) / ShapesDiffer));
            if (alike < LeastAlike) continue;
            (ratio, seen) = (ratio + (alike * there.Tail), seen + alike);
        }

        var byOthers = seen > 0 ? foot * ((above * ratio / seen) - shown) : 0;
        var byTail = MeanOfTail(own, shares, range) * shares.Where((_, slot) => own[slot] > Threshold * range).Sum();
        // Lines differ by a tenth or two in how far they go: a small difference between them tells nothing.
        var told = Square(Math.Max(0, byOthers / (foot * above)));
        var trust = told / (told + Square(LinesDiffer));
        trust *= Math.Min(1, seen);
        _excess = (byTail + (trust * Math.Max(0, byOthers - byTail))) / weight;
    }

    /// <summary>By what share of what it showed the clamp carried more, where it stood at the end in part or all the time.</summary>
    /// <param name="share">How much of the interval it stood there, 0 to 1.</param>
    public double Excess(double share) => _excess * share;

    /// <summary>By how much of the range the clamp went beyond it, in the mean, in rows in which it could show it: a range that was too small for some hours only. By the hours of the day at which it could not;
    /// null where it never could.</summary>
    private static double? BySightedRows(double[] own, double[] shares, double range, Func<int, int> hourOf)
    {
        Span<double> sums = stackalloc double[24], counts = stackalloc double[24], wanted = stackalloc double[24];
        for (var slot = 0; slot < own.Length; slot++)
        {
            if (!(own[slot] > 0)) continue;
            var hour = hourOf(slot);
            if (shares[slot] > 0) wanted[hour] += shares[slot];
            else if (own[slot] > Sighted * range) (sums[hour], counts[hour]) = (sums[hour] + (own[slot] / range) - 1, counts[hour] + 1);
        }

        double all = 0, seen = 0;
        for (var hour = 0; hour < 24; hour++) (all, seen) = (all + sums[hour], seen + counts[hour]);
        if (seen < LeastAbove) return null;
        double mean = 0, weight = 0;
        for (var hour = 0; hour < 24; hour++)
        {
            // Few rows of an hour lean on those of all.
            mean += wanted[hour] * (sums[hour] + (LeastAbove * all / seen)) / (counts[hour] + LeastAbove);
            weight += wanted[hour];
        }

        return mean / weight;
    }

    /// <summary>How large the largest values are in the mean over the least of them, and how far the values below that have sunk by the time that half as many again are counted.</summary>
    private static (double Tail, double Below) Shape(double[] column, int above)
    {
        var sorted = column.Where(value => value >= 0).OrderDescending().ToArray();
        var next = above * 3 / 2;
        if (above < LeastAbove || next >= sorted.Length || !(sorted[next] > 0)) return default;
        return (sorted.Take(above).Average() / sorted[above], Math.Log(sorted[above] / sorted[next]));
    }

    private static double Square(double value) => value * value;

    private static double MeanOfTail(double[] own, double[] shares, double range)
    {
        // Above this an interval may have been cut off in part: all that is known of it is that it lies above.
        var (cut, threshold) = (ChannelFlags.PartlyFrom * range, Threshold * range);
        var sum = 0.0;
        int uncut = 0, all = 0;
        double stood = 0;
        for (var slot = 0; slot < own.Length; slot++)
        {
            if (!(own[slot] > threshold)) continue;
            sum += Math.Min(own[slot], cut) - threshold;
            all++;
            stood += shares[slot];
            if (own[slot] < cut && shares[slot] == 0) uncut++;
        }

        // Nothing below the range to hold it against.
        if (uncut < LeastAbove) return TailShare * MostOfRange * range;
        var amid = Math.Clamp(((stood / Math.Max(1, all)) - PeaksOnly) / (Amid - PeaksOnly), 0, 1);
        return (TailShare + (amid * (TailAmid - TailShare))) * Math.Min(sum / Math.Max(1, uncut), (MostOfRange + (amid * (MostAmid - MostOfRange))) * range);
    }
}
