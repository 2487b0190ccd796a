using System.Collections.Immutable;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Integrity.Recorder;

/// <summary>Finds where rows are missing, and tells a recorder that was off from a clock that was set.</summary>
internal sealed class GapFinder
{
    private const double SummerTimeSeconds = 3600;

    /// <summary>A recorder that starts anew may be late by some seconds too.</summary>
    private const double OfSlightlyOff = 3;
    private const int SteadyRows = 6;

    /// <summary>Rows shorter than half a cycle of the slowest supply, 16.7 Hz, are rows of half cycles.</summary>
    private const double LongestHalfCycleSeconds = 0.031;
    private readonly GuardFrame _frame;
    private readonly List<(double[] Values, double ShortSpread, double[] LagSpreads)> _witnesses = [];
    private static readonly int[] s_lags = [1, 2, 4, 8, 16, 32, 64, 128, 256, 512];

    private GapFinder(GuardFrame frame) => _frame = frame;

    public static List<GuardSpan> Find(GuardFrame frame)
    {
        var finder = new GapFinder(frame);
        var spans = new List<GuardSpan>();
        finder.EmptyRows(spans);
        var learned = false;
        // Of samples, what is left of a stretch's last cycle gives no row: a stretch that begins at once does so up to a cycle later, and half a cycle of the two is
        // its own (HalfCycleLog). A recorder that is off is off for longer.
        var least = frame.Log.IntervalSeconds < LongestHalfCycleSeconds ? 2.1 * frame.Log.IntervalTicks : frame.Log.IntervalTicks / 10.0;
        for (var row = 1; row < frame.Count; row++)
        {
            var gap = frame.Starts[row] - frame.Starts[row - 1] - frame.Log.IntervalTicks;
            if (gap <= least) continue;
            if (!learned) finder.Learn();
            learned = true;
            spans.Add(finder.Judge(row, gap));
        }

        foreach (var step in frame.Log.ClockSteps)
        {
            if (step.Row <= 0 || step.Row >= frame.Count) continue;
            var at = frame.To(step.Row - 1);
            spans.Add(new GuardSpan(SpanKind.ClockJump, [], [], at, frame.From(step.Row) > at ? frame.From(step.Row) : at, 0.98,
                new SpanFinding(SpanRelation.TimesMoved, 4) { Seconds = -(double)step.Ticks / TimeSpan.TicksPerSecond, Rival = SpanKind.NoData }));
        }

        return spans;
    }

    /// <summary>Rows that are there and hold nothing.</summary>
    private void EmptyRows(List<GuardSpan> spans)
    {
        for (var row = 0; row < _frame.Count; row++)
        {
            if (_frame.HasValues[row]) continue;
            var last = row;
            while (last + 1 < _frame.Count && !_frame.HasValues[last + 1]) last++;
            spans.Add(NoData(_frame.From(row), _frame.To(last), 0.95, new SpanFinding(SpanRelation.RowsMissing, 3) { Rival = SpanKind.Outage, Intervals = last - row + 1 }));
            row = last;
        }
    }

    private GuardSpan Judge(int row, long gap)
    {
        var seconds = (double)gap / TimeSpan.TicksPerSecond;
        var from = _frame.To(row - 1);
        var to = _frame.From(row);
        // Samples are recorded in stretches, when something starts them: nobody sets a clock between two.
        if (_frame.Log.IntervalSeconds < LongestHalfCycleSeconds) return NoData(from, to, 0.95, new SpanFinding(SpanRelation.RowsMissing, 3) { Seconds = seconds, Rival = SpanKind.ClockJump });
        if (_frame.Counter is { } counter && counter[row] < counter[row - 1] && Math.Abs(counter[row]) < 0.2 * Math.Abs(counter[row - 1]))
        {
            return NoData(from, to, 0.99, new SpanFinding(SpanRelation.CounterRestarted, 6)
            {
                Before = counter[row - 1], Within = counter[row], Rival = SpanKind.ClockJump, Seconds = seconds,
            });
        }

        // A clock that is set is rarer than a recorder that was off; the hour of summer time is not.
        var odds = Math.Log(0.25) + SayLength(seconds, from);

        // Intervals keep to the clock's grid, unless the clock itself was moved. A recorder that starts anew finds the grid again if it kept to the
        // clock's round times before.
        var interval = _frame.Log.IntervalTicks;
        if (interval > TimeSpan.TicksPerSecond)
        {
            var isOffGrid = Off(_frame.Starts[row], interval) != Off(_frame.Starts[row - 1], interval);
            odds += isOffGrid ? (Off(_frame.Starts[row - 1], interval) == 0 ? 5 : 3.5) : IsSlightlyOff(row) ? OfSlightlyOff : IsHour(seconds) && IsSummerTimeNight(from) ? 0 : -2.5;
        }

        var lag = (int)Math.Min(int.MaxValue, 1 + Math.Round(seconds / _frame.Log.IntervalSeconds));
        foreach (var witness in _witnesses) odds += 0.35 * Witness(witness, row, lag);
        odds += SayDays(row, seconds);
        odds = Math.Clamp(odds, -12, 12);
        var probability = 1 / (1 + Math.Exp(-odds));
        return odds > 0
            ? new GuardSpan(SpanKind.ClockJump, [], [], from, to, probability, new SpanFinding(SpanRelation.TimesMoved, odds) { Seconds = seconds, Rival = SpanKind.NoData })
            : NoData(from, to, 1 - probability, new SpanFinding(SpanRelation.RowsMissing, -odds) { Seconds = seconds, Rival = SpanKind.ClockJump });
    }

    /// <summary>True where all stamps before keep to one place within the interval, and all behind to another, whole seconds beside it: less than what is taken for a recorder's own unsteadiness, of one that is steady.</summary>
    private bool IsSlightlyOff(int row)
    {
        var interval = _frame.Log.IntervalTicks;
        if (row < SteadyRows || row + SteadyRows > _frame.Count) return false;
        long before = _frame.Starts[row - 1] % interval, behind = _frame.Starts[row] % interval;
        for (var step = 1; step < SteadyRows; step++)
        {
            if (_frame.Starts[row - 1 - step] % interval != before || _frame.Starts[row + step] % interval != behind) return false;
        }

        return Math.Abs(before - behind) >= TimeSpan.TicksPerSecond;
    }

    // A clock that was set before changes some minutes off the hour.
    private static bool IsSummerTimeNight(DateTime from) =>
        from is { DayOfWeek: DayOfWeek.Sunday, Hour: >= 1 and <= 3, Minute: <= 30, Month: 3 or 4 or 9 or 10 };

    private static bool IsHour(double seconds) => Math.Abs(seconds - SummerTimeSeconds) < 2;

    /// <summary>What the length says: a recorder is off for any time, a clock is set by an hour to the second twice a year and for a journey.</summary>
    private double SayLength(double seconds, DateTime from)
    {
        // A journey takes a clock over whole hours, or half ones; no hand sets one by hours and some minutes, or by more than half a day.
        if (!IsHour(seconds)) return seconds > 12.6 * 3600 || (seconds > 4 * 3600 && Math.Abs(Math.IEEERemainder(seconds, 1800)) > 2) ? -4 : 0;
        // Off from some intervals to a day, all lengths alike on a logarithmic scale: so seldom an hour to the interval. One clock in ten is set by the
        // hour at another time than that of summer time.
        var places = Math.Max(1, seconds / Math.Max(2, _frame.Log.IntervalSeconds));
        var odds = Math.Log(0.1 * places * Math.Log(Math.Max(3, 86400 / Math.Max(2, 3 * _frame.Log.IntervalSeconds))));
        return Math.Clamp(odds, 0, 4) + (IsSummerTimeNight(from) ? Math.Log(60) : 0);
    }

    private static long Off(long ticks, long interval)
    {
        var off = ticks % interval;
        return off > interval / 20 && off < interval - (interval / 20) ? off : 0;
    }

    /// <summary>After a clock was set, values go on as from one row to the next; after hours off they are hours apart.</summary>
    private static double Witness((double[] Values, double ShortSpread, double[] LagSpreads) witness, int row, int lag)
    {
        var change = witness.Values[row] - witness.Values[row - 1];
        if (double.IsNaN(change)) return 0;
        var at = 0;
        while (at + 1 < s_lags.Length && s_lags[at + 1] <= lag) at++;
        var apart = witness.LagSpreads[at];
        if (double.IsNaN(apart) || apart < 1.3 * witness.ShortSpread) return 0;
        return Math.Clamp(Student(change, witness.ShortSpread) - Student(change, apart), -4, 2);
    }

    /// <summary>After a clock was set the course of the day comes later by as much; after hours off it does not. The side with more days gives the course, the other is held against it,
    /// in means over an hour: neighbouring rows say the same again. Half of the hours count, and the likest column alone, since the columns share the site.</summary>
    private double SayDays(int row, double seconds)
    {
        const long Bin = 15 * TimeSpan.TicksPerMinute;
        const int Bins = 96;
        var shift = (long)(seconds * TimeSpan.TicksPerSecond);
        if (seconds < 1500 || _frame.Log.IntervalSeconds > 1800) return 0;
        bool isBefore = row >= _frame.Count - row;
        var (from, to) = isBefore ? (0, row - 1) : (row, _frame.Count - 1);
        var (first, last) = isBefore ? (row, _frame.Count - 1) : (0, row - 1);
        if (_frame.Starts[to] - _frame.Starts[from] < 20 * TimeSpan.TicksPerHour || _frame.Starts[last] - _frame.Starts[first] < 3 * TimeSpan.TicksPerHour) return 0;
        double best = 0;
        foreach (var column in _frame.Amperes)
        {
            if (column is null) continue;
            var (sums, counts) = (new double[Bins], new int[Bins]);
            for (var at = from; at <= to; at++)
            {
                if (double.IsNaN(column[at])) continue;
                var bin = (int)(_frame.Starts[at] / Bin % Bins);
                sums[bin] += column[at];
                counts[bin]++;
            }

            double asWritten = 0, asMoved = 0, off = 0, moved = 0;
            int hours = 0, rows = 0;
            for (var at = first; at <= last; at++)
            {
                var here = Usual(_frame.Starts[at]);
                var there = Usual(_frame.Starts[at] + (isBefore ? -shift : shift));
                if (!double.IsNaN(here) && !double.IsNaN(there) && !double.IsNaN(column[at]))
                {
                    off += column[at] - here;
                    moved += column[at] - there;
                    rows++;
                }

                if (at < last && _frame.From(at + 1).Hour == _frame.From(at).Hour) continue;
                if (rows > 0) (asWritten, asMoved, hours) = (asWritten + (off / rows * (off / rows)), asMoved + (moved / rows * (moved / rows)), hours + 1);
                (off, moved, rows) = (0, 0, 0);
            }

            if (hours < 3 || !(asWritten > 0) || !(asMoved > 0)) continue;
            var odds = Math.Clamp(0.25 * hours * Math.Log(asWritten / asMoved), -8, 8);
            if (Math.Abs(odds) > Math.Abs(best)) best = odds;

            double Usual(long ticks)
            {
                // Between the middles of the two quarters of an hour about it.
                var place = ((double)ticks / Bin) - 0.5;
                var lower = Math.Floor(place);
                int one = (int)((long)lower % Bins), other = (one + 1) % Bins;
                if (counts[one] == 0 || counts[other] == 0) return double.NaN;
                var share = place - lower;
                return ((1 - share) * sums[one] / counts[one]) + (share * sums[other] / counts[other]);
            }
        }

        return best;
    }

    private static double Student(double value, double spread) => -Math.Log(spread) - (2 * Math.Log(1 + (value * value / (3 * spread * spread))));

    private void Learn()
    {
        foreach (var column in _frame.Volts.Concat(_frame.Amperes).Concat(_frame.Volts.Any(volts => volts is not null) ? [] : _frame.Watts).Append(_frame.TotalWatts))
        {
            if (column is null) continue;
            var spreads = new double[s_lags.Length];
            for (var index = 0; index < s_lags.Length; index++) spreads[index] = LagSpread(column, s_lags[index]);
            if (spreads[0] > 0) _witnesses.Add((column, spreads[0], spreads));
        }
    }

    private static double LagSpread(double[] values, int lag)
    {
        if (values.Length < lag + 20) return double.NaN;
        var step = Math.Max(1, values.Length / 20000);
        var changes = new List<double>();
        for (var row = lag; row < values.Length; row += step) changes.Add(values[row] - values[row - lag]);
        return Robust.Deviation([.. changes]);
    }

    private GuardSpan NoData(DateTime from, DateTime to, double confidence, SpanFinding finding) => new(
        SpanKind.NoData, _frame.Service.Leads, AllClamps(), from, to, confidence, finding);

    private ImmutableArray<Clamp> AllClamps() =>
        [.. Enumerable.Range(0, 4).Where(clamp => _frame.Amperes[clamp] is not null).Select(clamp => (Clamp)clamp)];
}
