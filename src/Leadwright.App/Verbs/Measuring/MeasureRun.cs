using System.Collections.Immutable;
using System.Diagnostics;
using System.Globalization;
using Leadwright.Core.Measuring;
using Leadwright.Core.Signals;
using Leadwright.Core.Signals.Events;
using Leadwright.Core.Signals.Flicker;
using Leadwright.Core.Signals.Lanes;
using Leadwright.Core.Signals.Spectra;
using Leadwright.Reports.Measuring;

namespace Leadwright.App.Verbs.Measuring;

/// <summary>Measures one recording from beginning to end.</summary>
public sealed class MeasureRun : IMeasurementSink
{
    private readonly MeasureSubject _subject;
    private readonly MeasureRequest _request;
    private readonly MeasureTables _tables;
    private readonly List<TimedEvent> _events = [];
    private readonly List<Flicker> _flickers = [];
    private readonly MeasureCheckpoint? _checkpoint;
    private bool _isStarted;
    private long _lastCheckpoint = Stopwatch.GetTimestamp();
    private double _lowestHertz = double.NaN, _highestHertz = double.NaN;

    private MeasureRun(MeasureSubject subject, MeasureRequest request, MeasureTables tables)
    {
        (_subject, _request, _tables) = (subject, request, tables);
        if (request.Output is not null && MeasureTables.MayResume(request.Output)) _checkpoint = MeasureCheckpoint.For(subject, request);
    }

    /// <summary>Measures a recording.</summary>
    /// <param name="subject">The recording; its source is disposed at the end.</param>
    /// <param name="request">What is asked.</param>
    /// <param name="progress">Receives the share done, 0 to 1, some times a second.</param>
    /// <param name="cancellation">Ends it early: nothing is written.</param>
    /// <exception cref="Formats.FormatReadException">The data can't be used.</exception>
    public static MeasureDocument Measure(
        MeasureSubject subject, MeasureRequest request, Action<double> progress, CancellationToken cancellation)
    {
        ArgumentNullException.ThrowIfNull(subject);
        ArgumentNullException.ThrowIfNull(request);
        ArgumentNullException.ThrowIfNull(progress);
        using var source = subject.Source;
        using var tables = new MeasureTables(subject, request);
        var run = new MeasureRun(subject, request, tables);
        using var engine = new MeasuringEngine(subject.Plan, run);
        try
        {
            var isResumed = run.Start(engine);
            var files = MeasureCheckpoint.FilesOf(subject.Path);
            run.Feed(engine, progress, cancellation);
            if (MeasureCheckpoint.FilesOf(subject.Path) != files) throw FileStamp.Changed(subject.Path);
            engine.Complete();
            run.RefuseNothing(engine);
            var written = tables.Complete();
            run._checkpoint?.Delete();
            var document = run.Document(engine, written);
            return request.IsResumed && !isResumed
                ? document with { Notes = document.Notes.Add("There was nothing to resume: the recording was measured from its start.") }
                : document;
        }
        catch (Exception failure) when (failure is not OperationCanceledException && run._isStarted)
        {
            // Bad data further on: nothing half-written may be left.
            tables.IsKept = false;
            run._checkpoint?.Delete();
            throw;
        }
    }

    /// <inheritdoc/>
    public void TakeInterval(IntervalValues values) => _tables.Write(values);

    /// <inheritdoc/>
    public void TakeEvent(TimedEvent found)
    {
        _events.Add(found);
        _tables.Write(Described(found));
    }

    private EventMeasurement Described(TimedEvent found)
    {
        var lanes = Enumerable.Range(0, Lane.Count).Where(lane => (found.Event.Lanes & (1 << lane)) != 0);
        var kind = EventNames.Of(found.Event.Kind);
        return new EventMeasurement(
            kind, [.. lanes.Select(lane => _subject.Names[lane])], found.StartSeconds, found.Seconds, 100 * found.Event.ExtremeFraction,
            found.Event.Kind == VoltageEventKind.RapidChange ? 100 * found.Event.SteadyFraction : double.NaN, found.Event.IsCutShort);
    }

    /// <inheritdoc/>
    public void TakeWaveform(CapturedWaveform waveform) => _tables.Write(waveform);

    /// <inheritdoc/>
    public void TakeFrequency(double startSeconds, double hertz, ValueMarks flags)
    {
        if (flags != ValueMarks.None) return;
        _lowestHertz = double.IsNaN(_lowestHertz) ? hertz : Math.Min(_lowestHertz, hertz);
        _highestHertz = double.IsNaN(_highestHertz) ? hertz : Math.Max(_highestHertz, hertz);
    }

    /// <inheritdoc/>
    public void TakeFlicker(double startSeconds, ReadOnlySpan<double> pst, ValueMarks flags) =>
        _flickers.Add(new Flicker(startSeconds, pst[0], pst[1], pst[2], pst[3], flags));

    private void Feed(MeasuringEngine engine, Action<double> progress, CancellationToken cancellation)
    {
        var source = _subject.Source;
        while (true)
        {
            if (cancellation.IsCancellationRequested || Stopwatch.GetElapsedTime(_lastCheckpoint) >= _request.CheckpointEvery) Keep(engine);
            cancellation.ThrowIfCancellationRequested();
            var count = source.Read(engine.Room);
            if (count > 0)
            {
                foreach (var lane in _subject.Derived) MeasureFeed.Derive(engine.Room[..(count * Lane.Count)], lane);
                engine.Advance(count);
                progress(source.Share);
            }
            else if (source.NextSegmentSeconds is { } seconds) engine.Break(seconds);
            else return;
        }
    }

    // True when it goes on with an interrupted run.
    private bool Start(MeasuringEngine engine)
    {
        // Until the state is in, a refusal must leave what the interrupted run left.
        _tables.IsKept = _request.IsResumed;
        var state = _request.IsResumed ? _checkpoint?.Read() : null;
        if (state is null)
        {
            _checkpoint?.Delete();
            _tables.IsKept = false;
            _tables.Start(engine.Row, isResumed: false);
            _isStarted = true;
            return false;
        }

        try
        {
            _tables.Start(engine.Row, isResumed: true);
            Carry(engine, new StateCarrier(state.Value));
        }
        catch (Exception failure) when (failure is ArgumentException or InvalidDataException or InputRefusedException)
        {
            throw _checkpoint!.Refusal("the unfinished tables beside it don't go with it", failure);
        }

        return _isStarted = true;
    }

    // The tables go to the disk first: a checkpoint must never promise rows that are not there.
    private void Keep(MeasuringEngine engine)
    {
        if (_checkpoint is null) return;
        var carrier = new StateCarrier();
        Carry(engine, carrier);
        _checkpoint.Write(carrier.Bytes);
        _tables.IsKept = true;
        _lastCheckpoint = Stopwatch.GetTimestamp();
    }

    private void Carry(MeasuringEngine engine, StateCarrier carrier)
    {
        engine.Carry(carrier);
        _subject.Source.Carry(carrier);
        carrier.Carry(_events);
        carrier.Carry(_flickers);
        carrier.Carry(ref _lowestHertz);
        carrier.Carry(ref _highestHertz);
        _tables.Carry(carrier);
    }

    private void RefuseNothing(MeasuringEngine engine)
    {
        if (engine.Total.WindowCount == 0)
        {
            throw new InputRefusedException(ExitCode.InputUnusable, string.Create(CultureInfo.InvariantCulture,
                $"Cannot measure '{_subject.Path}': it holds {engine.Seconds:0.###} s without a gap, and one window of {(_subject.Plan.NominalHertz < 55 ? "10" : "12")} cycles is the least."));
        }
    }

    private MeasureDocument Document(MeasuringEngine engine, ImmutableArray<string> written)
    {
        var total = engine.Total;
        var phases = _subject.Plan.PhaseCount;
        var hasPower = double.IsFinite(total.Of(Scalars.Phase));
        return new MeasureDocument
        {
            File = _subject.Path,
            Service = _subject.ServiceName,
            Nominal = _subject.Nominal,
            Start = _subject.Source.Start,
            Seconds = engine.Seconds,
            FrequencyHertz = total.Of(Scalars.Frequency),
            LowestHertz = _lowestHertz,
            HighestHertz = _highestHertz,
            UnbalancePercent = 100 * total.Of(Scalars.Unbalance),
            ZeroPercent = 100 * total.Of(Scalars.Unbalance + 1),
            DeviationPercent = 100 * total.Of(Scalars.Unbalance + 2),
            Channels = [.. Enumerable.Range(0, Lane.Count).Where(_subject.Plan.Has).Select(lane => ChannelOf(total, lane))],
            Phases = hasPower ? [.. Enumerable.Range(0, phases).Select(phase => PhaseOf(total, phase))] : [],
            Watts = total.Of(Scalars.Total),
            Vars = total.Of(Scalars.Total + 2),
            VoltAmperes = total.Of(Scalars.Total + (phases == 3 ? 3 : 11)),
            ImportWattHours = total.ImportWattHours,
            ExportWattHours = total.ExportWattHours,
            WindowCount = total.WindowCount,
            FlaggedCount = total.FlaggedCount,
            Events = [.. _events.Select(Described)],
            Written = written,
            Notes = [.. _subject.Notes, .. _subject.Source.Warnings.Select(warning => warning.Says)],
        };
    }

    private ChannelMeasurement ChannelOf(IntervalValues total, int lane)
    {
        var isVoltage = lane < Lane.VoltageCount;
        var whole = _flickers.Where(value => (value.Flags & ValueMarks.Partial) == 0).Select(value => value.Of(lane % Lane.VoltageCount)).ToImmutableArray();
        return new ChannelMeasurement(_subject.Names[lane], isVoltage ? "V" : "A")
        {
            Rms = total.Rms(SpectrumRow.Rms, lane),
            Least = total.HalfCycleLeast(lane),
            Most = total.HalfCycleMost(lane),
            ThdPercent = 100 * total.Rms(SpectrumRow.SubgroupThd, lane),
            TddPercent = !isVoltage && _request.DemandAmperes > 0 ? 100 * total.HarmonicRms(lane) / _request.DemandAmperes : double.NaN,
            Direct = total.Direct(lane),
            Crest = total.Crest(lane),
            LossFactor = isVoltage ? double.NaN : total.LossFactor(lane),
            Signalling = isVoltage && _subject.Plan.SignallingHertz > 0 ? total.Rms(SpectrumRow.Signalling, lane) : double.NaN,
            Pst = isVoltage ? whole : [],
            Plt = isVoltage ? PltOf(lane) : [],
        };
    }

    // Two hours by the clock, twelve values each.
    private ImmutableArray<double> PltOf(int lane) =>
    [
        .. _flickers.Where(value => (value.Flags & ValueMarks.Partial) == 0)
            .GroupBy(value => (long)Math.Floor((value.Start + _subject.Plan.SecondsAfterTick + 0.001) / 7200))
            .Where(group => group.Count() == 12)
            .Select(group => FlickerClassifier.Plt(group.Select(value => value.Of(lane)).ToArray())),
    ];

    private static PhaseMeasurement PhaseOf(IntervalValues total, int phase)
    {
        var first = Scalars.Phase + (phase * Scalars.PhaseCount);
        return new PhaseMeasurement(
            phase + 1, total.Of(first), total.Of(first + 2), total.Of(first + 3), total.Of(first + 1) / total.Of(first + 4));
    }

    private readonly record struct Flicker(double Start, double First, double Second, double Third, double Fourth, ValueMarks Flags)
    {
        public double Of(int lane) => lane switch { 0 => First, 1 => Second, 2 => Third, _ => Fourth };
    }
}
