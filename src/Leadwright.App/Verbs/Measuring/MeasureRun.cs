using System.Collections.Immutable;
using System.Globalization;
using Leadwright.Core.Measuring;
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
    private readonly List<EventMeasurement> _events = [];
    private readonly List<(double Start, double[] Pst, ValueMarks Flags)> _flickers = [];
    private double _lowestHertz = double.NaN, _highestHertz = double.NaN;

    private MeasureRun(MeasureSubject subject, MeasureRequest request, MeasureTables tables) =>
        (_subject, _request, _tables) = (subject, request, tables);

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
        tables.Start(engine.Row);
        MeasureFeed.Run(subject, engine, progress, cancellation);
        engine.Complete();
        cancellation.ThrowIfCancellationRequested();
        run.RefuseNothing(engine);
        var written = tables.Complete();
        return run.Document(engine, written);
    }

    /// <inheritdoc/>
    public void TakeInterval(IntervalValues values) => _tables.Write(values);

    /// <inheritdoc/>
    public void TakeEvent(TimedEvent found)
    {
        var lanes = Enumerable.Range(0, Lane.Count).Where(lane => (found.Event.Lanes & (1 << lane)) != 0);
        var kind = EventNames.Of(found.Event.Kind);
        var entry = new EventMeasurement(
            kind, [.. lanes.Select(lane => _subject.Names[lane])], found.StartSeconds, found.Seconds, 100 * found.Event.ExtremeFraction,
            found.Event.Kind == VoltageEventKind.RapidChange ? 100 * found.Event.SteadyFraction : double.NaN, found.Event.IsCutShort);
        _events.Add(entry);
        _tables.Write(entry);
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
        _flickers.Add((startSeconds, pst.ToArray(), flags));

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
            Events = [.. _events],
            Written = written,
            Notes = [.. _subject.Notes, .. _subject.Source.Warnings.Select(warning => warning.Says)],
        };
    }

    private ChannelMeasurement ChannelOf(IntervalValues total, int lane)
    {
        var isVoltage = lane < Lane.VoltageCount;
        var whole = _flickers.Where(value => (value.Flags & ValueMarks.Partial) == 0).Select(value => value.Pst[lane % Lane.VoltageCount]).ToImmutableArray();
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
            .Select(group => FlickerClassifier.Plt(group.Select(value => value.Pst[lane]).ToArray())),
    ];

    private static PhaseMeasurement PhaseOf(IntervalValues total, int phase)
    {
        var first = Scalars.Phase + (phase * Scalars.PhaseCount);
        return new PhaseMeasurement(
            phase + 1, total.Of(first), total.Of(first + 2), total.Of(first + 3), total.Of(first + 1) / total.Of(first + 4));
    }
}
