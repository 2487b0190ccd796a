using Leadwright.Core.Logs;

namespace Leadwright.Core.Integrity;

/// <summary>The alarms of a watch over ranges that are too small: one a channel, however often its values reach the end.</summary>
/// <remarks>Less load is no cure, for the range stays as small as it is: a reading that goes clearly beyond its end is one.</remarks>
internal sealed class RangeAlarms
{
    // More than a clamp strays at the end of its range.
    private const double Beyond = 1.03;

    private readonly Dictionary<string, Alarm> _up = new(StringComparer.Ordinal);
    private readonly Dictionary<string, DateTime> _curedAt = new(StringComparer.Ordinal);

    /// <summary>The alarms that are up.</summary>
    public IEnumerable<GuardSpan> Up => _up.Values.Select(alarm => alarm.Span);

    /// <summary>Takes what the guard says of the rows up to now.</summary>
    /// <param name="report">What it says.</param>
    /// <param name="log">The rows.</param>
    public GuardNews Take(GuardReport report, IntervalLog log)
    {
        var news = GuardNews.None;
        var found = report.Spans.Where(span => span.Kind == SpanKind.OverRange && !span.IsDoubtful).ToLookup(NameOf);
        foreach (var name in _up.Keys.Concat(found.Select(group => group.Key)).Distinct().ToList())
        {
            var spans = found[name].Where(span => !_curedAt.TryGetValue(name, out var cured) || span.From >= cured).ToList();
            if (!_up.TryGetValue(name, out var alarm))
            {
                if (spans.Count == 0) continue;
                _up[name] = alarm = new Alarm(spans[0]);
                news = news.And(new GuardNews([spans[0] with { To = spans[^1].To }], []));
            }

            alarm.Reach(spans, log);
            if (alarm.FirstBeyond(log) is not { } beyond) continue;
            _up.Remove(name);
            _curedAt[name] = beyond;
            news = news.And(new GuardNews([], [alarm.Span]));
        }

        return news;
    }

    private static string NameOf(GuardSpan span) => string.Join(',', [.. span.Leads.Select(lead => lead.ToString()), .. span.Clamps.Select(clamp => clamp.ToString())]);

    private sealed class Alarm(GuardSpan first)
    {
        private double _end;

        /// <summary>From the first time that the end was reached to the last.</summary>
        public GuardSpan Span { get; private set; } = first;

        /// <summary>Takes the times at which the end was reached.</summary>
        public void Reach(List<GuardSpan> spans, IntervalLog log)
        {
            if (spans.Count > 0 && spans[^1].To > Span.To) Span = Span with { To = spans[^1].To };
            if (Column(log) is not { } column) return;
            foreach (var span in spans)
            {
                for (var row = RowAt(log, span.From); row < log.Count && log.Starts.Span[row] < span.To.Ticks; row++) _end = Math.Max(_end, log.Values(column)[row]);
            }
        }

        /// <summary>The first time after it that the channel shows more than its range would let it.</summary>
        public DateTime? FirstBeyond(IntervalLog log)
        {
            if (!(_end > 0) || Column(log) is not { } column) return null;
            for (var row = RowAt(log, Span.To); row < log.Count; row++)
            {
                if (log.Values(column)[row] > Beyond * _end) return new DateTime(log.Starts.Span[row]);
            }

            return null;
        }

        private static int RowAt(IntervalLog log, DateTime time)
        {
            var at = log.Starts.Span.BinarySearch(time.Ticks);
            return at < 0 ? ~at : at;
        }

        private int? Column(IntervalLog log)
        {
            var (quantity, place) = Span.Clamps.IsEmpty ? (LogQuantity.Voltage, (int)Span.Leads[0]) : (LogQuantity.Current, (int)Span.Clamps[0]);
            var index = log.IndexOf(quantity, LogPlace.Phase1 + place);
            return index < 0 ? null : index;
        }
    }
}
