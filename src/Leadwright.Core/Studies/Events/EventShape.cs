using Leadwright.Core.Measuring;
using Leadwright.Core.Signals.Events;

namespace Leadwright.Core.Studies.Events;

/// <summary>What the waveform around an event tells.</summary>
/// <param name="Type">Type of a dip; null when it could not be told.</param>
/// <param name="Origin">Where a dip came from; null without currents.</param>
/// <param name="Cause">What a dip looks like.</param>
/// <param name="Capacitor">Where a capacitor was switched, if a transient is one.</param>
public sealed record EventShape(DipType? Type, DipOrigin? Origin, EventCause? Cause, CapacitorSide? Capacitor)
{
    /// <summary>Reads a captured waveform.</summary>
    /// <param name="waveform">The waveform.</param>
    /// <param name="plan">What was measured.</param>
    /// <returns>Null for kinds of events that nothing is made of, for services with fewer than three phases, and when too little was captured before the event.</returns>
    public static EventShape? Of(CapturedWaveform waveform, MeasuringPlan plan)
    {
        ArgumentNullException.ThrowIfNull(plan);
        if (plan.PhaseCount < 3 || (plan.Lanes & 0b111) != 0b111) return null;
        var hasCurrents = (plan.Lanes & 0x70) == 0x70;
        var kind = waveform.Event.Event.Kind;
        var frames = waveform.Frames.Span;
        var start = (waveform.Event.StartSeconds - waveform.StartSeconds) * waveform.RateHertz;
        if (kind == VoltageEventKind.Transient && hasCurrents && !plan.IsThreeWire)
        {
            var cycle = (int)Math.Round(waveform.RateHertz / plan.NominalHertz);
            return new EventShape(null, null, null, CapacitorSide.Judge(frames, cycle, Math.Sqrt(2) * plan.DeclaredVolts));
        }

        if (kind != VoltageEventKind.Dip) return null;
        var end = start + (waveform.Event.Seconds * waveform.RateHertz);
        return CyclePhasorRun.Of(frames, waveform.RateHertz, plan.NominalHertz, start, end, hasCurrents, plan.IsThreeWire) is { } run
            ? new EventShape(run.Type(), DipOrigin.Judge(run), EventCause.Of(run), null) : null;
    }
}
