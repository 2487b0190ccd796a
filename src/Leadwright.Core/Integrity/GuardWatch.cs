using System.Collections.Immutable;
using Leadwright.Core.Hookups;
using Leadwright.Core.Logs;

namespace Leadwright.Core.Integrity;

/// <summary>What one more row, or one look at the clock, brought.</summary>
/// <param name="Raised">Alarms that are new.</param>
/// <param name="Cleared">Alarms whose cause is cured, with their whole span.</param>
public sealed record GuardNews(ImmutableArray<GuardSpan> Raised, ImmutableArray<GuardSpan> Cleared)
{
    /// <summary>Nothing new.</summary>
    public static GuardNews None { get; } = new([], []);
}

/// <summary>Watches a recording while it grows: raises each alarm once, and clears it when it is cured.</summary>
/// <remarks>
/// Keeps the newest rows and guards them anew with every row; the hook-up is judged once, when there are rows enough, and taken as proved from
/// then on. Time without supply, gaps and set clocks are news once. Memory is bounded by the rows kept. Not thread-safe.
/// </remarks>
public sealed class GuardWatch
{
    /// <summary>Rows before anything is said.</summary>
    public const int LeastRows = 24;

    private readonly ImmutableArray<LogColumn> _columns;
    private readonly double _intervalSeconds;
    private readonly int _mostRows;
    private readonly List<long> _starts = [];
    private readonly List<double>[] _values;
    private readonly Dictionary<string, GuardSpan> _open = new(StringComparer.Ordinal);
    private readonly HashSet<string> _told = new(StringComparer.Ordinal);
    private GuardOptions _options;
    private readonly Hookup? _stated;
    private bool _isSilent;
    private bool _isProved;

    /// <summary>Starts a watch.</summary>
    /// <param name="columns">The columns of the rows to come.</param>
    /// <param name="intervalSeconds">Length of an interval, seconds.</param>
    /// <param name="options">What is known of the site.</param>
    /// <param name="mostRows">How many rows to keep; at least 200. Default 1500.</param>
    public GuardWatch(ImmutableArray<LogColumn> columns, double intervalSeconds, GuardOptions options, int mostRows = 1500)
    {
        ArgumentNullException.ThrowIfNull(options);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(intervalSeconds);
        ArgumentOutOfRangeException.ThrowIfLessThan(mostRows, 200);
        (_columns, _intervalSeconds, _options, _mostRows) = (columns, intervalSeconds, options, mostRows);
        _stated = options.ProvedHookup;
        _values = [.. columns.Select(_ => new List<double>())];
    }

    /// <summary>The alarms that are up.</summary>
    public ImmutableArray<GuardSpan> Open => [.. _open.Values.OrderBy(span => span.From)];

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
        return Judge(Heard(start), start, cancellation);
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
        var raised = ImmutableArray.CreateBuilder<GuardSpan>();
        var cleared = ImmutableArray.CreateBuilder<GuardSpan>();
        long? first = null;
        var taken = 0;
        for (var row = 0; row < rows.Count; row++)
        {
            if (_starts.Count > 0 && starts[row] <= _starts[^1]) continue;
            first ??= starts[row];
            for (var column = 0; column < values.Length; column++) values[column] = rows.Values(column)[row];
            Keep(starts[row], values);
            // More than is kept at a time is judged lot by lot.
            if (++taken < _mostRows / 2 && row < rows.Count - 1) continue;
            var news = Judge(Heard(first.Value), first.Value, cancellation);
            raised.AddRange(news.Raised);
            cleared.AddRange(news.Cleared);
            (first, taken) = (null, 0);
        }

        if (first is { } rest)
        {
            var news = Judge(Heard(rest), rest, cancellation);
            raised.AddRange(news.Raised);
            cleared.AddRange(news.Cleared);
        }

        return new GuardNews(raised.ToImmutable(), cleared.ToImmutable());
    }

    private void Keep(long start, ReadOnlySpan<double> values)
    {
        if (_starts.Count > 0 && start <= _starts[^1]) throw new ArgumentException("The times of rows must rise.", nameof(start));
        if (_starts.Count >= _mostRows)
        {
            // Dropped in larger lots, so that it costs little a row.
            var lot = _mostRows / 4;
            _starts.RemoveRange(0, lot);
            foreach (var column in _values) column.RemoveRange(0, lot);
        }

        _starts.Add(start);
        for (var index = 0; index < values.Length; index++) _values[index].Add(values[index]);
    }

    /// <summary>A row ends a silence.</summary>
    private ImmutableArray<GuardSpan>.Builder Heard(long start)
    {
        var cleared = ImmutableArray.CreateBuilder<GuardSpan>();
        if (!_isSilent) return cleared;
        _isSilent = false;
        if (_open.Remove(Silence, out var silence)) cleared.Add(silence with { To = new DateTime(start) });
        return cleared;
    }

    /// <summary>Looks at the clock: rows that stay away for more than two intervals and a half are an alarm.</summary>
    /// <param name="now">The time, by the recorder's clock.</param>
    public GuardNews Look(DateTime now)
    {
        if (_isSilent || _starts.Count == 0) return GuardNews.None;
        var due = new DateTime(_starts[^1]).AddSeconds(_intervalSeconds);
        if ((now - due).TotalSeconds < 2.5 * _intervalSeconds) return GuardNews.None;
        _isSilent = true;
        var span = new GuardSpan(
            SpanKind.NoData, [], [], due, now, 0.9, new SpanFinding(SpanRelation.RowsMissing, 2) { Seconds = (now - due).TotalSeconds });
        _open[Silence] = span;
        return new GuardNews([span], []);
    }

    private const string Silence = "silence";

    /// <param name="cleared">What is cured already.</param>
    /// <param name="since">Start of the first row that is new, ticks.</param>
    /// <param name="cancellation">Stops the work.</param>
    private GuardNews Judge(ImmutableArray<GuardSpan>.Builder cleared, long since, CancellationToken cancellation)
    {
        if (_starts.Count < LeastRows) return new GuardNews([], cleared.ToImmutable());
        var log = new IntervalLog(_columns, [.. _starts], [.. _values.Select(column => column.ToArray())], _intervalSeconds);
        var report = IntervalGuard.Judge(log, _options, cancellation);
        if (!_isProved && !report.Timeline.Pieces.IsEmpty && !report.Notes.Contains(GuardNoteKind.HookupUndecided)) Prove(report);
        var raised = ImmutableArray.CreateBuilder<GuardSpan>();
        var alive = new HashSet<string>(StringComparer.Ordinal);
        foreach (var span in report.Spans)
        {
            if (span.IsDoubtful) continue;
            var name = $"{span.Kind} {string.Join(",", span.Leads)} {string.Join(",", span.Clamps)}";
            if (span.Kind is SpanKind.NoData or SpanKind.ClockJump)
            {
                // What has passed already is told once, and only when the row after it has just come.
                if (span.To.Ticks >= since && _told.Add($"{name} {span.From.Ticks}"))
                {
                    raised.Add(span);
                    cleared.Add(span);
                }

                continue;
            }

            if (span.To < report.To)
            {
                // Came and went among the new rows.
                if (!_open.ContainsKey(name) && span.From.Ticks >= since && _told.Add($"{name} {span.From.Ticks}"))
                {
                    raised.Add(span);
                    cleared.Add(span);
                }

                continue;
            }

            alive.Add(name);
            if (_open.TryGetValue(name, out var known)) _open[name] = span with { From = known.From < span.From ? known.From : span.From };
            else
            {
                _open.Add(name, span);
                raised.Add(span);
            }
        }

        foreach (var name in _open.Keys.Where(name => !alive.Contains(name) && name != Silence).ToList())
        {
            if (!_open.Remove(name, out var span)) continue;
            cleared.Add(span with { To = report.To.AddSeconds(-_intervalSeconds) });
        }

        return new GuardNews(raised.ToImmutable(), cleared.ToImmutable());
    }

    /// <summary>Changes are told against the hook-up of the longest piece. It is judged anew while there are few rows, then kept.</summary>
    private void Prove(GuardReport report)
    {
        var longest = report.Timeline.Pieces.MaxBy(piece => piece.To - piece.From)!;
        var isTime = _starts.Count is LeastRows or (2 * LeastRows) or (4 * LeastRows);
        if (longest.Confidence > 0.8) _options = _options with { ProvedHookup = longest.Hookup };
        if (isTime && _starts.Count < 4 * LeastRows) _options = _options with { ProvedHookup = _stated };
        _isProved = _starts.Count >= 4 * LeastRows && _options.ProvedHookup is not null;
    }
}
