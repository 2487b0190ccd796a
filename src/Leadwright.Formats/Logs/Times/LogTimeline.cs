using System.Collections.Immutable;
using System.Globalization;
using Leadwright.Core.Logs;
using Leadwright.Formats.Logs.Layout;

namespace Leadwright.Formats.Logs.Times;

/// <summary>The times of a table's rows: what they are, in which order the rows go, which are left out.</summary>
internal sealed class LogTimeline
{
    // A recorder whose clock lost its date begins at one of years ago (common practice, no source).
    private const long LostDateTicks = 366 * TimeSpan.TicksPerDay;

    private readonly TableLayout _layout;
    private readonly LogReadOptions _options;
    private readonly StampScan _scan;
    private readonly string _source;
    private readonly List<ReadWarning> _warnings;
    private readonly List<string> _questions;
    private readonly Func<int, int, bool> _areAlike;
    private readonly List<(long At, long Ticks)> _steps = [];
    private List<int> _order = [];
    private List<long> _ticks = [];
    private bool _isMidnightOld;
    private bool _hasWholeDay;
    private int _setBacks;

    private LogTimeline(
        string source, TableLayout layout, LogReadOptions options, StampScan scan, Func<int, int, bool> areAlike, List<ReadWarning> warnings, List<string> questions) =>
        (_source, _layout, _options, _scan, _areAlike, _warnings, _questions) = (source, layout, options, scan, areAlike, warnings, questions);

    /// <summary>For each row of the log the row of the scan.</summary>
    public int[] Rows { get; private set; } = [];

    /// <summary>Start of each row of the log, ticks.</summary>
    public long[] Starts { get; private set; } = [];

    /// <summary>Length of an interval, seconds.</summary>
    public double IntervalSeconds { get; private set; }

    /// <summary>What was noticed of the clock.</summary>
    public ImmutableArray<ClockFinding> Clock { get; private set; } = [];

    /// <summary>Where the clock was set, and later times were moved so that they go on from one interval to the next.</summary>
    public ImmutableArray<ClockStep> Steps { get; private set; } = [];

    /// <summary>Rows that bear the time of another, and that other.</summary>
    public List<(int Row, int Kept)> Duplicates { get; } = [];

    /// <summary>Which end of its interval a row is stamped with.</summary>
    public StampPlace Stamps { get; private set; }

    /// <summary>The order of dates; null when there was no choice.</summary>
    public DateOrder? DateOrder { get; private set; }

    /// <summary>Works the times out.</summary>
    /// <param name="source">Name of the table, for messages.</param>
    /// <param name="layout">Its layout.</param>
    /// <param name="options">What is stated.</param>
    /// <param name="scan">The times as written.</param>
    /// <param name="areAlike">True when two rows of the scan hold the same values.</param>
    /// <param name="warnings">Receives what was met.</param>
    /// <param name="questions">Receives what only a person can know.</param>
    /// <exception cref="FormatReadException">No interval can be told.</exception>
    public static LogTimeline Of(
        string source, TableLayout layout, LogReadOptions options, StampScan scan, Func<int, int, bool> areAlike, List<ReadWarning> warnings, List<string> questions)
    {
        var timeline = new LogTimeline(source, layout, options, scan, areAlike, warnings, questions);
        timeline.Resolve();
        timeline.Arrange();
        return timeline;
    }

    private void Resolve()
    {
        if (_layout.Time.Kind is TimeKind.Stamp or TimeKind.Split) ResolveStamps();
        else ResolveNumbers();
        if (_ticks.Count == 0)
            throw new FormatReadException(_source, "rows with a date and time", "none that can be read", "Say the order of the dates, or export the log again.");
    }

    private void ResolveStamps()
    {
        var found = DateOrderSearch.Of(_scan.Stamps);
        var order = _options.DateOrder ?? _layout.StatedOrder ?? found?.Order ?? Logs.DateOrder.YearMonthDay;
        DateOrder = found is null ? null : order;
        if (found is { IsOpen: true } open && _options.DateOrder is null && _layout.StatedOrder is null)
        {
            Warn($"The dates can be read as day or as month first, and nothing in the table settles it: {NameOf(order)} is assumed, since {open.Why}. State the order of dates if it is another.");
            _questions.Add(LogQuestions.Dates(NameOf(order)));
        }

        int bad = 0, firstBad = 0, offsets = 0;
        short? zone = null;
        for (var row = 0; row < _scan.Stamps.Count; row++)
        {
            var stamp = _scan.Stamps[row];
            if (stamp.Ticks(order) is not { } ticks)
            {
                if (bad++ == 0) firstBad = _scan.Lines[row];
                continue;
            }

            if (stamp.HasOffset)
            {
                offsets++;
                zone ??= stamp.OffsetMinutes;
                ticks += (zone.Value - stamp.OffsetMinutes) * TimeSpan.TicksPerMinute;
            }

            _hasWholeDay |= stamp.TimeTicks == TimeSpan.TicksPerDay;
            _ticks.Add(ticks);
            _order.Add(row);
        }

        if (bad > 0) Warn($"{CountOf(bad)} left out: the date is none when read as {NameOf(order)}.", firstBad);
        if (zone is { } offset) Warn(OffsetNote(offset, offsets));
        MoveOldMidnights();
    }

    private string OffsetNote(short offset, int count)
    {
        var zone = string.Create(CultureInfo.InvariantCulture, $"UTC{(offset < 0 ? '-' : '+')}{Math.Abs(offset) / 60:00}:{Math.Abs(offset) % 60:00}");
        return count == _ticks.Count
            ? $"The times state their offset from UTC; all are given at that of the first row, {zone}."
            : $"Only {count} of {_ticks.Count} times state an offset from UTC; the others are taken at {zone} too.";
    }

    // A day's last row may bear the day's own date with 00:00: it stands at the end of that day.
    private void MoveOldMidnights()
    {
        var interval = (long)(ClockCheck.IntervalOf(_ticks.ToArray()) * TimeSpan.TicksPerSecond);
        if (interval <= 0) return;
        int old = 0, usual = 0;
        for (var row = 1; row < _ticks.Count; row++)
        {
            if (_ticks[row] % TimeSpan.TicksPerDay != 0) continue;
            if (_ticks[row - 1] == _ticks[row] + TimeSpan.TicksPerDay - interval) old++;
            else if (_ticks[row - 1] == _ticks[row] - interval) usual++;
        }

        if (old == 0 || usual > 0) return;
        _isMidnightOld = true;
        for (var row = _ticks.Count - 1; row > 0; row--)
        {
            if (_ticks[row] % TimeSpan.TicksPerDay == 0 && _ticks[row - 1] > _ticks[row] && _ticks[row - 1] < _ticks[row] + TimeSpan.TicksPerDay) _ticks[row] += TimeSpan.TicksPerDay;
        }

        Warn($"The row stamped 00:00 stands at the end of the day whose date it bears; {CountOf(old)} read as midnight at the end of that day.");
    }

    private void ResolveNumbers()
    {
        var time = _layout.Time;
        var origin = time.Kind switch
        {
            TimeKind.Epoch => DateTime.UnixEpoch.Ticks + _options.UtcOffset.Ticks,
            // Day 60 of the spreadsheets' calendar is a 29 February 1900 that never was: from 1 March on day 0 is 30 December 1899.
            TimeKind.Serial => new DateTime(1899, 12, 30).Ticks,
            _ => (_options.Start ?? default).Ticks,
        };
        int bad = 0, firstBad = 0;
        for (var row = 0; row < _scan.Numbers.Count; row++)
        {
            // To the millisecond: a quarter of an hour is no even fraction of a day.
            var milliseconds = Math.Round(_scan.Numbers[row] * time.UnitSeconds * 1000);
            if (!(Math.Abs(milliseconds) < 3e14) || origin + (long)milliseconds * TimeSpan.TicksPerMillisecond is var ticks && (ticks < 0 || ticks > DateTime.MaxValue.Ticks))
            {
                if (bad++ == 0) firstBad = _scan.Lines[row];
                continue;
            }

            _ticks.Add(origin + ((long)milliseconds * TimeSpan.TicksPerMillisecond));
            _order.Add(row);
        }

        if (bad > 0) Warn($"{CountOf(bad)} left out: the time is beyond any calendar.", firstBad);
        if (time.Kind == TimeKind.Epoch)
            Warn(_options.UtcOffset == TimeSpan.Zero ? "The times count from 1970; they are given in UTC." : "The times count from 1970 in UTC; they are given by the recorder's clock, as was stated.");
        if (time.Kind == TimeKind.Elapsed && _options.Start is null)
        {
            Warn("The times are counted from the table's own start, and no date is stated: they are given as the time since that start. State the start of the log.");
            _questions.Add(LogQuestions.Start);
        }
    }

    private void Arrange()
    {
        int rises = 0, falls = 0;
        for (var row = 1; row < _ticks.Count; row++)
        {
            if (_ticks[row] > _ticks[row - 1]) rises++;
            else if (_ticks[row] < _ticks[row - 1]) falls++;
        }

        if (falls > rises)
        {
            _ticks.Reverse();
            _order.Reverse();
            Warn("The table has its newest row first; the rows are taken the other way round.");
        }

        IntervalSeconds = _options.IntervalSeconds ?? _scan.StatedIntervalSeconds ?? ClockCheck.IntervalOf(_ticks.ToArray());
        if (!(IntervalSeconds > 0))
        {
            throw new FormatReadException(
                _source, "at least two rows at different times", $"{_ticks.Count} {(_ticks.Count == 1 ? "row" : "rows at one time")}",
                "One row has no interval: state the length of the interval, or export more of the log.");
        }

        Clock = ClockCheck.Look(_ticks.ToArray(), IntervalSeconds);
        FollowClock();
        DecideStamps();
        Keep(InOrder());
        TellClock();
    }

    // From a set of the clock on, times are moved so that the first row's clock goes on: no interval is lost, and none stands twice.
    private void FollowClock()
    {
        var sets = Clock.Where(finding => finding.Kind is ClockFindingKind.DaylightForward or ClockFindingKind.DaylightBack or ClockFindingKind.StepBack || IsNewest(finding)).ToList();
        var interval = (long)Math.Round(IntervalSeconds * TimeSpan.TicksPerSecond);
        var seen = new SeenTimes(interval);
        var (shift, row) = (0L, 0);
        for (var next = 0; next <= sets.Count; next++)
        {
            for (var end = next < sets.Count ? sets[next].Row : _ticks.Count; row < end; row++)
            {
                _ticks[row] += shift;
                seen.Add(_ticks[row], row);
            }

            if (next == sets.Count) break;
            var set = sets[next];
            var moved = set.Kind switch
            {
                ClockFindingKind.DaylightForward => -ClockCheck.DaylightTicks,
                ClockFindingKind.DaylightBack => ClockCheck.DaylightTicks,
                _ => SetBack(seen, row, next + 1 < sets.Count ? sets[next + 1].Row : _ticks.Count, shift, interval),
            };
            if (moved == 0) continue;
            if (set.Kind == ClockFindingKind.StepBack) _setBacks++;
            shift += moved;
            _steps.Add((_ticks[row] + shift, moved));
            var what = set.Kind is ClockFindingKind.StepBack or ClockFindingKind.OutOfOrder ? $"from {Text(set.Before)} to {Text(set.At)}" : $"by an hour after {Text(set.Before)}, as for daylight saving";
            Warn($"The clock was put {(moved < 0 ? "forward" : "back")} {what}: from there on times are given by the clock of the first row.", _scan.Lines[_order[row]]);
        }
    }

    private bool IsNewest(ClockFinding finding) => _options.IsGrowing && finding.Kind == ClockFindingKind.OutOfOrder && finding.Row == _ticks.Count - 1;

    // By how much a clock was set back where the times fall, ticks; 0 where the rows stand out of order, or were exported twice.
    private long SetBack(SeenTimes seen, int row, int end, long shift, long interval)
    {
        int overlapping = 0, same = 0, alike = 0;
        for (var at = row; at < end; at++)
        {
            var ticks = _ticks[at] + shift;
            if (!seen.IsNear(ticks)) continue;
            overlapping++;
            if (seen.RowAt(ticks) is not { } other) continue;
            same++;
            if (_areAlike(_order[at], _order[other])) alike++;
        }

        // Two exports, one put after the other, hold the rows of their common days twice.
        if (same > 0 && 2 * same >= overlapping && alike >= 0.9 * same && !_options.IsGrowing) return 0;
        // A stretch in a place of its own was put together in another order; a clock that lost its date falls back by years.
        if (overlapping == 0 && _ticks[row] + shift > seen.First - LostDateTicks) return 0;
        return seen.Last + interval - (_ticks[row] + shift);
    }

    private void DecideStamps()
    {
        var heading = _layout.Headings[_layout.Time.TimeOfDay >= 0 ? _layout.Time.TimeOfDay : _layout.Time.Column];
        if (_options.Stamps is { } stated) Stamps = stated;
        else if (_layout.Time.End >= 0 || _scan.IsRange || heading.IsStart) Stamps = StampPlace.Start;
        else if (heading.IsEnd) Stamps = StampPlace.End;
        else if (_hasWholeDay || _isMidnightOld)
        {
            Stamps = StampPlace.End;
            Warn($"A day ends with the row stamped {(_hasWholeDay ? "24:00" : "00:00")}: so each row is stamped at the end of its interval.");
        }
        else
        {
            Warn("The table does not say whether a row is stamped at the start or at the end of its interval: the start is assumed.");
            _questions.Add(LogQuestions.Stamps);
        }
    }

    // Sorts the rows by time where they are not; says which came late.
    private bool[] InOrder()
    {
        var late = new bool[_ticks.Count];
        var isSorted = true;
        var most = long.MinValue;
        for (var row = 0; row < _ticks.Count; row++)
        {
            late[row] = _ticks[row] <= most;
            isSorted &= !late[row];
            most = Math.Max(most, _ticks[row]);
        }

        if (isSorted) return late;
        var sorted = Enumerable.Range(0, _ticks.Count).OrderBy(row => _ticks[row]).ThenBy(row => row).ToArray();
        (_ticks, _order, late) = (sorted.Select(row => _ticks[row]).ToList(), sorted.Select(row => _order[row]).ToList(), [.. sorted.Select(row => late[row])]);
        return late;
    }

    private void Keep(bool[] late)
    {
        var interval = (long)Math.Round(IntervalSeconds * TimeSpan.TicksPerSecond);
        var back = Stamps == StampPlace.End ? interval : 0;
        var kept = new List<int>(_ticks.Count);
        int overlapping = 0, firstOverlap = 0;
        for (var row = 0; row < _ticks.Count; row++)
        {
            if (_ticks[row] - back < 0 || _ticks[row] - back > DateTime.MaxValue.Ticks - interval) continue;
            if (kept.Count > 0 && _ticks[row] == _ticks[kept[^1]])
            {
                Duplicates.Add((_order[row], _order[kept[^1]]));
                continue;
            }

            if (kept.Count > 0 && (late[row] || late[kept[^1]]) && _ticks[row] - _ticks[kept[^1]] < interval / 2)
            {
                var dropped = late[row] ? row : kept[^1];
                if (overlapping++ == 0) firstOverlap = _scan.Lines[_order[dropped]];
                if (dropped == row) continue;
                kept.RemoveAt(kept.Count - 1);
            }

            kept.Add(row);
        }

        if (overlapping > 0) Warn($"{CountOf(overlapping)} left out: their intervals were logged before.", firstOverlap);
        Rows = [.. kept.Select(row => _order[row])];
        Starts = [.. kept.Select(row => _ticks[row] - back)];
        Steps = [.. _steps.Select(step => new ClockStep(FirstFrom(step.At - back), step.Ticks)).Where(step => step.Row > 0 && step.Row < Starts.Length)];
    }

    private int FirstFrom(long ticks) => Array.BinarySearch(Starts, ticks) is >= 0 and var exact ? exact : ~Array.BinarySearch(Starts, ticks);

    private void TellClock()
    {
        var gaps = Clock.Where(finding => finding.Kind == ClockFindingKind.Gap).ToList();
        if (gaps.Count > 0)
        {
            Warn(gaps.Count == 1
                ? $"Intervals are missing between {Text(gaps[0].Before)} and {Text(gaps[0].At)}: {gaps[0].RowCount}."
                : $"Intervals are missing in {gaps.Count} places, {gaps.Sum(gap => (long)gap.RowCount)} in all; the first between {Text(gaps[0].Before)} and {Text(gaps[0].At)}.");
        }

        var late = Clock.Where(finding => finding.Kind == ClockFindingKind.OutOfOrder).ToList();
        if (late.Count > 0) Warn($"{CountOf(late.Count)} put where the time says: they stand out of order, the first with {Text(late[0].At)} after {Text(late[0].Before)}.");
        var falls = Clock.Count(finding => finding.Kind == ClockFindingKind.StepBack) - _setBacks;
        if (falls > 0)
        {
            var first = Clock.First(finding => finding.Kind == ClockFindingKind.StepBack);
            Warn($"The times fall back in {(falls == 1 ? "1 place" : $"{falls} places")}, as where exports were put one after the other: each row goes where its time says. The first fall is from {Text(first.Before)} to {Text(first.At)}.");
        }

        foreach (var drift in Clock.Where(finding => finding.Kind == ClockFindingKind.Drift).Take(5))
        {
            Warn(string.Create(CultureInfo.InvariantCulture,
                $"The stamps creep against the interval of {IntervalSeconds:0.###} s: by {drift.Seconds:0.0} s over {drift.RowCount} rows from {Text(drift.Before)}."));
        }
    }

    private void Warn(string says, int? line = null) => _warnings.Add(new ReadWarning(says, line));

    private static string CountOf(int count) => count == 1 ? "1 row is" : string.Create(CultureInfo.InvariantCulture, $"{count} rows are");

    private static string Text(long ticks) => RecordTime.Text(new DateTime(Math.Clamp(ticks, 0, DateTime.MaxValue.Ticks)), "yyyy-MM-dd HH:mm:ss");

    private static string NameOf(DateOrder order) => order switch
    {
        Logs.DateOrder.DayMonthYear => "day, month, year",
        Logs.DateOrder.MonthDayYear => "month, day, year",
        _ => "year, month, day",
    };
}
