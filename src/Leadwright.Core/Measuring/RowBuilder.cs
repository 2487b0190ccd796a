using Leadwright.Core.Signals;
using Leadwright.Core.Signals.Lanes;
using Leadwright.Core.Signals.Spectra;

namespace Leadwright.Core.Measuring;

/// <summary>Gathers windows into rows.</summary>
/// <remarks>
/// Rows by the clock hold the windows that start within them. Rows of several times ten minutes, two hours among them, are made from ten-minute values
/// (the same clause): each whole one counts once, one that the recording covers in part by its share of ten minutes. Rows of counted windows start afresh at every ten-minute tick; the one that
/// the tick falls into takes windows of the new series until it is full, so that the two overlap (IEC 61000-4-30 clause 4.5, from memory).
/// </remarks>
internal sealed class RowBuilder
{
    // The start of a window may lie a hair before the tick that it was set to.
    private const double TickTolerance = 1e-4;
    private const double GapSeconds = 0.05;
    private const double TenMinutes = 600;

    // A row lacks what two windows don't cover: that much stands over at either end.
    private const double EndsSeconds = 0.5;

    private readonly MeasuringPlan _plan;
    private readonly IMeasurementSink _sink;
    private readonly List<FlickerValue> _flickers = [];
    private IntervalValues _current;
    private IntervalValues _overlapping;
    private readonly IntervalValues _tenMinutes;
    private readonly bool _isOfTenMinutes;
    private bool _hasOverlapping;
    private double _ownSeconds;
    private double _tenOwnSeconds;
    private long _tenRow = long.MinValue;
    private long _clockRow = long.MinValue;
    private long _tick = long.MinValue;

    public RowBuilder(MeasuringPlan plan, SpectrumRow row, IMeasurementSink sink)
    {
        (_plan, _sink) = (plan, sink);
        _current = new IntervalValues(row, plan.Lanes);
        _overlapping = new IntervalValues(row, plan.Lanes);
        _tenMinutes = new IntervalValues(row, plan.Lanes);
        _isOfTenMinutes = plan.Interval.Seconds > TenMinutes && plan.Interval.Seconds % TenMinutes == 0;
    }

    /// <summary>Carries the state out or in.</summary>
    public void Carry(StateCarrier carrier)
    {
        carrier.Carry(_flickers);
        _current.Carry(carrier);
        _overlapping.Carry(carrier);
        _tenMinutes.Carry(carrier);
        carrier.Carry(ref _hasOverlapping);
        carrier.Carry(ref _ownSeconds);
        carrier.Carry(ref _tenOwnSeconds);
        carrier.Carry(ref _tenRow);
        carrier.Carry(ref _clockRow);
        carrier.Carry(ref _tick);
    }

    public void TakeFlicker(in FlickerValue value) => _flickers.Add(value);

    public void Add(WindowValues window)
    {
        if (_plan.Interval.Windows > 0) AddCounted(window);
        else AddClocked(window);
    }

    public void Complete()
    {
        if (_plan.Interval.Windows == 0) FinishClocked(isEnd: true);
        else
        {
            if (_hasOverlapping) Emit(_overlapping, isShort: true);
            if (_current.WindowCount > 0) Emit(_current, isShort: true);
        }
    }

    private void AddCounted(WindowValues window)
    {
        if (_current.WindowCount > 0 && window.StartSeconds - _current.EndSeconds > GapSeconds) CutAtGap();
        var tick = TickOf(window.StartSeconds, 600);
        if (tick != _tick && _current.WindowCount > 0)
        {
            if (_hasOverlapping) Emit(_overlapping, isShort: true);
            (_current, _overlapping, _hasOverlapping) = (_overlapping, _current, true);
            _current.Clear(window.StartSeconds);
        }

        _tick = tick;
        if (_hasOverlapping)
        {
            _overlapping.Add(window);
            if (_overlapping.WindowCount == _plan.Interval.Windows)
            {
                Emit(_overlapping, isShort: false);
                _hasOverlapping = false;
            }
        }

        if (_current.WindowCount == 0) _current.Clear(window.StartSeconds);
        _current.Add(window);
        if (_current.WindowCount < _plan.Interval.Windows) return;
        Emit(_current, isShort: false);
        _current.Clear(window.EndSeconds);
    }

    // A row never reaches across a gap.
    private void CutAtGap()
    {
        if (_hasOverlapping) Emit(_overlapping, isShort: true);
        Emit(_current, isShort: true);
        _hasOverlapping = false;
        _current.Clear(_current.EndSeconds);
    }

    private void AddClocked(WindowValues window)
    {
        var row = TickOf(window.StartSeconds, _plan.Interval.Seconds);
        if (row != _clockRow)
        {
            FinishClocked(isEnd: false);
            _clockRow = row;
            var start = (row * _plan.Interval.Seconds) - _plan.SecondsAfterTick;
            _current.Clear(Math.Max(start, 0));
            _ownSeconds = 0;
        }

        _ownSeconds += window.OwnSeconds;
        if (_isOfTenMinutes) AddToTenMinutes(window);
        else _current.Add(window);
    }

    private void AddToTenMinutes(WindowValues window)
    {
        var row = TickOf(window.StartSeconds, TenMinutes);
        if (row != _tenRow)
        {
            FinishTenMinutes();
            _tenRow = row;
            _tenMinutes.Clear(window.StartSeconds);
        }

        _tenMinutes.Add(window);
        _tenOwnSeconds += window.OwnSeconds;
    }

    private void FinishTenMinutes()
    {
        if (_tenMinutes.WindowCount == 0) return;
        _current.Add(_tenMinutes, _tenOwnSeconds < TenMinutes - EndsSeconds ? _tenOwnSeconds / TenMinutes : 1);
        _tenMinutes.Clear(_tenMinutes.EndSeconds);
        _tenOwnSeconds = 0;
    }

    private void FinishClocked(bool isEnd)
    {
        FinishTenMinutes();
        if (_current.WindowCount == 0) return;
        var end = ((_clockRow + 1) * _plan.Interval.Seconds) - _plan.SecondsAfterTick;
        var isShort = _ownSeconds < _plan.Interval.Seconds - EndsSeconds;
        _current.EndSeconds = isEnd && isShort ? _current.EndSeconds : end;
        TakeFlickers();
        Emit(_current, isShort);
        _current.Clear(_current.EndSeconds);
    }

    // Ten-minute values as they are; a longer row takes the long-term mean of its own.
    private void TakeFlickers()
    {
        Span<double> cubes = stackalloc double[Lane.VoltageCount];
        var count = 0;
        foreach (var value in _flickers)
        {
            if (value.StartSeconds < _current.StartSeconds - 0.5 || value.StartSeconds >= _current.EndSeconds - 0.5) continue;
            for (var lane = 0; lane < cubes.Length; lane++) cubes[lane] += Math.Pow(value.Pst[lane], 3);
            count++;
        }

        for (var lane = 0; lane < cubes.Length; lane++)
            _current.Pst[lane] = count > 0 && _plan.Interval.Seconds >= 600 ? Math.Cbrt(cubes[lane] / count) : double.NaN;
        var end = _current.EndSeconds;
        _flickers.RemoveAll(value => value.StartSeconds < end - 0.5);
    }

    private void Emit(IntervalValues values, bool isShort)
    {
        if (isShort) values.Flags |= ValueMarks.Partial;
        _sink.TakeInterval(values);
    }

    private long TickOf(double seconds, double period) =>
        (long)Math.Floor((seconds + _plan.SecondsAfterTick + TickTolerance) / period);
}
