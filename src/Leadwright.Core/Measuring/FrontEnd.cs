using Leadwright.Core.Signals;
using Leadwright.Core.Signals.Events;
using Leadwright.Core.Signals.Flicker;
using Leadwright.Core.Signals.Frequency;
using Leadwright.Core.Signals.Lanes;
using Leadwright.Core.Signals.Windows;

namespace Leadwright.Core.Measuring;

/// <summary>The first half of the work, sample by sample in order: fundamental, half-cycle values, events, flicker, and where the
/// windows lie.</summary>
internal sealed class FrontEnd
{
    private const int SlabBlocks = 2048;
    private const int PieceBlocks = 64;
    private const double FrequencySeconds = 10;
    private const double TickSeconds = 600;

    // A recording of whole windows gives them all: the last may lack a sixth of the 0.03 % that a window's length may be off
    // (IEC 61000-4-7 clause 4.4.1, from memory).
    private const double EndTolerance = 5e-4;

    private readonly MeasuringPlan _plan;
    private readonly BlockSums _sums;
    private readonly FundamentalTracker _tracker;
    private readonly HalfCycleRms _halfCycles;
    private readonly EventWatch _watch;
    private readonly TransientDetector _transients;
    private readonly FlickerMeter? _flicker;
    private readonly WaveformCapture _capture;
    private readonly WindowSchedule _schedule;
    private readonly List<HalfCycle> _values = [];
    private readonly List<VoltageEvent> _found = [];
    private readonly List<WindowJob> _pending = [];
    private double _segmentSeconds;
    private double _lastPlace, _lastCycles, _lastHertz;
    private double _nextFrequencyPlace, _frequencyStartCycles;
    private ValueMarks _frequencyFlags;
    private double _nextFlickerPlace, _flickerStartPlace;
    private ValueMarks _flickerFlags;
    private int _flickerLost;
    private long _transientPlace;

    public FrontEnd(MeasuringPlan plan)
    {
        _plan = plan;
        var reach = (int)Math.Ceiling(0.31 * plan.RateHertz);
        _sums = new BlockSums(plan.RateHertz, plan.NominalHertz, kept: 512);
        HistoryFrames = reach + (100 * _sums.Length) + 64;
        NewFrames = SlabBlocks * _sums.Length;
        Span<bool> reference = stackalloc bool[Lane.Count];
        var hasVoltage = (plan.Lanes & 0b111) != 0;
        for (var lane = 0; lane < Lane.Count; lane++)
            reference[lane] = plan.Has(lane) && (hasVoltage ? lane < 3 : lane is >= Lane.VoltageCount and < Lane.VoltageCount + 3);
        var floor = hasVoltage && plan.DeclaredVolts > 0 ? 0.05 * plan.DeclaredVolts : 1e-6;
        _tracker = new FundamentalTracker(_sums, plan.RateHertz, plan.NominalHertz, reference, floor * floor);
        _halfCycles = new HalfCycleRms(_sums, _tracker, plan.RateHertz, BoundLanes(plan), floor);
        _watch = new EventWatch(plan);
        _transients = new TransientDetector(plan.Events, _watch.Declared);
        if (hasVoltage && plan.RateHertz >= 8 * plan.NominalHertz) _flicker = new FlickerMeter(plan.RateHertz, plan.NominalHertz, plan.Lamp);
        _capture = new WaveformCapture(plan);
        _schedule = new WindowSchedule(WindowMeter.CyclesFor(plan.NominalHertz));
    }

    /// <summary>Frames that a slab keeps from the one before.</summary>
    public int HistoryFrames { get; }

    /// <summary>Frames that a slab takes.</summary>
    public int NewFrames { get; }

    /// <summary>Starts a segment.</summary>
    public void Begin(double segmentSeconds)
    {
        _segmentSeconds = segmentSeconds;
        _sums.Clear();
        _tracker.Clear();
        _halfCycles.Clear();
        _watch.Clear();
        _transients.Clear();
        _flicker?.Clear();
        _flicker?.ClearClasses();
        _capture.Clear();
        _pending.Clear();
        (_lastPlace, _lastCycles, _lastHertz) = (double.NaN, 0, 0);
        (_nextFrequencyPlace, _frequencyStartCycles, _frequencyFlags) = (double.NaN, double.NaN, ValueMarks.None);
        _flickerStartPlace = 0;
        _nextFlickerPlace = TickAfter(0, TickSeconds);
        _flickerFlags = IsTick(0) ? ValueMarks.None : ValueMarks.Partial;
        _flickerLost = 0;
        _transientPlace = 0;
        _schedule.Clear();
    }

    /// <summary>Carries the state out or in.</summary>
    public void Carry(StateCarrier carrier)
    {
        carrier.Carry(ref _segmentSeconds);
        _sums.Carry(carrier);
        _tracker.Carry(carrier);
        _halfCycles.Carry(carrier);
        _watch.Carry(carrier);
        _transients.Carry(carrier);
        _flicker?.Carry(carrier);
        _capture.Carry(carrier);
        _schedule.Carry(carrier);
        carrier.Carry(_pending);
        carrier.Carry(ref _lastPlace);
        carrier.Carry(ref _lastCycles);
        carrier.Carry(ref _lastHertz);
        carrier.Carry(ref _nextFrequencyPlace);
        carrier.Carry(ref _frequencyStartCycles);
        carrier.Carry(ref _frequencyFlags);
        carrier.Carry(ref _nextFlickerPlace);
        carrier.Carry(ref _flickerStartPlace);
        carrier.Carry(ref _flickerFlags);
        carrier.Carry(ref _flickerLost);
        carrier.Carry(ref _transientPlace);
    }

    /// <summary>Works through a slab.</summary>
    /// <param name="slab">The slab.</param>
    /// <param name="gaps">Where samples are missing in this segment.</param>
    /// <param name="isEnd">True when the segment ends with it.</param>
    public void Process(Slab slab, List<LostSamples> gaps, bool isEnd)
    {
        var start = slab.FirstFrame + slab.HistoryFrames;
        foreach (var gap in gaps)
        {
            if (gap.EndPlace > start) _flickerLost |= gap.Lanes;
        }

        // In pieces that stay in the cache while every part takes its turn.
        var piece = PieceBlocks * _sums.Length;
        for (var first = 0; first < slab.Count; first += piece)
        {
            var count = Math.Min(piece, slab.Count - first);
            var fresh = slab.AtHand.Slice((slab.HistoryFrames + first) * Lane.Count, count * Lane.Count);
            RunFlicker(fresh, start + first, slab);
            _sums.Add(fresh[..(count / _sums.Length * _sums.Length * Lane.Count)]);
            while (_tracker.Next()) TakePoint(slab, _tracker.Place, _tracker.Cycles, _tracker.Hertz, gaps, isReal: true);
        }

        if (isEnd) Close(slab, gaps, start + slab.Count);
        _watch.Forget(_pending.Count > 0 ? _pending[0].Span.StartPlace : _schedule.StartPlace - 1);
    }

    private void TakePoint(Slab slab, double place, double cycles, double hertz, List<LostSamples> gaps, bool isReal)
    {
        if (isReal)
        {
            _values.Clear();
            _found.Clear();
            _halfCycles.Take(slab.AtHand, slab.FirstFrame, _values);
            _watch.Take(_values, _found);
            var to = (long)place;
            if (to > _transientPlace)
            {
                _transients.Take(slab.AtHand, slab.FirstFrame, _transientPlace, (int)(to - _transientPlace), _plan.RateHertz / Math.Max(_halfCycles.Hertz, 40), _found);
                _transientPlace = to;
            }

            Report(slab);
            _flickerFlags |= _watch.IsRunning ? ValueMarks.Dip : ValueMarks.None;
        }

        if (double.IsNaN(_lastPlace))
        {
            (_lastPlace, _lastCycles, _lastHertz) = (place, cycles, hertz);
            if (isReal) return;
        }
        else if (!_schedule.IsStarted)
        {
            // The segment's start lies before the first point: the phase there by the first frequency.
            var startCycles = _lastCycles - (_lastPlace * hertz / _plan.RateHertz);
            _schedule.Start(0, startCycles, TickAfter(0, TickSeconds) is var tick && tick > 0 ? tick : double.PositiveInfinity);
            (_lastPlace, _lastCycles) = (0, startCycles);
            _nextFrequencyPlace = TickAfter(0, FrequencySeconds);
            _frequencyStartCycles = IsTickOf(0, FrequencySeconds) ? startCycles : double.NaN;
        }

        var isHeld = isReal && !_tracker.HasSignal;
        if (isHeld) _frequencyFlags |= ValueMarks.FrequencyHeld;
        var span = new PhaseSpan(_lastPlace, _lastCycles, place, cycles);
        TakeFrequencies(slab, span);
        while (_schedule.Next(span, isReal ? 0 : EndTolerance, out var window, out var tick))
        {
            if (tick) _schedule.NextTick(TickAfter(_schedule.TickPlace + 1, TickSeconds));
            var job = new WindowJob
            {
                Span = window,
                StartSeconds = Seconds(window.StartPlace),
                EndSeconds = Seconds(window.EndPlace),
                OwnSeconds = _schedule.OwnFrames / _plan.RateHertz,
                Hertz = window.Cycles * _plan.RateHertz / window.Length,
                Flags = isHeld ? ValueMarks.FrequencyHeld : ValueMarks.None,
            };
            _pending.Add(job);
        }

        (_lastPlace, _lastCycles, _lastHertz) = (place, cycles, hertz);
        Release(slab, gaps, isReal ? _halfCycles.KnownPlace - (_plan.RateHertz / Math.Max(_halfCycles.Hertz, 40)) : double.PositiveInfinity);
    }

    private void Release(Slab slab, List<LostSamples> gaps, double knownPlace)
    {
        var count = 0;
        while (count < _pending.Count && _pending[count].Span.EndPlace <= knownPlace)
        {
            var job = _pending[count++];
            _watch.Describe(job.Span.StartPlace, job.Span.EndPlace, ref job);
            foreach (var gap in gaps)
            {
                if (gap.StartPlace < job.Span.EndPlace && gap.EndPlace > job.Span.StartPlace) job.LostLanes |= gap.Lanes;
            }

            if (job.LostLanes != 0) job.Flags |= ValueMarks.Gap;
            slab.Windows.Add(job);
        }

        _pending.RemoveRange(0, count);
    }

    // The last cycles lie behind the newest point: the phase runs on at the last frequency.
    private void Close(Slab slab, List<LostSamples> gaps, long endPlace)
    {
        if (double.IsNaN(_lastPlace)) return;
        var cycles = _lastCycles + ((endPlace - _lastPlace) * _lastHertz / _plan.RateHertz);
        TakePoint(slab, endPlace, cycles, _lastHertz, gaps, isReal: false);
        _found.Clear();
        _watch.Finish(endPlace, _found);
        Report(slab);
        _capture.Finish(slab);
        CloseFlicker(slab, endPlace, _flickerFlags | ValueMarks.Partial);
    }

    private void Report(Slab slab)
    {
        foreach (var found in _found)
        {
            var timed = new TimedEvent(found, Seconds(found.StartPlace), found.Length / _plan.RateHertz);
            slab.Events.Add(timed);
            _capture.Ask(timed);
        }

        _capture.Take(slab);
    }

    private void TakeFrequencies(Slab slab, PhaseSpan span)
    {
        while (_nextFrequencyPlace <= span.EndPlace && _nextFrequencyPlace >= 0)
        {
            var cycles = span.CyclesAt(_nextFrequencyPlace);
            if (!double.IsNaN(_frequencyStartCycles))
            {
                slab.Frequencies.Add(new FrequencyValue(
                    Seconds(_nextFrequencyPlace) - FrequencySeconds, (cycles - _frequencyStartCycles) / FrequencySeconds,
                    _frequencyFlags | (_watch.IsRunning ? ValueMarks.Dip : ValueMarks.None)));
            }

            (_frequencyStartCycles, _frequencyFlags) = (cycles, ValueMarks.None);
            _nextFrequencyPlace = TickAfter(_nextFrequencyPlace + 1, FrequencySeconds);
        }
    }

    private void RunFlicker(ReadOnlySpan<float> fresh, long start, Slab slab)
    {
        if (_flicker is null) return;
        var done = 0L;
        var count = fresh.Length / Lane.Count;
        while (start + count >= _nextFlickerPlace)
        {
            var to = (long)Math.Clamp(Math.Round(_nextFlickerPlace) - start, done, count);
            _flicker.Add(fresh[((int)done * Lane.Count)..((int)to * Lane.Count)]);
            done = to;
            CloseFlicker(slab, _nextFlickerPlace, _flickerFlags);
            _flickerFlags = ValueMarks.None;
            _flickerLost = 0;
            _nextFlickerPlace = TickAfter(_nextFlickerPlace + 1, TickSeconds);
        }

        _flicker.Add(fresh[((int)done * Lane.Count)..]);
    }

    private void CloseFlicker(Slab slab, double endPlace, ValueMarks flags)
    {
        if (_flicker is null || endPlace <= _flickerStartPlace) return;
        var pst = default(LaneValues);
        for (var lane = 0; lane < Lane.VoltageCount; lane++)
        {
            var isThere = _plan.Has(lane) && (_flickerLost & (1 << lane)) == 0;
            pst[lane] = isThere ? _flicker.Classes(lane).Pst() : double.NaN;
        }

        slab.Flickers.Add(new FlickerValue(
            Seconds(_flickerStartPlace), Seconds(endPlace), pst, flags | (_flickerLost != 0 ? ValueMarks.Gap : ValueMarks.None)));
        _flicker.ClearClasses();
        _flickerStartPlace = endPlace;
    }

    private double Seconds(double place) => _segmentSeconds + (place / _plan.RateHertz);

    private bool IsTick(double place) => IsTickOf(place, TickSeconds);

    private bool IsTickOf(double place, double seconds)
    {
        var turns = (Seconds(place) + _plan.SecondsAfterTick) / seconds;
        return Math.Abs(turns - Math.Round(turns)) * seconds < 1e-6;
    }

    // The place of the next tick strictly behind a place.
    private double TickAfter(double place, double seconds)
    {
        var clock = Seconds(place) + _plan.SecondsAfterTick;
        var next = (Math.Floor((clock + 1e-6) / seconds) + 1) * seconds;
        return (next - _plan.SecondsAfterTick - _segmentSeconds) * _plan.RateHertz;
    }

    private static int[] BoundLanes(MeasuringPlan plan)
    {
        var lanes = Enumerable.Range(0, Lane.VoltageCount).Where(lane => plan.Has(lane) || plan.Has(lane + Lane.VoltageCount)).ToArray();
        return lanes.Length > 0 ? lanes : [0];
    }
}
