using System.Collections.Immutable;
using Leadwright.Core.Logs;

namespace Leadwright.Core.Integrity;

/// <summary>Watches a recording while it grows: raises one alarm for each trouble, says when it goes by another name, and clears it when it is cured.</summary>
/// <remarks>
/// Keeps the newest rows, and those from before an alarm that is up, and guards them anew with every row; the hook-up is judged once, when there are
/// rows enough, and taken as proved from then on. Time without supply, gaps and set clocks are news once. Memory is bounded by the rows kept. Not
/// thread-safe.
/// </remarks>
public sealed class GuardWatch
{
    /// <summary>Rows before anything is said.</summary>
    public const int LeastRows = 24;

    private readonly ImmutableArray<LogColumn> _columns;
    private readonly double _intervalSeconds;
    private readonly int _mostRows;
    private readonly WatchedRows _rows;
    private readonly LastingAlarms _lasting;
    private readonly RangeAlarms _ranges = new();
    private readonly SilenceAlarm _silence;
    private readonly HashSet<string> _told = new(StringComparer.Ordinal);
    private readonly ProvedPiece _proved;
    private readonly Func<IntervalLog, GuardOptions, CancellationToken, GuardReport> _judge;

    /// <summary>Starts a watch.</summary>
    /// <param name="columns">The columns of the rows to come.</param>
    /// <param name="intervalSeconds">Length of an interval, seconds.</param>
    /// <param name="options">What is known of the site.</param>
    /// <param name="mostRows">How many rows to keep; at least 200. Default 1500.</param>
    public GuardWatch(ImmutableArray<LogColumn> columns, double intervalSeconds, GuardOptions options, int mostRows = 1500)
        : this(columns, intervalSeconds, options, mostRows, IntervalGuard.Judge)
    {
    }

    /// <summary>Starts a watch whose rows another guard judges.</summary>
    internal GuardWatch(
        ImmutableArray<LogColumn> columns, double intervalSeconds, GuardOptions options, int mostRows, Func<IntervalLog, GuardOptions, CancellationToken, GuardReport> judge)
    {
        ArgumentNullException.ThrowIfNull(options);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(intervalSeconds);
        ArgumentOutOfRangeException.ThrowIfLessThan(mostRows, 200);
        (_columns, _intervalSeconds, _mostRows, _judge) = (columns, intervalSeconds, mostRows, judge);
        _rows = new WatchedRows(columns, intervalSeconds, mostRows);
        _lasting = new LastingAlarms(TimeSpan.FromSeconds(intervalSeconds));
        _silence = new SilenceAlarm(TimeSpan.FromSeconds(intervalSeconds));
        _proved = new ProvedPiece(options);
    }

    /// <summary>The alarms that are up.</summary>
    public ImmutableArray<GuardSpan> Open => [.. _lasting.Up.Concat(_ranges.Up).Concat(_silence.Up).OrderBy(span => span.From)];

    /// <summary>Takes a row.</summary>
    /// <param name="start">Start of its interval, ticks of the recorder's clock; after the row before.</param>
    /// <param name="values">One value a column, base units, NaN where missing.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <returns>What is new.</returns>
    /// <exception cref="ArgumentException">The row has another number of values than there are columns, or its time does not rise.</exception>
    public GuardNews Add(long start, ReadOnlySpan<double> values, CancellationToken cancellation = default)
    {
        if (values.Length != _columns.Length) throw new ArgumentException($"A row needs {_columns.Length} values; found {values.Length}.", nameof(values));
        Keep(start, values);
        return Judge(start, 1, cancellation);
    }

    /// <summary>Takes rows that came together, and judges them once: what began and ended among them is raised and cleared at once.</summary>
    /// <param name="rows">The rows; those not after the last one taken are left out.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <returns>What is new.</returns>
    /// <exception cref="ArgumentException">The columns are not those of the watch.</exception>
    public GuardNews Add(IntervalLog rows, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(rows);
        if (!rows.Columns.SequenceEqual(_columns)) throw new ArgumentException("The rows have other columns than those watched.", nameof(rows));
        var values = new double[_columns.Length];
        var starts = rows.Starts.Span;
        var news = GuardNews.None;
        var first = 0L;
        var taken = 0;
        for (var row = 0; row < rows.Count; row++)
        {
            if (_rows.Count > 0 && starts[row] <= _rows.Last) continue;
            for (var column = 0; column < values.Length; column++) values[column] = rows.Values(column)[row];
            Keep(starts[row], values);
            if (taken++ == 0) first = starts[row];
            // More than is kept at a time is judged lot by lot.
            if (taken < _mostRows / 2) continue;
            news = news.And(Judge(first, taken, cancellation));
            taken = 0;
        }

        return taken == 0 ? news : news.And(Judge(first, taken, cancellation));
    }

    /// <summary>Looks at the clock: rows that stay away for more than two intervals and a half are an alarm.</summary>
    /// <param name="now">The time, by the recorder's clock.</param>
    public GuardNews Look(DateTime now) => _rows.Count == 0 ? GuardNews.None : _silence.Look(new DateTime(_rows.Last), now);

    private void Keep(long start, ReadOnlySpan<double> values)
    {
        if (_rows.Count > 0 && start <= _rows.Last) throw new ArgumentException("The times of rows must rise.", nameof(start));
        _rows.Add(start, values, _lasting.Since);
    }

    /// <param name="since">Start of the first row that is new, ticks.</param>
    /// <param name="rows">How many are new.</param>
    /// <param name="cancellation">Stops the work.</param>
    private GuardNews Judge(long since, int rows, CancellationToken cancellation)
    {
        var news = _silence.Heard(new DateTime(since));
        if (_rows.Count < LeastRows) return news;
        var log = _rows.ToLog();
        var report = _judge(log, _proved.Options, cancellation);
        // More rows since a change than before it would pass for the hook-up that was proved, and the change for cured.
        while (_proved.IsTurnedOver(report) is { } change && _rows.Thin(change))
        {
            log = _rows.ToLog();
            report = _judge(log, _proved.Options, cancellation);
        }

        news = news.And(Passed(report, since)).And(_lasting.Take(report, rows, new DateTime(since))).And(_ranges.Take(report, log));
        var isQuiet = !_lasting.Up.Any();
        _proved.Take(report, log.Count, isQuiet);
        if (isQuiet && _proved.PutRight(report, TimeSpan.FromSeconds(_intervalSeconds)) is { } right) _rows.LetGoBefore(right);
        return news;
    }

    /// <summary>What is over as soon as it shows: told once, with the row after it.</summary>
    private GuardNews Passed(GuardReport report, long since)
    {
        ImmutableArray<GuardSpan> passed =
        [
            .. report.Spans.Where(span => span.Kind is SpanKind.NoData or SpanKind.ClockJump && !span.IsDoubtful && span.To.Ticks >= since && !_rows.IsOwn(span))
                .Where(span => _told.Add($"{span.Kind} {span.From.Ticks}") && !(span.Kind == SpanKind.NoData && _silence.WasTold(span))),
        ];
        return new GuardNews(passed, passed);
    }
}
