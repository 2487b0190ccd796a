using Leadwright.Core.Signals;
using Leadwright.Core.Signals.Lanes;

namespace Leadwright.Core.Measuring;

/// <summary>Keeps the waveform around events: some cycles before the start, and as many from the start on as fit the time kept.</summary>
/// <remarks>A slab holds some tenths of a second of history and a second of new frames; an event longer than that is captured around
/// its end, where it was reported. At most <see cref="MostWaiting"/> captures are held at a time.</remarks>
internal sealed class WaveformCapture(MeasuringPlan plan)
{
    private const double CyclesBefore = 5;
    private const double CyclesBehind = 10;
    private const int MostWaiting = 16;

    private readonly List<TimedEvent> _waiting = [];

    public void Clear() => _waiting.Clear();

    /// <summary>Carries the state out or in.</summary>
    public void Carry(StateCarrier carrier)
    {
        carrier.Carry(_waiting);
    }

    public void Ask(TimedEvent found)
    {
        if (_waiting.Count < MostWaiting) _waiting.Add(found);
    }

    /// <summary>Cuts out what is now at hand as a whole.</summary>
    public void Take(Slab slab)
    {
        for (var index = 0; index < _waiting.Count; index++)
        {
            if (EndOf(_waiting[index]) > slab.FirstFrame + slab.HistoryFrames + slab.Count) continue;
            Cut(slab, _waiting[index]);
            _waiting.RemoveAt(index--);
        }
    }

    /// <summary>Cuts out what is left at the end of a segment.</summary>
    public void Finish(Slab slab)
    {
        foreach (var found in _waiting) Cut(slab, found);
        _waiting.Clear();
    }

    private double CycleFrames => plan.RateHertz / plan.NominalHertz;

    private double EndOf(TimedEvent found) => found.Event.EndPlace + (CyclesBehind / 2 * CycleFrames);

    private void Cut(Slab slab, TimedEvent found)
    {
        var least = Math.Max(slab.FirstFrame, 0);
        var first = (long)Math.Max(found.Event.StartPlace - (CyclesBefore * CycleFrames), least);
        var end = (long)Math.Min(EndOf(found), slab.FirstFrame + slab.HistoryFrames + slab.Count);
        if (end <= first) return;
        var from = (int)(first - slab.FirstFrame) * Lane.Count;
        slab.Waveforms.Add(new CapturedWaveform(
            found, slab.SegmentSeconds + (first / plan.RateHertz), plan.RateHertz,
            slab.Frames.AsSpan(from, (int)(end - first) * Lane.Count).ToArray()));
    }
}
