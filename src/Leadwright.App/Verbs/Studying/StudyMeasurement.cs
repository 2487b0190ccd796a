using System.Globalization;
using Leadwright.App.Verbs.Measuring;
using Leadwright.Core.Circuits;
using Leadwright.Core.Logs;
using Leadwright.Core.Measuring;
using Leadwright.Core.Signals.Events;
using Leadwright.Core.Signals.Lanes;
using Leadwright.Core.Signals.Spectra;
using Leadwright.Core.Studies;
using Leadwright.Core.Studies.Events;
using Leadwright.Reports.Measuring;

namespace Leadwright.App.Verbs.Studying;

/// <summary>Measures a sampled recording into a log of intervals.</summary>
public sealed class StudyMeasurement : IMeasurementSink
{
    // Two whole intervals of a minute hold one by the clock, however the recording lies on it.
    private const double MostSecondsOfShort = 1200;

    private readonly MeasureSubject _subject;
    private readonly DateTime _start;
    private readonly List<LogColumn> _columns = [];
    private readonly List<Func<IntervalValues, double>> _cells = [];
    private readonly List<long> _starts = [];
    private readonly List<double[]> _rows = [];
    private readonly List<bool> _flagged = [];
    private readonly List<(long Start, double Hertz, bool IsFlagged)> _frequencies = [];
    private readonly List<(long Start, double[] Pst, bool IsFlagged)> _flickers = [];
    private readonly List<(StudyEvent Event, double StartSeconds, VoltageEventKind Kind)> _events = [];
    private readonly Dictionary<(double StartSeconds, VoltageEventKind Kind), EventShape> _shapes = [];
    private int _partialCount;
    private string? _shortNote;

    private StudyMeasurement(MeasureSubject subject) => (_subject, _start) = (subject, subject.Source.Start ?? default);

    /// <summary>Measures a recording.</summary>
    /// <param name="path">The file.</param>
    /// <param name="request">What is asked.</param>
    /// <param name="progress">Receives the share done, 0 to 1.</param>
    /// <param name="cancellation">Ends it early.</param>
    /// <exception cref="InputRefusedException">It can't be used.</exception>
    public static StudySubject Measure(string path, StudyRequest request, Action<double> progress, CancellationToken cancellation)
    {
        ArgumentNullException.ThrowIfNull(request);
        var sink = MeasureIn(path, request, request.Interval, progress, cancellation, out var seconds);
        if (sink._rows.Count > 0 && sink._partialCount < sink._rows.Count) return sink.Subject(request);
        // Not one interval is whole: the recording is too short for them, and shorter ones are measured.
        var shorter = seconds >= 4 * 3.2 ? MeasuringInterval.ThreeSeconds : MeasuringInterval.Cycles;
        if (seconds <= MostSecondsOfShort && request.Interval.Windows != 1)
        {
            var again = MeasureIn(path, request, shorter, progress, cancellation, out _);
            if (again._rows.Count > again._partialCount)
            {
                again._shortNote = string.Create(
                    CultureInfo.InvariantCulture,
                    $"The recording holds {seconds:0.###} s and not one whole interval of {(request.Interval.Seconds > 0 ? $"{request.Interval.Seconds:0.###} s" : $"{request.Interval.Windows} windows")}: it was measured in {(shorter.Windows == 1 ? "windows of 10 or 12 cycles, some 0.2 s" : "stretches of 150 or 180 cycles, some 3 s")}.");
                return again.Subject(request);
            }

            if (again._rows.Count > 0) sink = again;
        }

        if (sink._rows.Count > 0) return sink.Subject(request);
        throw new InputRefusedException(
            ExitCode.InputUnusable, string.Create(CultureInfo.InvariantCulture, $"Cannot study '{path}': it holds {seconds:0.###} s without a gap, less than one measuring window."));
    }

    private static StudyMeasurement MeasureIn(
        string path, StudyRequest request, MeasuringInterval interval, Action<double> progress, CancellationToken cancellation, out double seconds)
    {
        var subject = MeasureInput.Open(path, new MeasureRequest(request) { Interval = interval }, cancellation);
        using var source = subject.Source;
        var sink = new StudyMeasurement(subject);
        using var engine = new MeasuringEngine(subject.Plan, sink);
        sink.Lay(engine.Row);
        MeasureFeed.Run(subject, engine, progress, cancellation);
        engine.Complete();
        cancellation.ThrowIfCancellationRequested();
        seconds = engine.Seconds;
        return sink;
    }

    /// <inheritdoc/>
    public void TakeInterval(IntervalValues values)
    {
        ArgumentNullException.ThrowIfNull(values);
        var isPartial = (values.Flags & ValueMarks.Partial) != 0;
        if (isPartial) _partialCount++;
        var start = TickOf(values.StartSeconds);
        if (_starts.Count > 0 && start <= _starts[^1]) return;
        _starts.Add(start);
        // Of an interval that the recording covers in part, power says nothing of the energy of the whole.
        _rows.Add([.. _cells.Select((cell, index) => isPartial && _columns[index].Quantity is LogQuantity.ActivePower or LogQuantity.ReactivePower ? double.NaN : cell(values))]);
        _flagged.Add((values.Flags & (ValueMarks.Dip | ValueMarks.Swell | ValueMarks.Interruption)) != 0);
    }

    /// <inheritdoc/>
    public void TakeEvent(TimedEvent found)
    {
        var lanes = Enumerable.Range(0, Lane.Count).Where(lane => (found.Event.Lanes & (1 << lane)) != 0);
        _events.Add((new StudyEvent(
            EventNames.Of(found.Event.Kind), [.. lanes.Select(lane => _subject.Names[lane])], At(found.StartSeconds), found.Seconds, 100 * found.Event.ExtremeFraction)
        {
            IsCutShort = found.Event.IsCutShort,
        }, found.StartSeconds, found.Event.Kind));
    }

    /// <inheritdoc/>
    public void TakeWaveform(CapturedWaveform waveform)
    {
        if (EventShape.Of(waveform, _subject.Plan) is { } shape) _shapes[(waveform.Event.StartSeconds, waveform.Event.Event.Kind)] = shape;
    }

    /// <inheritdoc/>
    public void TakeFrequency(double startSeconds, double hertz, ValueMarks flags) =>
        _frequencies.Add((At(startSeconds).Ticks, (flags & (ValueMarks.Partial | ValueMarks.FrequencyHeld)) == 0 ? hertz : double.NaN, (flags & ValueMarks.Interruption) != 0));

    /// <inheritdoc/>
    public void TakeFlicker(double startSeconds, ReadOnlySpan<double> pst, ValueMarks flags) =>
        _flickers.Add((At(startSeconds).Ticks, (flags & ValueMarks.Partial) == 0 ? pst.ToArray() : [.. Enumerable.Repeat(double.NaN, pst.Length)],
            (flags & (ValueMarks.Dip | ValueMarks.Swell | ValueMarks.Interruption)) != 0));

    private DateTime At(double seconds) => _start.AddTicks((long)Math.Round(seconds * TimeSpan.TicksPerSecond));

    // The tick on which an interval began, though the recording may have begun within it.
    private long TickOf(double seconds)
    {
        var exact = At(seconds).Ticks;
        var length = (long)(_subject.Plan.Interval.Seconds * TimeSpan.TicksPerSecond);
        return length > 0 ? (exact + (TimeSpan.TicksPerSecond / 2)) / length * length : exact;
    }

    private void Lay(SpectrumRow row)
    {
        var plan = _subject.Plan;
        for (var lane = 0; lane < Lane.Count; lane++)
        {
            if (!plan.Has(lane)) continue;
            var (at, isVoltage) = (lane, lane < Lane.VoltageCount);
            var place = PlaceOf(lane, plan);
            var name = _subject.Names[lane];
            var size = isVoltage ? LogQuantity.Voltage : LogQuantity.Current;
            Add(new LogColumn($"{name}_rms", size, place), values => values.Rms(SpectrumRow.Rms, at));
            Add(new LogColumn($"{name}_min", size, place, LogStatistic.Minimum), values => values.HalfCycleLeast(at));
            Add(new LogColumn($"{name}_max", size, place, LogStatistic.Maximum), values => values.HalfCycleMost(at));
            Add(new LogColumn($"{name}_thd", isVoltage ? LogQuantity.VoltageDistortion : LogQuantity.CurrentDistortion, place), values => 100 * values.Rms(SpectrumRow.SubgroupThd, at));
            if (!isVoltage) Add(new LogColumn($"{name}_k_factor", LogQuantity.KFactor, place), values => values.LossFactor(at));
            for (var order = 2; order <= row.HighestOrder; order++)
            {
                var index = SpectrumRow.Subgroup(order);
                Add(new LogColumn($"{name}_h{order}", isVoltage ? LogQuantity.VoltageHarmonic : LogQuantity.CurrentHarmonic, place) { Order = order },
                    values => 100 * values.Rms(index, at) / values.Rms(SpectrumRow.Fundamental, at));
            }
        }

        Add(new LogColumn("frequency", LogQuantity.Frequency), values => values.Of(Scalars.Frequency));
        Add(new LogColumn("u2", LogQuantity.VoltageUnbalance), values => 100 * values.Of(Scalars.Unbalance));
        Add(new LogColumn("u_deviation", LogQuantity.Other) { OtherUnit = "%" }, values => 100 * values.Of(Scalars.Unbalance + 2));
        Add(new LogColumn("P", LogQuantity.ActivePower), values => values.Of(Scalars.Total));
        Add(new LogColumn("Q", LogQuantity.ReactivePower), values => values.Of(Scalars.Total + 2));
        // On three wires the power of one line by itself means nothing.
        if (plan.IsThreeWire) return;
        for (var phase = 0; phase < plan.PhaseCount; phase++)
        {
            var first = Scalars.Phase + (phase * Scalars.PhaseCount);
            Add(new LogColumn($"P{phase + 1}", LogQuantity.ActivePower, LogPlace.Phase1 + phase), values => values.Of(first));
            Add(new LogColumn($"Q{phase + 1}", LogQuantity.ReactivePower, LogPlace.Phase1 + phase), values => values.Of(first + 2));
        }
    }

    private static LogPlace PlaceOf(int lane, MeasuringPlan plan) => lane switch
    {
        3 or 7 => LogPlace.Neutral,
        < Lane.VoltageCount => (plan.IsThreeWire ? LogPlace.Pair12 : LogPlace.Phase1) + lane,
        _ => LogPlace.Phase1 + (lane - Lane.VoltageCount),
    };

    private void Add(LogColumn column, Func<IntervalValues, double> cell)
    {
        _columns.Add(column);
        _cells.Add(cell);
    }

    private StudySubject Subject(StudyRequest request)
    {
        var plan = _subject.Plan;
        // Columns of which nothing was measured (no currents, one phase) are not there.
        var kept = Enumerable.Range(0, _columns.Count).Where(index => _rows.Exists(row => double.IsFinite(row[index]))).ToArray();
        var seconds = plan.Interval.Seconds > 0 ? plan.Interval.Seconds : plan.Interval.Windows * (plan.NominalHertz < 55 ? 10 : 12) / plan.NominalHertz;
        var log = new IntervalLog(
            [.. kept.Select(index => _columns[index])], [.. _starts], [.. kept.Select(index => _rows.Select(row => row[index]).ToArray())], seconds);
        var nominal = _subject.Nominal is { } text && NominalVoltage.TryParse(text, plan.Service, out var parsed) ? parsed : null;
        var data = new StudyData(log)
        {
            Flagged = _flagged.ToArray(), Service = plan.Service, Nominal = nominal, NominalHertz = plan.NominalHertz, Others = [.. Others(plan)],
        };
        var notes = _subject.Notes.ToBuilder();
        notes.AddRange(_subject.Source.Warnings.Select(warning => warning.Says));
        if (_subject.Source.Start is null) notes.Add("The recording does not state its start: times are given as the time since then.");
        if (_shortNote is { } note) notes.Add(note);
        if (_partialCount > 0) notes.Add($"{_partialCount} intervals at the ends of the recording are covered in part: their power is not counted. A shorter --interval loses less.");
        if (request.Interval.Seconds > 600) notes.Add("Intervals of more than 10 min: limits on values of 10 min are not judged.");
        return new StudySubject(_subject.Path, data, _subject.ServiceName, plan.DeclaredVolts > 0 ? EventGroups.Polyphase(_events.Select(WithShape)) : null, notes.ToImmutable());
    }

    private StudyEvent WithShape((StudyEvent Event, double StartSeconds, VoltageEventKind Kind) found) =>
        _shapes.TryGetValue((found.StartSeconds, found.Kind), out var shape)
            ? found.Event with { Type = shape.Type, Origin = shape.Origin, Cause = shape.Cause, Capacitor = shape.Capacitor } : found.Event;

    private IEnumerable<StudyData> Others(MeasuringPlan plan)
    {
        if (_frequencies.Count > 0 && Rising(_frequencies.Select(value => value.Start)))
        {
            yield return new StudyData(new IntervalLog(
                [new LogColumn("frequency", LogQuantity.Frequency)], [.. _frequencies.Select(value => value.Start)], [[.. _frequencies.Select(value => value.Hertz)]], 10))
            {
                Flagged = _frequencies.Select(value => value.IsFlagged).ToArray(), NominalHertz = plan.NominalHertz, Service = plan.Service,
            };
        }

        if (_flickers.Count == 0 || !Rising(_flickers.Select(value => value.Start))) yield break;
        var lanes = Enumerable.Range(0, 3).Where(plan.Has).ToArray();
        yield return new StudyData(new IntervalLog(
            [.. lanes.Select(lane => new LogColumn($"{_subject.Names[lane]}_pst", LogQuantity.ShortTermFlicker, PlaceOf(lane, plan)))],
            [.. _flickers.Select(value => value.Start)], [.. lanes.Select(lane => _flickers.Select(value => value.Pst[lane]).ToArray())], 600))
        {
            Flagged = _flickers.Select(value => value.IsFlagged).ToArray(), NominalHertz = plan.NominalHertz, Service = plan.Service,
        };
    }

    private static bool Rising(IEnumerable<long> starts)
    {
        var last = long.MinValue;
        foreach (var start in starts)
        {
            if (start <= last) return false;
            last = start;
        }

        return true;
    }
}
