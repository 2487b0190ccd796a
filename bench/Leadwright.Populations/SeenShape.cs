using Leadwright.Core.Circuits;
using Leadwright.Core.Measuring;
using Leadwright.Core.Panels.Disturbances;
using Leadwright.Core.Signals.Events;
using Leadwright.Core.Studies.Events;

namespace Leadwright.Populations;

/// <summary>Sends a virtual site's samples through the measuring engine and keeps what was made of its event.</summary>
internal sealed class SeenShape : IMeasurementSink
{
    private readonly MeasuringPlan _plan;
    private readonly VoltageEventKind _wanted;
    private readonly double _start;
    private EventShape? _shape;

    private SeenShape(MeasuringPlan plan, VoltageEventKind wanted, double start) => (_plan, _wanted, _start) = (plan, wanted, start);

    /// <summary>The shape of the event that began where the disturbance did; null when none was seen.</summary>
    public static EventShape? Of(DisturbanceSite site)
    {
        var plan = new MeasuringPlan
        {
            RateHertz = site.RateHertz, NominalHertz = site.NominalHertz, Service = ServiceKind.Wye, Lanes = 0x77, DeclaredVolts = 230, Interval = new(0, 60),
        };
        var isCapacitor = site.Kind is DisturbanceKind.CapacitorAhead or DisturbanceKind.CapacitorBehind;
        var sink = new SeenShape(plan, isCapacitor ? VoltageEventKind.Transient : VoltageEventKind.Dip, site.StartSeconds);
        using var engine = new MeasuringEngine(plan, sink);
        engine.Push(DisturbanceRecorder.Record(site));
        engine.Complete();
        return sink._shape;
    }

    public void TakeWaveform(CapturedWaveform waveform)
    {
        if (_shape is not null || waveform.Event.Event.Kind != _wanted || Math.Abs(waveform.Event.StartSeconds - _start) > 0.05) return;
        _shape = EventShape.Of(waveform, _plan);
    }

    public void TakeInterval(IntervalValues values)
    {
    }

    public void TakeEvent(TimedEvent found)
    {
    }

    public void TakeFrequency(double startSeconds, double hertz, ValueMarks flags)
    {
    }

    public void TakeFlicker(double startSeconds, ReadOnlySpan<double> pst, ValueMarks flags)
    {
    }
}
