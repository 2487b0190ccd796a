using Leadwright.Core.Signals;
using Leadwright.Core.Signals.Lanes;
using Leadwright.Core.Signals.Spectra;
using Leadwright.Core.Signals.Windows;

namespace Leadwright.Core.Measuring;

/// <summary>The second half of the work, window by window: spectra, powers, rows.</summary>
internal sealed class BackEnd
{
    private readonly MeasuringPlan _plan;
    private readonly IMeasurementSink _sink;
    private readonly WindowMeter _meter;
    private readonly WindowValues _values;
    private readonly RowBuilder _rows;
    private readonly bool _hasPower;

    public BackEnd(MeasuringPlan plan, IMeasurementSink sink)
    {
        (_plan, _sink) = (plan, sink);
        _meter = new WindowMeter(plan.RateHertz, plan.NominalHertz, plan.HighestOrder, plan.SignallingHertz, plan.SignallingLines);
        _values = new WindowValues(_meter.Row.Count);
        _rows = new RowBuilder(plan, _meter.Row, sink);
        Total = new IntervalValues(_meter.Row, plan.Lanes);
        var phases = (1 << plan.PhaseCount) - 1;
        _hasPower = (plan.Lanes & phases) == phases && ((plan.Lanes >> Lane.VoltageCount) & phases) == phases;
    }

    public SpectrumRow Row => _meter.Row;

    /// <summary>All windows together.</summary>
    public IntervalValues Total { get; }

    /// <summary>Carries the state out or in.</summary>
    public void Carry(StateCarrier carrier)
    {
        _rows.Carry(carrier);
        Total.Carry(carrier);
    }

    public void Process(Slab slab)
    {
        foreach (var found in slab.Events) _sink.TakeEvent(found);
        foreach (var waveform in slab.Waveforms) _sink.TakeWaveform(waveform);
        foreach (var value in slab.Frequencies) _sink.TakeFrequency(value.StartSeconds, value.Hertz, value.Flags);
        Span<double> pst = stackalloc double[Lane.VoltageCount];
        foreach (var value in slab.Flickers)
        {
            for (var lane = 0; lane < pst.Length; lane++) pst[lane] = value.Pst[lane];
            _sink.TakeFlicker(value.StartSeconds, pst, value.Flags);
            _rows.TakeFlicker(value);
        }

        foreach (ref var job in System.Runtime.InteropServices.CollectionsMarshal.AsSpan(slab.Windows))
        {
            Measure(slab, ref job);
            Total.Add(_values);
            _rows.Add(_values);
        }

        if (slab.IsLast) _rows.Complete();
    }

    private void Measure(Slab slab, ref WindowJob job)
    {
        _meter.WindowSeconds = job.EndSeconds - job.StartSeconds;
        _meter.Measure(slab.WithTail, slab.FirstFrame, job.Span);
        _meter.Squares.CopyTo(_values.Squares);
        (_values.StartSeconds, _values.EndSeconds, _values.OwnSeconds) = (job.StartSeconds, job.EndSeconds, job.OwnSeconds);
        (_values.Flags, _values.LostLanes) = (job.Flags, job.LostLanes);
        for (var lane = 0; lane < Lane.Count; lane++)
        {
            var rms = Math.Sqrt(_meter.MeanSquares[lane]);
            _values.Direct[lane] = _meter.Direct(lane);
            _values.Peak[lane] = _meter.Peaks[lane];
            _values.Crest[lane] = rms > 0 ? _meter.Peaks[lane] / rms : 0;
            (_values.HalfCycleLeast[lane], _values.HalfCycleMost[lane]) = (job.Least[lane], job.Most[lane]);
        }

        var scalars = _values.Scalars;
        Array.Fill(scalars, double.NaN);
        scalars[Scalars.Frequency] = job.Hertz;
        WindowPower.Unbalance(_plan, _meter, job.LostLanes, scalars);
        if (_hasPower) WindowPower.Powers(_plan, _meter, job.LostLanes, scalars);
    }
}
