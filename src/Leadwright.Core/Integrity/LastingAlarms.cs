namespace Leadwright.Core.Integrity;

/// <summary>The alarms of a watch over what lasts: one for each trouble, whatever it is called as more rows come.</summary>
/// <remarks>
/// A trouble is cured when the guard says that it ended. That the guard no longer finds it is no cure: a night without load hides much. Such an alarm
/// is taken back when as many rows deny it as bore it out. What the rows that raised it are now said to be is the same trouble under another name, by
/// which it goes once as many rows give it that name as gave it the one before: two names that are as likely would else take turns.
/// </remarks>
/// <param name="interval">Length of an interval.</param>
internal sealed class LastingAlarms(TimeSpan interval)
{
    // By then every load of the site has had its say.
    private static readonly TimeSpan s_longestDenial = TimeSpan.FromDays(1);

    // A name that was right for a week is not kept for another.
    private const int MostNamingRows = 12;

    // As far as two findings of one change may lie apart.
    private const int RowsOfOnset = 12;

    private readonly List<Alarm> _up = [];

    /// <summary>The alarms that are up, as told last.</summary>
    public IEnumerable<GuardSpan> Up => _up.Select(alarm => alarm.Span);

    /// <summary>Since when the eldest has been up; null when there is none.</summary>
    public DateTime? Since => _up.Count == 0 ? null : _up.Min(alarm => alarm.Span.From);

    /// <summary>Takes what the guard says of the rows up to now.</summary>
    /// <param name="report">What it says.</param>
    /// <param name="rows">How many rows are new.</param>
    /// <param name="since">Start of the first of them.</param>
    public GuardNews Take(GuardReport report, int rows, DateTime since)
    {
        var said = new Said(report);
        var news = GuardNews.None;
        var astray = _up.Where(alarm => !IsBorneOut(alarm, said, rows)).ToList();
        foreach (var alarm in astray) news = news.And(Settle(alarm, said, rows));
        foreach (var span in said.Lasting.Where(span => !span.IsDoubtful && said.Taken.Add(span)))
        {
            if (_up.Exists(alarm => IsSame(alarm.Span, span))) continue;
            var alarm = new Alarm(span);
            alarm.Name(span, report.To, rows);
            _up.Add(alarm);
            news = news.And(new GuardNews([span], []));
        }

        // Came and went among the new rows.
        foreach (var span in said.Ended.Where(span => !span.IsDoubtful && span.From >= since && said.Taken.Add(span)))
        {
            if (!_up.Exists(alarm => IsOf(alarm, span))) news = news.And(new GuardNews([span], [span]));
        }

        return news;
    }

    private static bool IsBorneOut(Alarm alarm, Said said, int rows)
    {
        if (said.Lasting.Find(span => IsSame(span, alarm.Span)) is not { } same) return false;
        said.Taken.Add(same);
        alarm.Bear(same, rows);
        return true;
    }

    /// <summary>What becomes of an alarm that no longer lasts by its name.</summary>
    private GuardNews Settle(Alarm alarm, Said said, int rows)
    {
        var ended = said.Ended.FindLast(span => IsSame(span, alarm.Span) && span.To > alarm.Span.From && span.From < alarm.Span.To);
        var now = ended is null ? said.Lasting.Find(span => !span.IsDoubtful && !said.Taken.Contains(span) && IsOf(alarm, span)) : null;
        if (ended is null && now is null && said.Lasting.Exists(span => span.IsDoubtful && IsOf(alarm, span)))
        {
            // What it is called is in doubt, not that it is there.
            alarm.DeniedRows = 0;
            return GuardNews.None;
        }

        ended ??= said.Ended.FindLast(span => !span.IsDoubtful && IsOf(alarm, span));
        if (now is null && ended is not null) (now, ended) = said.GoingOn(alarm.Span, ended, 2 * interval);
        if (now is not null)
        {
            said.Taken.Add(now);
            if (alarm.RowsOf(now, rows) < Math.Min(MostNamingRows, alarm.NamedRows)) return GuardNews.None;
            var before = alarm.Span;
            alarm.Name(now, said.To, rows);
            return GuardNews.None with { Renamed = [new RenamedAlarm(before, alarm.Span)] };
        }

        alarm.DeniedRows += rows;
        // An end among rows that bore the alarm out is a change of mind: it needs as many rows behind it.
        if (ended is not null && alarm.DeniedRows * interval >= Least(alarm.Span.To - ended.To, s_longestDenial))
        {
            said.Taken.Add(ended);
            _up.Remove(alarm);
            return new GuardNews([], [alarm.Span with { To = ended.To }]);
        }

        if (ended is not null || alarm.DeniedRows * interval <= Least(alarm.Span.Length, s_longestDenial)) return GuardNews.None;
        _up.Remove(alarm);
        return GuardNews.None with { Withdrawn = [alarm.Span] };
    }

    private static TimeSpan Least(TimeSpan one, TimeSpan other) => one < other ? one : other;

    private static bool IsSame(GuardSpan one, GuardSpan other) =>
        one.Kind == other.Kind && one.Leads.AsSpan().SequenceEqual(other.Leads.AsSpan()) && one.Clamps.AsSpan().SequenceEqual(other.Clamps.AsSpan());

    /// <summary>True for what began where the alarm did, or its name, as nearly as the rows told it that brought it.</summary>
    private bool IsOf(Alarm alarm, GuardSpan span) => alarm.Onsets.Exists(onset =>
    {
        // What took long to show is dated the less surely.
        var slack = (onset.ToldAt - onset.From) / 4;
        if (slack < RowsOfOnset * interval) slack = RowsOfOnset * interval;
        return span.To > onset.From && (span.From - onset.From).Duration() <= slack;
    });

    /// <summary>What the guard says of lasting states; those that an alarm tells of are taken.</summary>
    private sealed class Said
    {
        public Said(GuardReport report)
        {
            var spans = report.Spans.Where(span => span.Kind is not (SpanKind.NoData or SpanKind.ClockJump or SpanKind.OverRange)).ToLookup(span => span.To >= report.To);
            // Sure ones first.
            Lasting = [.. spans[true].OrderBy(span => span.IsDoubtful)];
            Ended = [.. spans[false]];
            To = report.To;
        }

        public DateTime To { get; }

        public List<GuardSpan> Lasting { get; }

        public List<GuardSpan> Ended { get; }

        public HashSet<GuardSpan> Taken { get; } = new(ReferenceEqualityComparer.Instance);

        /// <summary>What became of leads and clamps that were not sound for a row since they were called otherwise; what lay between is taken.</summary>
        public (GuardSpan? Lasting, GuardSpan Last) GoingOn(GuardSpan told, GuardSpan ended, TimeSpan slack)
        {
            var at = ended;
            while (true)
            {
                bool IsNext(GuardSpan span) => !span.IsDoubtful && !Taken.Contains(span) && span.From <= at.To + slack && span.To > at.To && (Shares(span, told) || Shares(span, ended));
                if (Lasting.Find(IsNext) is { } lasting) return (lasting, at);
                if (Ended.Find(IsNext) is not { } next) return (null, at);
                Taken.Add(next);
                at = next;
            }
        }

        private static bool Shares(GuardSpan one, GuardSpan other) => one.Leads.Intersect(other.Leads).Any() || one.Clamps.Intersect(other.Clamps).Any();
    }

    private sealed class Alarm(GuardSpan span)
    {
        /// <summary>As told last; its end is up to when it was borne out.</summary>
        public GuardSpan Span { get; private set; } = span;

        /// <summary>Where each of its names began, and the end of the rows that brought it.</summary>
        public List<(DateTime From, DateTime ToldAt)> Onsets { get; } = [];

        public int DeniedRows { get; set; }

        /// <summary>How many rows gave it the name that it goes by.</summary>
        public int NamedRows { get; private set; }

        private GuardSpan? Other { get; set; }

        private int OtherRows { get; set; }

        public void Name(GuardSpan name, DateTime toldAt, int rows)
        {
            Onsets.Add((name.From, toldAt));
            NamedRows = 0;
            Bear(name, rows);
        }

        public void Bear(GuardSpan found, int rows)
        {
            Span = found with { From = found.From < Span.From ? found.From : Span.From };
            NamedRows += rows;
            (DeniedRows, OtherRows) = (0, 0);
        }

        /// <summary>How many rows in turn have given it another name.</summary>
        public int RowsOf(GuardSpan other, int rows)
        {
            OtherRows = Other is not null && IsSame(Other, other) ? OtherRows + rows : rows;
            (Other, Span, DeniedRows) = (other, Span with { To = other.To }, 0);
            return OtherRows;
        }
    }
}
