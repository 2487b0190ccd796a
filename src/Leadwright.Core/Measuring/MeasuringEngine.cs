using System.Collections.Concurrent;
using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using Leadwright.Core.Signals;
using Leadwright.Core.Signals.Lanes;
using Leadwright.Core.Signals.Spectra;

namespace Leadwright.Core.Measuring;

/// <summary>One pass over a recording of any length, at bounded memory: everything that the standards define.</summary>
/// <remarks>
/// <para>Frames go in by <see cref="Room"/> and <see cref="Advance"/>, in blocks of any size; rows, events, flicker and frequencies come out at the
/// sink, in order of time. The same frames give the same bits, whatever the size of the blocks and on one thread or two.</para>
/// <para>A NaN or an infinity is a missing sample: what overlaps it is lost on its lane and flagged, the other lanes are as ever.
/// A gap in time ends a segment: call <see cref="Break"/>.</para>
/// <para>Not thread-safe. With <see cref="MeasuringPlan.IsParallel"/> the sink is called from another thread, one call at a time.</para>
/// </remarks>
public sealed class MeasuringEngine : IDisposable
{
    private const int SlabCount = 4;

    private readonly MeasuringPlan _plan;
    private readonly FrontEnd _front;
    private readonly BackEnd _back;
    private readonly List<LostSamples> _gaps = [];
    private readonly BlockingCollection<Slab>? _full;
    private readonly BlockingCollection<Slab>? _free;
    private readonly Task? _worker;
    private readonly CancellationTokenSource _stop = new();
    private Slab _slab;
    private double _segmentSeconds;
    private long _segmentFrames;
    private bool _isComplete;

    /// <summary>Prepares a measurement.</summary>
    /// <param name="plan">What to measure.</param>
    /// <param name="sink">Receives what is found.</param>
    /// <exception cref="ArgumentOutOfRangeException">The rate is too low for a second harmonic, or the nominal frequency is neither 50 nor 60.</exception>
    public MeasuringEngine(MeasuringPlan plan, IMeasurementSink sink)
    {
        ArgumentNullException.ThrowIfNull(plan);
        ArgumentNullException.ThrowIfNull(sink);
        if (plan.NominalHertz is not (50 or 60))
            throw new ArgumentOutOfRangeException(nameof(plan), plan.NominalHertz, "The nominal frequency must be 50 or 60 Hz.");
        _plan = plan;
        _front = new FrontEnd(plan);
        _back = new BackEnd(plan, sink);
        _slab = NewSlab();
        _front.Begin(0);
        Place(_slab, 0);
        if (!plan.IsParallel) return;
        _full = new BlockingCollection<Slab>(SlabCount);
        _free = new BlockingCollection<Slab>(SlabCount);
        for (var index = 1; index < SlabCount; index++) _free.Add(NewSlab(), _stop.Token);
        _worker = Task.Run(WorkOn);
    }

    /// <summary>Where the values of a spectrum stand.</summary>
    public SpectrumRow Row => _back.Row;

    /// <summary>All windows together; whole after <see cref="Complete"/>.</summary>
    public IntervalValues Total => _back.Total;

    /// <summary>Time taken in so far, gaps included, seconds.</summary>
    public double Seconds => _segmentSeconds + (_segmentFrames / _plan.RateHertz);

    /// <summary>Room for the next frames; at least one frame. Fill from its start, then call <see cref="Advance"/>.</summary>
    public Span<float> Room => _slab.Frames.AsSpan(
        (_slab.HistoryFrames + _slab.Count) * Lane.Count, (_slab.NewFrames - _slab.Count) * Lane.Count);

    /// <summary>Takes frames that were written into <see cref="Room"/>.</summary>
    /// <param name="frames">How many.</param>
    /// <exception cref="ArgumentOutOfRangeException">More than there was room for.</exception>
    public void Advance(int frames)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(frames);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(frames, _slab.NewFrames - _slab.Count);
        _slab.Count += frames;
        _segmentFrames += frames;
        if (_slab.Count == _slab.NewFrames) Send(isEnd: false, isLast: false);
    }

    /// <summary>Takes frames by copying them.</summary>
    /// <param name="frames">Whole frames of eight lanes.</param>
    public void Push(ReadOnlySpan<float> frames)
    {
        while (!frames.IsEmpty)
        {
            var room = Room;
            var count = Math.Min(room.Length, frames.Length);
            frames[..count].CopyTo(room);
            frames = frames[count..];
            Advance(count / Lane.Count);
        }
    }

    /// <summary>Ends a segment: the next frames begin at another time.</summary>
    /// <param name="seconds">Time of the next frame after the recording's start, seconds.</param>
    public void Break(double seconds)
    {
        Send(isEnd: true, isLast: false);
        (_segmentSeconds, _segmentFrames) = (seconds, 0);
        _gaps.Clear();
        _front.Begin(seconds);
        Place(_slab, 0);
    }

    /// <summary>Carries the state of the whole pass out, or back into a new engine of the same plan, which then goes on as this one would
    /// have, to the last bit.</summary>
    /// <param name="carrier">Carries.</param>
    /// <remarks>On return the sink has received everything that came of the frames before, and is not being called.</remarks>
    /// <exception cref="ArgumentException">The state is that of another plan or build.</exception>
    public void Carry(StateCarrier carrier)
    {
        ArgumentNullException.ThrowIfNull(carrier);
        Drain();
        var count = _slab.Count;
        carrier.Carry(ref count);
        if (count < 0 || count > _slab.NewFrames) throw new ArgumentException("The state is that of another plan.", nameof(carrier));
        _slab.Count = count;
        carrier.Carry(ref _segmentSeconds);
        carrier.Carry(ref _segmentFrames);
        carrier.Carry(_gaps);
        var (first, seconds) = (_slab.FirstFrame, _slab.SegmentSeconds);
        carrier.Carry(ref first);
        carrier.Carry(ref seconds);
        (_slab.FirstFrame, _slab.SegmentSeconds) = (first, seconds);
        carrier.Carry(_slab.Frames.AsSpan(0, (_slab.HistoryFrames + count) * Lane.Count));
        _front.Carry(carrier);
        _back.Carry(carrier);
    }

    // When all other slabs are back, the second half has nothing left to do.
    private void Drain()
    {
        if (_free is null) return;
        var slabs = new Slab[SlabCount - 1];
        for (var index = 0; index < slabs.Length; index++) slabs[index] = TakeFree();
        foreach (var slab in slabs) _free.Add(slab, _stop.Token);
    }

    /// <summary>Ends the recording: everything that is left goes to the sink.</summary>
    public void Complete()
    {
        if (_isComplete) return;
        _isComplete = true;
        Send(isEnd: true, isLast: true);
        if (_worker is null) return;
        _full!.CompleteAdding();
        _worker.GetAwaiter().GetResult();
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        if (_worker is not null && !_worker.IsCompleted)
        {
            _stop.Cancel();
            try
            {
                _worker.Wait();
            }
            catch (AggregateException)
            {
                // Whoever disposes before the end wants no more news of it.
            }
        }

        _stop.Dispose();
        _full?.Dispose();
        _free?.Dispose();
    }

    private Slab NewSlab() => new(_front.HistoryFrames, _front.NewFrames);

    private void Place(Slab slab, long firstNewFrame)
    {
        slab.FirstFrame = firstNewFrame - slab.HistoryFrames;
        slab.SegmentSeconds = _segmentSeconds;
        if (firstNewFrame == 0) slab.Frames.AsSpan(0, slab.HistoryFrames * Lane.Count).Clear();
    }

    private void Send(bool isEnd, bool isLast)
    {
        var slab = _slab;
        var start = slab.FirstFrame + slab.HistoryFrames;
        TakeOutMissing(slab, start);
        if (start == 0) MirrorStart(slab);
        if (isEnd) MirrorEnd(slab);
        _gaps.RemoveAll(gap => gap.EndPlace < slab.FirstFrame);
        _front.Process(slab, _gaps, isEnd);
        slab.IsLast = isLast;
        if (isLast) Hand(slab);
        else
        {
            var next = _free is null ? NextOwn() : TakeFree();
            next.Reset();
            if (!isEnd)
            {
                // The newest frames go along as history.
                slab.Frames.AsSpan(slab.Count * Lane.Count, slab.HistoryFrames * Lane.Count).CopyTo(next.Frames);
                Place(next, start + slab.Count);
            }

            Hand(slab);
            _slab = next;
        }
    }

    private Slab? _spare;

    private Slab NextOwn()
    {
        var next = _spare ?? NewSlab();
        _spare = _slab;
        return next;
    }

    private Slab TakeFree()
    {
        // A worker that failed gives back no slab: its failure is what the caller must see.
        while (true)
        {
            if (_free!.TryTake(out var slab, 200)) return slab;
            if (_worker!.IsFaulted) _worker.GetAwaiter().GetResult();
        }
    }

    private void Hand(Slab slab)
    {
        if (_full is null) _back.Process(slab);
        else
        {
            if (_worker!.IsFaulted) _worker.GetAwaiter().GetResult();
            _full.Add(slab, _stop.Token);
        }
    }

    private void WorkOn()
    {
        foreach (var slab in _full!.GetConsumingEnumerable(_stop.Token))
        {
            _back.Process(slab);
            if (!slab.IsLast) _free!.Add(slab, _stop.Token);
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private void TakeOutMissing(Slab slab, long start)
    {
        const int Block = 64;
        ref var origin = ref slab.Frames[slab.HistoryFrames * Lane.Count];
        for (var first = 0; first < slab.Count; first += Block)
        {
            var end = Math.Min(first + Block, slab.Count);
            // x − x is zero for every number, and NaN for NaN and the infinities.
            var sum = Vector256<float>.Zero;
            for (var frame = first; frame < end; frame++)
            {
                var value = Lane.Load(ref origin, frame);
                sum += value - value;
            }

            if (!Vector256.EqualsAll(sum, default)) TakeOutMissing(slab, start, first, end);
        }
    }

    private void TakeOutMissing(Slab slab, long start, int first, int end)
    {
        for (var frame = first; frame < end; frame++)
        {
            var values = slab.Frames.AsSpan((slab.HistoryFrames + frame) * Lane.Count, Lane.Count);
            var lanes = 0;
            for (var lane = 0; lane < Lane.Count; lane++)
            {
                if (float.IsFinite(values[lane])) continue;
                lanes |= 1 << lane;
                values[lane] = 0;
            }

            if (lanes == 0) continue;
            var place = start + frame;
            if (_gaps.Count > 0 && _gaps[^1].Lanes == lanes && _gaps[^1].EndPlace == place) _gaps[^1] = _gaps[^1] with { EndPlace = place + 1 };
            else _gaps.Add(new LostSamples(lanes, place, place + 1));
        }
    }

    // The interpolation reaches a few samples beyond both ends of a segment: they are laid out point-symmetric to the last.
    private static void MirrorStart(Slab slab)
    {
        var origin = slab.HistoryFrames * Lane.Count;
        var reach = Math.Min(LaneResampler.TapCount, slab.Count - 1);
        for (var frame = 1; frame <= reach; frame++)
        {
            for (var lane = 0; lane < Lane.Count; lane++)
            {
                slab.Frames[origin - (frame * Lane.Count) + lane] =
                    (2 * slab.Frames[origin + lane]) - slab.Frames[origin + (frame * Lane.Count) + lane];
            }
        }
    }

    private static void MirrorEnd(Slab slab)
    {
        var last = (slab.HistoryFrames + slab.Count - 1) * Lane.Count;
        for (var frame = 1; frame <= LaneResampler.TapCount; frame++)
        {
            for (var lane = 0; lane < Lane.Count; lane++)
            {
                slab.Frames[last + (frame * Lane.Count) + lane] =
                    (2 * slab.Frames[last + lane]) - slab.Frames[last - (frame * Lane.Count) + lane];
            }
        }
    }
}
