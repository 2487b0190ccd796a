namespace Leadwright.Core.Integrity;

/// <summary>The alarm of a watch over rows that stay away.</summary>
/// <param name="interval">Length of an interval.</param>
internal sealed class SilenceAlarm(TimeSpan interval)
{
    private const double Confidence = 0.9;

    private GuardSpan? _up;
    private GuardSpan? _last;

    /// <summary>The alarm, when it is up.</summary>
    public IEnumerable<GuardSpan> Up => _up is null ? [] : [_up];

    /// <summary>Looks at the clock.</summary>
    /// <param name="last">Start of the last row.</param>
    /// <param name="now">The time, by the recorder's clock.</param>
    public GuardNews Look(DateTime last, DateTime now)
    {
        var due = last + interval;
        if (_up is not null || now - due < 2.5 * interval) return GuardNews.None;
        _up = new GuardSpan(SpanKind.NoData, [], [], due, now, Confidence, new SpanFinding(SpanRelation.RowsMissing, 2) { Seconds = (now - due).TotalSeconds });
        return new GuardNews([_up], []);
    }

    /// <summary>A row ends a silence.</summary>
    /// <param name="at">Its start.</param>
    public GuardNews Heard(DateTime at)
    {
        if (_up is null) return GuardNews.None;
        (_last, _up) = (_up with { To = at }, null);
        return new GuardNews([], [_last]);
    }

    /// <summary>True for a gap in the rows that was an alarm while it lasted.</summary>
    public bool WasTold(GuardSpan gap) => _last is not null && gap.From < _last.To && gap.To > _last.From;
}
