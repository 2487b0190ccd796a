using Leadwright.Core.Signals;
using Leadwright.Core.Signals.Events;
using Leadwright.Core.Signals.Lanes;

namespace Leadwright.Core.Measuring;

/// <summary>Follows the half-cycle values: events, and what windows must know of them.</summary>
internal sealed class EventWatch
{
    private readonly MeasuringPlan _plan;
    private readonly VoltageEventDetector? _detector;
    private readonly RapidChangeDetector[] _changes;
    private readonly List<HalfCycle> _recent = [];
    private readonly List<VoltageEvent> _ended = [];
    private readonly double[] _declared = new double[Lane.VoltageCount];

    public EventWatch(MeasuringPlan plan)
    {
        _plan = plan;
        var lines = plan.PhaseCount;
        for (var lane = 0; lane < lines; lane++) _declared[lane] = plan.Has(lane) ? plan.DeclaredOf(lane) : 0;
        if (_declared.Any(volts => volts > 0)) _detector = new VoltageEventDetector(plan.Events, _declared);
        _changes = [.. _declared.Select(_ => new RapidChangeDetector(plan.Events, plan.NominalHertz))];
    }

    public ReadOnlySpan<double> Declared => _declared;

    public bool IsRunning => _detector is { IsRunning: true };

    public void Clear()
    {
        _detector?.Clear();
        foreach (var change in _changes) change.Clear();
        _recent.Clear();
        _ended.Clear();
    }

    /// <summary>Carries the state out or in.</summary>
    public void Carry(StateCarrier carrier)
    {
        _detector?.Carry(carrier);
        foreach (var change in _changes) change.Carry(carrier);
        carrier.Carry(_recent);
        carrier.Carry(_ended);
    }

    /// <summary>Takes values in order of their ends; gives events that ended.</summary>
    public void Take(List<HalfCycle> values, List<VoltageEvent> found)
    {
        var first = found.Count;
        foreach (var value in values)
        {
            _recent.Add(value);
            _detector?.Take(value, found);
            if (value.Lane < _declared.Length && _declared[value.Lane] > 0) _changes[value.Lane].Take(value, _declared[value.Lane], found);
        }

        for (var index = first; index < found.Count; index++) Note(found[index]);
    }

    public void Finish(double endPlace, List<VoltageEvent> found)
    {
        var first = found.Count;
        _detector?.Finish(endPlace, found);
        for (var index = first; index < found.Count; index++) Note(found[index]);
    }

    /// <summary>What lasted within a window, and the extremes of its half cycles.</summary>
    public void Describe(double start, double end, ref WindowJob job)
    {
        for (var lane = 0; lane < Lane.Count; lane++) (job.Least[lane], job.Most[lane]) = (double.PositiveInfinity, double.NegativeInfinity);
        foreach (var value in _recent)
        {
            if (value.EndPlace <= start || value.EndPlace > end) continue;
            (job.Least[value.Lane], job.Most[value.Lane]) = (Math.Min(job.Least[value.Lane], value.Rms), Math.Max(job.Most[value.Lane], value.Rms));
            var partner = value.Lane + Lane.VoltageCount;
            (job.Least[partner], job.Most[partner]) =
                (Math.Min(job.Least[partner], value.PartnerRms), Math.Max(job.Most[partner], value.PartnerRms));
        }

        foreach (var ended in _ended)
        {
            if (ended.StartPlace < end && ended.EndPlace > start) job.Flags |= FlagOf(ended.Kind);
        }

        if (_detector is not null) job.Flags |= RunningFlags(end);
    }

    /// <summary>Forgets what no window to come can overlap.</summary>
    public void Forget(double place)
    {
        _recent.RemoveAll(value => value.EndPlace < place);
        _ended.RemoveAll(ended => ended.EndPlace < place);
    }

    private ValueMarks RunningFlags(double end)
    {
        var flags = ValueMarks.None;
        foreach (var kind in (ReadOnlySpan<VoltageEventKind>)[VoltageEventKind.Dip, VoltageEventKind.Swell, VoltageEventKind.Interruption])
        {
            if (_detector!.StartOf(kind) < end) flags |= FlagOf(kind);
        }

        return flags;
    }

    private void Note(VoltageEvent found)
    {
        if (FlagOf(found.Kind) != ValueMarks.None) _ended.Add(found);
    }

    private static ValueMarks FlagOf(VoltageEventKind kind) => kind switch
    {
        VoltageEventKind.Dip => ValueMarks.Dip,
        VoltageEventKind.Swell => ValueMarks.Swell,
        VoltageEventKind.Interruption => ValueMarks.Interruption,
        _ => ValueMarks.None,
    };
}
