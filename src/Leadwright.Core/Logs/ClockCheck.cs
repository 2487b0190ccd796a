using System.Collections.Immutable;

namespace Leadwright.Core.Logs;

/// <summary>Checks the stamps of a log: gaps, duplicates, steps, daylight saving, drift.</summary>
public static class ClockCheck
{
    /// <summary>By how much daylight saving moves a clock, ticks. Lord Howe's half hour is left to the steps.</summary>
    public const long DaylightTicks = TimeSpan.TicksPerHour;

    // A drift is told when it moved the stamps by this share of an interval, and by a second at least.
    private const double ToldDrift = 0.05;
    private const int LeastRowsOfADrift = 24;

    /// <summary>The usual step between stamps: the commonest one, or where no two agree the median to a whole second.</summary>
    /// <param name="stamps">Stamps in the order of the file, ticks.</param>
    /// <returns>Seconds; 0 when no stamp follows another.</returns>
    public static double IntervalOf(ReadOnlySpan<long> stamps)
    {
        var steps = new List<long>(Math.Max(stamps.Length - 1, 0));
        for (var row = 1; row < stamps.Length; row++)
        {
            if (stamps[row] != stamps[row - 1]) steps.Add(Math.Abs(stamps[row] - stamps[row - 1]));
        }

        if (steps.Count == 0) return 0;
        steps.Sort();
        var (common, count) = Commonest(steps);
        if (count >= 0.3 * steps.Count) return (double)common / TimeSpan.TicksPerSecond;
        var median = (double)steps[steps.Count / 2] / TimeSpan.TicksPerSecond;
        var whole = Math.Round(median);
        return whole > 0 && Math.Abs(median - whole) <= 0.02 * whole ? whole : median;
    }

    /// <summary>Looks through the stamps of a log.</summary>
    /// <param name="stamps">Stamps in the order of the file, ticks of the recorder's clock.</param>
    /// <param name="intervalSeconds">Length of an interval, seconds; above zero.</param>
    /// <returns>The findings, in the order of the file.</returns>
    /// <remarks>
    /// <para>A step by an hour on a Sunday of March, April or September to November, between midnight and five, is taken for daylight saving;
    /// after it the clock is followed on. So stamps are compared with a clock that was never changed.</para>
    /// <para>Drift is the slope of the least-squares line through the stamps of a stretch without findings, of 24 rows at least.</para>
    /// </remarks>
    public static ImmutableArray<ClockFinding> Look(ReadOnlySpan<long> stamps, double intervalSeconds)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(intervalSeconds);
        var interval = (long)Math.Round(intervalSeconds * TimeSpan.TicksPerSecond);
        var findings = ImmutableArray.CreateBuilder<ClockFinding>();
        if (stamps.IsEmpty) return [];
        var shift = 0L;
        var last = stamps[0];
        var first = 0;
        for (var row = 1; row < stamps.Length; row++)
        {
            var now = stamps[row] + shift;
            var off = now - (last + interval);
            if (Math.Abs(off) <= interval / 2 && now > last)
            {
                last = now;
                continue;
            }

            AddDrift(stamps[first..row], first, interval, findings);
            first = row;
            var before = last - shift;
            if (DaylightStep(before + interval, off) is var step and not 0)
            {
                findings.Add(new(step > 0 ? ClockFindingKind.DaylightForward : ClockFindingKind.DaylightBack, row, 1, before, stamps[row], 3600));
                shift -= step;
                last = now - step;
            }
            else if (now == last)
            {
                findings.Add(new(ClockFindingKind.Duplicate, row, 1, before, stamps[row], 0));
            }
            else if (now > last && off < 0)
            {
                // Put back by less than an interval: the next stamp comes too soon.
                findings.Add(new(ClockFindingKind.StepBack, row, 1, before, stamps[row], (double)-off / TimeSpan.TicksPerSecond));
                last = now;
            }
            else if (now > last)
            {
                var missing = Math.Max((int)Math.Min(Math.Round((double)off / interval), int.MaxValue), 1);
                findings.Add(new(ClockFindingKind.Gap, row, missing, before, stamps[row], (double)off / TimeSpan.TicksPerSecond));
                last = now;
            }
            else
            {
                var size = (double)(last - now) / TimeSpan.TicksPerSecond;
                // A clock that was put back runs on from there; a row out of order is followed by one that does not follow it.
                var isLone = row + 1 >= stamps.Length || Math.Abs(stamps[row + 1] - stamps[row] - interval) > interval / 4;
                findings.Add(new(isLone ? ClockFindingKind.OutOfOrder : ClockFindingKind.StepBack, row, 1, before, stamps[row], size));
                if (!isLone) last = now;
            }
        }

        AddDrift(stamps[first..], first, interval, findings);
        return findings.ToImmutable();
    }

    // By how much daylight saving moved the clock at an expected time: an hour forward, an hour back, or nothing.
    private static long DaylightStep(long expected, long off)
    {
        if (Math.Abs(Math.Abs(off) - DaylightTicks) > TimeSpan.TicksPerSecond) return 0;
        if (expected < 0 || expected > DateTime.MaxValue.Ticks) return 0;
        var local = new DateTime(expected);
        var isSeason = local is { DayOfWeek: DayOfWeek.Sunday, Month: 3 or 4 or 9 or 10 or 11, Hour: < 5 };
        return isSeason ? Math.Sign(off) * DaylightTicks : 0;
    }

    private static (long Step, int Count) Commonest(List<long> sorted)
    {
        var (best, most, run) = (sorted[0], 0, 0);
        for (var index = 0; index < sorted.Count; index++)
        {
            run = index > 0 && sorted[index] == sorted[index - 1] ? run + 1 : 1;
            if (run > most) (best, most) = (sorted[index], run);
        }

        return (best, most);
    }

    private static void AddDrift(ReadOnlySpan<long> stamps, int firstRow, long interval, ImmutableArray<ClockFinding>.Builder findings)
    {
        var count = stamps.Length;
        if (count < LeastRowsOfADrift) return;
        // How far each stamp is from an even clock, against its number; the numbers' own sums are known.
        double sum = 0, sumOfProducts = 0, sumOfSquares = 0;
        var middle = (count - 1) / 2.0;
        for (var row = 0; row < count; row++)
        {
            var off = (double)(stamps[row] - stamps[0] - (row * interval)) / TimeSpan.TicksPerSecond;
            sum += off;
            sumOfProducts += (row - middle) * off;
            sumOfSquares += off * off;
        }

        var spread = count * ((double)count * count - 1) / 12;
        var slope = sumOfProducts / spread;
        var drift = slope * (count - 1);
        var scatter = Math.Sqrt(Math.Max((sumOfSquares - (sum * sum / count) - (slope * sumOfProducts)) / count, 0));
        var seconds = (double)interval / TimeSpan.TicksPerSecond;
        var (from, to) = (stamps[0], stamps[^1]);
        if (Math.Abs(drift) >= Math.Max(ToldDrift * seconds, 1)) findings.Add(new(ClockFindingKind.Drift, firstRow, count, from, to, drift));
        else if (scatter >= ToldDrift * seconds) findings.Add(new(ClockFindingKind.Uneven, firstRow, count, from, to, scatter));
    }
}
