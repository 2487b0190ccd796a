using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Integrity.Chains;

/// <summary>The size of one current as a course of the day and a rest that goes on from row to row as it usually does.</summary>
/// <remarks>The rest of the logarithm is taken for a process of the first order: what a row says of its own is what it differs from the share φ of the row before. φ follows from the spreads of the rest and of its changes,
/// var Δ = 2 (1 − φ) var r, both robust; so rows that are alike because they are neighbours are not counted as so many witnesses. Leaps have a density of their own, as often as this current makes them.</remarks>
internal sealed class LevelSeries
{
    private const double SlotSeconds = 600;
    private const double Wide = 0.7;

    /// <summary>A course by other lines brings their noise: it must leave this share or less of the spread.</summary>
    private const double OthersLeave = 0.7;
    private const int LeastBlocks = 12;
    private readonly double[] _course;
    private readonly double[] _logs;
    private readonly double[] _changes;
    private readonly double _leap;

    private LevelSeries(double[] logs, double[] course, int leftOutFrom, int leftOutTo)
    {
        (_logs, _course) = (logs, course);
        var rests = new double[logs.Length];
        for (var row = 0; row < rests.Length; row++) rests[row] = logs[row] - course[row];
        _changes = Robust.Changes(rests);
        // What is asked about must not teach how the rest goes on either: a third of all rows at twice their size makes it wander.
        for (var row = Math.Max(0, leftOutFrom); row <= Math.Min(rests.Length - 1, leftOutTo); row++) rests[row] = double.NaN;
        double apart = Robust.Deviation(Robust.Changes(rests)), about = Robust.Deviation(rests);
        _leap = Math.Max(0.15, 8 * apart);
        Carry = about > 0 ? Math.Clamp(1 - (0.5 * apart * apart / (about * about)), 0, 0.999) : 0;
        for (var row = rests.Length - 1; row > 0; row--) rests[row] -= Carry * rests[row - 1];
        rests[0] = double.NaN;
        Spread = Robust.Deviation(rests);
    }

    /// <summary>Natural logarithm of the current in each row; NaN where there is none to speak of, or no sound voltage.</summary>
    public ReadOnlySpan<double> Logs => _logs;

    /// <summary>Share of a rest that goes on into the next row.</summary>
    public double Carry { get; }

    /// <summary>The usual size of what a row says of its own.</summary>
    public double Spread { get; private set; }

    /// <summary>True where the course of the days is known: what the hour does is then no news.</summary>
    public bool HasCourse { get; private set; }

    /// <summary>True where the course is what the other lines' currents say.</summary>
    public bool IsByOthers { get; private set; }

    /// <summary>Density of leaps, as often as they come.</summary>
    public double LeapShare { get; private set; }

    /// <summary>Learns it; null where there are too few rows.</summary>
    /// <param name="frame">The recording.</param>
    /// <param name="voltages">What the voltages did.</param>
    /// <param name="clamp">The clamp.</param>
    /// <param name="leftOutFrom">First row that must not teach the course of the day.</param>
    /// <param name="leftOutTo">Last such row; before the first for none.</param>
    public static LevelSeries? Learn(GuardFrame frame, VoltageHistory voltages, int clamp, int leftOutFrom = 0, int leftOutTo = -1)
    {
        if (frame.Amperes[clamp] is not { } amperes || LogsOf(frame, voltages, clamp) is not { } logs || logs.Count(log => !double.IsNaN(log)) < 40) return null;
        var middle = Robust.Median(logs);
        var level = new double[logs.Length];
        Array.Fill(level, middle);
        var series = new LevelSeries(logs, level, leftOutFrom, leftOutTo);
        // A course of the day is worth its while where it leaves less to be told.
        if (Course(frame, logs, leftOutFrom, leftOutTo) is { } course && new LevelSeries(logs, course, leftOutFrom, leftOutTo) is { } coursed && coursed.Spread < series.Spread) (series, coursed.HasCourse) = (coursed, true);
        // So are the other lines, where they leave much less: three-phase loads then come and go on all.
        if (frame.Lines == 3 && LogsOf(frame, voltages, (clamp + 1) % 3) is { } one && LogsOf(frame, voltages, (clamp + 2) % 3) is { } other
            && CourseOfOthers.Predict(logs, one, other, leftOutFrom, leftOutTo) is { } byOthers && new LevelSeries(logs, byOthers, leftOutFrom, leftOutTo) is { } told && told.Spread < OthersLeave * series.Spread)
            (series, told.HasCourse, told.IsByOthers) = (told, true, true);
        // What rounding makes is no news.
        series.Spread = Math.Max(series.Spread, Math.Max(5e-4, 0.3 * Robust.Step(amperes) / Math.Exp(middle)));
        if (double.IsNaN(series.Spread)) return null;
        series.LeapShare = (series.Leaps(0, -1) + 0.5) / logs.Length;
        return series;
    }

    private static double[]? LogsOf(GuardFrame frame, VoltageHistory voltages, int clamp)
    {
        if (frame.Amperes[clamp] is not { } amperes) return null;
        var logs = new double[frame.Count];
        var least = 0.2 * voltages.Floors[clamp];
        for (var row = 0; row < logs.Length; row++)
            logs[row] = amperes[row] > least && voltages.At(row).Kind is VoltageStateKind.Sound or VoltageStateKind.Leads ? Math.Log(amperes[row]) : double.NaN;
        return logs;
    }

    /// <summary>How often the current leaps, but for some rows.</summary>
    public int Leaps(int leftOutFrom, int leftOutTo)
    {
        var leaps = 0;
        for (var row = 1; row < _changes.Length; row++)
        {
            if (Math.Abs(_changes[row]) > _leap && !(row >= leftOutFrom && row <= leftOutTo)) leaps++;
        }

        return leaps;
    }

    /// <summary>By how much the mean rest of so many rows wanders beyond what their news makes of it: what is predicted by other lines is off by as much as the loads at hand differ from the usual ones.</summary>
    public double Wander(int rows)
    {
        if (!IsByOthers) return 0;
        var length = Math.Clamp(rows, 1, _logs.Length / LeastBlocks);
        var means = new double[_logs.Length / length];
        for (var block = 0; block < means.Length; block++)
        {
            var (sum, count) = (0.0, 0);
            for (var row = block * length; row < (block + 1) * length; row++)
            {
                if (double.IsNaN(_logs[row]) || double.IsNaN(_course[row])) continue;
                sum += _logs[row] - _course[row];
                count++;
            }

            means[block] = 2 * count < length ? double.NaN : sum / count;
        }

        var wander = Robust.Deviation(means);
        return double.IsNaN(wander) ? 0 : wander;
    }

    /// <summary>The rest of a row whose logarithm is taken to be this.</summary>
    public double Rest(int row, double log) => log - _course[row];

    /// <summary>Natural logarithm of the density of a step from one rest to another, so many rows later.</summary>
    public double Density(double then, double now, int rows)
    {
        var carry = rows == 1 ? Carry : Math.Pow(Carry, rows);
        var spread = rows == 1 ? Spread : Spread * Math.Sqrt(rows == 2 ? 1 + (Carry * Carry) : rows);
        double news = now - (carry * then), small = news / spread, large = news / Wide;
        return Math.Log(((1 - LeapShare) * 0.375 / spread / Robust.FiveHalves(1 + (small * small / 4))) + (LeapShare * 0.375 / Wide / Robust.FiveHalves(1 + (large * large / 4))));
    }

    /// <summary>The median of each time of the day where it was seen on five days or more, by ten minutes or the interval; by the hour, joined by straight lines, on three or four.</summary>
    private static double[]? Course(GuardFrame frame, double[] logs, int leftOutFrom, int leftOutTo)
    {
        var days = (frame.To(frame.Count - 1) - frame.From(0)).TotalDays;
        if (days < 2.9) return null;
        var isFine = days >= 4.9;
        var slots = isFine ? (int)(86400 / Math.Max(SlotSeconds, frame.Log.IntervalSeconds)) : 24;
        var values = new List<double>[slots];
        for (var slot = 0; slot < slots; slot++) values[slot] = [];
        double Place(int row) => frame.From(row).AddSeconds(0.5 * frame.Log.IntervalSeconds).TimeOfDay.TotalDays * slots;
        var step = Math.Max(1, logs.Length / 60000);
        for (var row = 0; row < logs.Length; row += step)
        {
            if (!double.IsNaN(logs[row]) && !(row >= leftOutFrom && row <= leftOutTo)) values[Math.Min(slots - 1, (int)Place(row))].Add(logs[row]);
        }

        double[] middles = [.. values.Select(slot => Robust.Median([.. slot]))];
        var course = new double[logs.Length];
        for (var row = 0; row < course.Length; row++)
        {
            var place = Place(row);
            if (isFine)
            {
                course[row] = middles[Math.Min(slots - 1, (int)place)];
                continue;
            }

            var lower = (int)Math.Floor(place - 0.5);
            var share = place - 0.5 - lower;
            course[row] = ((1 - share) * middles[(lower + slots) % slots]) + (share * middles[(lower + 1) % slots]);
        }

        return course;
    }
}
