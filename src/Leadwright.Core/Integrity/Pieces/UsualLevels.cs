using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Integrity.Pieces;

/// <summary>Whether each channel reads, hour by hour over all rows of a piece, what the line that it is said to be on usually reads at that hour.</summary>
/// <remarks>
/// <see cref="Continuity"/> asks the rows at the edges alone, where a load that was switched may say anything; a line's own level, and how far its voltage stands from the
/// others', go on for days. Exchanged leads and exchanged clamps turn the same powers by as much, one or the other way about; which of them moved, only the levels say.
/// Residuals of neighbouring hours go together: all are discounted by (1 − ρ) / (1 + ρ), the share of independent values in a first-order autoregression
/// (G. E. P. Box, G. M. Jenkins, Time Series Analysis, 1970, from memory).
/// </remarks>
internal sealed class UsualLevels
{
    private const int HoursOfADay = 24;
    private const int Bins = 2 * HoursOfADay;
    private const double WideOfCurrents = 0.8;
    private const double WideOfVolts = 0.01;
    private const double LeastOfCurrents = 0.03;
    private const double LeastOfVolts = 2e-4;
    private const int LeastResiduals = 12;
    private const double OfWhole = 0.7;
    private const double DaysThatTell = 4.0;

    private readonly GuardFrame _frame;
    private readonly Arrangement _anchor;
    private readonly Course?[] _currents = new Course?[3];
    private readonly Course?[] _volts = new Course?[3];

    /// <summary>Learns what is usual.</summary>
    /// <param name="frame">The recording.</param>
    /// <param name="anchor">Where leads and clamps were meanwhile.</param>
    /// <param name="pieces">The rows that teach.</param>
    public UsualLevels(GuardFrame frame, Arrangement anchor, List<RowPiece> pieces)
    {
        (_frame, _anchor) = (frame, anchor);
        if (frame.Lines < 2) return;
        var hours = Of(pieces);
        var count = Array.TrueForAll(frame.Volts, column => column is null) ? 0 : frame.IsPairs ? 3 : frame.Lines;
        var apart = hours.ConvertAll(hour => hour with { Volts = Apart(hour.Volts) });
        // Of a line that nothing was on meanwhile nothing is known, and what is elsewhere would speak for staying there.
        for (var channel = 0; channel < frame.Lines && IsEach(anchor.Clamps); channel++) _currents[channel] = Course.Learn(hours, hour => hour.Amperes[channel], LeastOfCurrents);
        for (var channel = 0; channel < count && IsEach(anchor.Leads); channel++) _volts[channel] = Course.Learn(apart, hour => hour.Volts[channel], LeastOfVolts);
    }

    private List<Hour> Of(List<RowPiece> pieces)
    {
        var hours = new List<Hour>();
        var rows = Math.Max(1, (int)(3600 / _frame.Log.IntervalSeconds));
        foreach (var piece in pieces)
        {
            for (var first = piece.From; first <= piece.To;)
            {
                var stamp = _frame.Starts[first] / TimeSpan.TicksPerHour;
                var last = first;
                while (last < piece.To && _frame.Starts[last + 1] / TimeSpan.TicksPerHour == stamp) last++;
                if (4 * (last - first + 1) >= rows)
                {
                    hours.Add(new Hour(stamp, [.. _frame.Amperes.Take(3).Select(column => LogMean(column, first, last))], [.. _frame.Volts.Select(column => LogMean(column, first, last))]));
                }

                first = last + 1;
            }
        }

        return hours;
    }

    /// <summary>True when every line has one of them.</summary>
    private bool IsEach(int[] places)
    {
        for (var line = 0; line < _frame.Lines; line++)
        {
            if (Array.IndexOf(places, line, 0, _frame.Lines) < 0) return false;
        }

        return true;
    }

    /// <summary>Hears the hours of a piece.</summary>
    /// <param name="pieces">Its rows.</param>
    /// <param name="isScaled">Clamps at a ratio of their own, whose sizes say nothing.</param>
    public Heard Hear(List<RowPiece> pieces, bool[] isScaled) => new(this, Of(pieces), isScaled);

    private double SayVolts(ReadOnlySpan<int> homes, List<Hour> hours)
    {
        var count = homes.Length;
        double log = 0;
        Span<double> off = stackalloc double[count];
        foreach (var hour in hours)
        {
            double mean = 0;
            for (var channel = 0; channel < count; channel++)
            {
                off[channel] = hour.Volts[channel] - _volts[homes[channel]]!.At(hour.Stamp);
                mean += off[channel] / count;
            }

            // The supply's common rise and fall is no one's own.
            for (var channel = 0; channel < count; channel++) log += _volts[homes[channel]]!.SayOff(hour.Stamp, off[channel] - mean, WideOfVolts);
        }

        return log;
    }

    /// <summary>The channel that usually reads what each does where the leads stand so; false where one of them has none.</summary>
    private bool TryHomes(Arrangement moved, Span<int> homes)
    {
        if (moved.Leads[3] != _anchor.Leads[3]) return false;
        for (var channel = 0; channel < homes.Length; channel++)
        {
            homes[channel] = _frame.IsPairs ? HomeOfPair(moved, channel) : moved.Leads[channel] is < 0 or > 2 ? -1 : Array.IndexOf(_anchor.Leads, moved.Leads[channel], 0, homes.Length);
            if (homes[channel] < 0 || _volts[homes[channel]] is null) return false;
        }

        return true;
    }

    /// <summary>The channel that usually reads between the two lines that a pair's leads are on.</summary>
    private int HomeOfPair(Arrangement moved, int channel)
    {
        int one = moved.Leads[channel], other = moved.Leads[(channel + 1) % 3];
        if (one is < 0 or > 2 || other is < 0 or > 2 || one == other) return -1;
        for (var home = 0; home < 3; home++)
        {
            int first = _anchor.Leads[home], second = _anchor.Leads[(home + 1) % 3];
            if ((first == one && second == other) || (first == other && second == one)) return home;
        }

        return -1;
    }

    private double[] Apart(double[] volts)
    {
        var mean = volts.Where((_, channel) => _frame.Volts[channel] is not null).DefaultIfEmpty(double.NaN).Average();
        return [.. volts.Select(volt => volt - mean)];
    }

    private static double LogMean(double[]? column, int from, int to)
    {
        if (column is null) return double.NaN;
        double sum = 0;
        for (var row = from; row <= to; row++) sum += column[row];
        return sum > 0 ? Math.Log(sum / (to - from + 1)) : double.NaN;
    }

    /// <summary>The hours of one piece, and what each channel says in them of each line.</summary>
    internal sealed class Heard
    {
        private readonly UsualLevels _usual;
        private readonly List<Hour> _hours;
        private readonly double[,] _amperes = new double[3, 3];
        private readonly Dictionary<int, double> _volts = [];

        public Heard(UsualLevels usual, List<Hour> hours, bool[] isScaled)
        {
            (_usual, _hours) = (usual, hours);
            if (usual._frame.Lines < 2) return;
            for (var channel = 0; channel < usual._frame.Lines; channel++)
            {
                for (var home = 0; home < usual._frame.Lines; home++)
                {
                    if (isScaled[channel] || isScaled[home] || usual._currents[home] is not { } course) continue;
                    foreach (var hour in hours) _amperes[channel, home] += course.Say(hour.Stamp, hour.Amperes[channel], WideOfCurrents);
                }
            }
        }

        /// <summary>How likely the hours are where leads and clamps stood so, against readings of any size, nats.</summary>
        public double Say(Arrangement moved)
        {
            var frame = _usual._frame;
            double log = 0;
            if (frame.Lines < 2 || _hours.Count == 0) return 0;
            for (var channel = 0; channel < frame.Lines; channel++)
            {
                var home = moved.Clamps[channel] < 0 ? -1 : Array.IndexOf(_usual._anchor.Clamps, moved.Clamps[channel], 0, frame.Lines);
                if (home >= 0) log += _amperes[channel, home];
            }

            Span<int> homes = stackalloc int[frame.IsPairs ? 3 : frame.Lines];
            if (!_usual.TryHomes(moved, homes)) return log;
            var key = 0;
            foreach (var home in homes) key = (4 * key) + home;
            if (!_volts.TryGetValue(key, out var said)) _volts[key] = said = _usual.SayVolts(homes, _hours);
            return log + said;
        }
    }

    /// <summary>Means of an hour.</summary>
    /// <param name="Stamp">Hours since year 1.</param>
    /// <param name="Amperes">Logarithms of the currents; NaN where nothing was read.</param>
    /// <param name="Volts">Logarithms of the voltages.</param>
    internal sealed record Hour(long Stamp, double[] Amperes, double[] Volts);

    /// <summary>What one channel usually reads, by the hour of workdays and of weekends.</summary>
    private sealed class Course
    {
        private readonly double[] _means = new double[Bins];
        private readonly int[] _counts = new int[Bins];
        private double _spread;
        private double _discount;

        /// <summary>An hour of a workday, or of a day of the weekend. The first of January of year 1 was a Monday.</summary>
        private static int BinOf(long stamp) => (int)(stamp % HoursOfADay) + (stamp / HoursOfADay % 7 >= 5 ? HoursOfADay : 0);

        /// <summary>Learns it; null where no hour was seen on two days often enough.</summary>
        public static Course? Learn(List<Hour> hours, Func<Hour, double> value, double least)
        {
            var course = new Course();
            foreach (var hour in hours)
            {
                var read = value(hour);
                if (double.IsNaN(read)) continue;
                var at = BinOf(hour.Stamp);
                course._means[at] += (read - course._means[at]) / ++course._counts[at];
            }

            // Each hour against the other days' alone.
            double squares = 0, products = 0, pairs = 0;
            var (count, before) = (0, (Stamp: long.MinValue, Off: 0.0));
            foreach (var hour in hours.OrderBy(hour => hour.Stamp))
            {
                var at = BinOf(hour.Stamp);
                var days = course._counts[at];
                var read = value(hour);
                if (days < 2 || double.IsNaN(read)) continue;
                var off = (read - course._means[at]) * Math.Sqrt(days / (days - 1.0));
                squares += off * off;
                count++;
                if (before.Stamp == hour.Stamp - 1)
                {
                    products += off * before.Off;
                    pairs += 0.5 * ((off * off) + (before.Off * before.Off));
                }

                before = (hour.Stamp, off);
            }

            if (count < LeastResiduals) return null;
            course._spread = Math.Max(least, Math.Sqrt(squares / count));
            var along = pairs > 0 ? Math.Clamp(products / pairs, 0, 0.9) : 0;
            // How one day differs from another, as a Sunday does, few days don't tell.
            var seen = hours.Select(hour => hour.Stamp / HoursOfADay).Distinct().Count();
            course._discount = OfWhole * Math.Min(1, (seen - 1) / DaysThatTell) * (1 - along) / (1 + along);
            return course;
        }

        public double At(long stamp) => _counts[BinOf(stamp)] > 0 ? _means[BinOf(stamp)] : double.NaN;

        public double Say(long stamp, double read, double wide) => SayOff(stamp, read - At(stamp), wide);

        public double SayOff(long stamp, double off, double wide)
        {
            if (double.IsNaN(off)) return 0;
            var days = _counts[BinOf(stamp)];
            return _discount * Continuity.Student(off, _spread * Math.Sqrt(1 + (1.0 / days)), Math.Max(wide, 2 * _spread));
        }
    }
}
