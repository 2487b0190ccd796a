using System.Runtime.CompilerServices;

namespace Leadwright.Core.Signals.Events;

/// <summary>Finds rapid voltage changes in the half-cycle values of one voltage.</summary>
/// <remarks>
/// IEC 61000-4-30 Ed. 3 clause 5.11 (from memory): steady while all half-cycle values of the last second (100 at 50 Hz, 120 at 60 Hz) lie
/// within the threshold of their mean; a change starts when one leaves it and ends when the values are steady again, within the threshold
/// less the hysteresis. Reported: the largest difference from the mean before, and the difference of the means. A change in which the
/// voltage becomes a dip or a swell is not reported.
/// </remarks>
internal sealed class RapidChangeDetector
{
    private readonly EventThresholds _thresholds;
    private readonly double[] _values;
    private readonly double[] _starts;
    private int _count;
    private double _sum;
    private bool _isSteady;
    private double _levelBefore, _largest, _start;
    private bool _isDiscarded;

    /// <summary>Prepares.</summary>
    /// <param name="thresholds">Where changes begin and end.</param>
    /// <param name="lineHertz">50 or 60.</param>
    public RapidChangeDetector(EventThresholds thresholds, double lineHertz)
    {
        _thresholds = thresholds;
        _values = new double[lineHertz < 55 ? 100 : 120];
        _starts = new double[_values.Length];
    }

    /// <summary>Starts a new segment.</summary>
    public void Clear() => (_count, _sum, _isSteady, _isDiscarded) = (0, 0, false, false);

    /// <summary>Carries the state out or in.</summary>
    public void Carry(StateCarrier carrier)
    {
        carrier.Carry(_values.AsSpan());
        carrier.Carry(_starts.AsSpan());
        carrier.Carry(ref _count);
        carrier.Carry(ref _sum);
        carrier.Carry(ref _isSteady);
        carrier.Carry(ref _levelBefore);
        carrier.Carry(ref _largest);
        carrier.Carry(ref _start);
        carrier.Carry(ref _isDiscarded);
    }

    /// <summary>Takes the next value of the lane.</summary>
    /// <param name="value">The value.</param>
    /// <param name="declared">Declared voltage, volts.</param>
    /// <param name="found">Receives a change that ended with it.</param>
    public void Take(in HalfCycle value, double declared, List<VoltageEvent> found)
    {
        if (_thresholds.RapidChange <= 0) return;
        var fraction = value.Rms / declared;
        if (_isSteady && Math.Abs(fraction - (_sum / _values.Length)) > _thresholds.RapidChange)
        {
            (_isSteady, _isDiscarded, _largest) = (false, false, 0);
            (_levelBefore, _start) = (_sum / _values.Length, value.StartPlace);
        }

        var slot = _count % _values.Length;
        if (_count >= _values.Length) _sum -= _values[slot];
        (_values[slot], _starts[slot]) = (fraction, value.StartPlace);
        _sum += fraction;
        _count++;
        // A running sum drifts by rounding; once a turn it is taken afresh.
        if (slot == _values.Length - 1) _sum = Total();
        if (_isSteady) return;
        if (fraction < _thresholds.Dip || fraction > _thresholds.Swell) _isDiscarded = true;
        _largest = Math.Max(_largest, Math.Abs(fraction - _levelBefore));
        if (_count < _values.Length || !IsSteadyWithin(_thresholds.RapidChange * (1 - _thresholds.RapidChangeHysteresis))) return;
        var wasRunning = _start > 0;
        _isSteady = true;
        if (wasRunning && !_isDiscarded)
        {
            // It was steady from the oldest of the values that now lie together.
            found.Add(new VoltageEvent(VoltageEventKind.RapidChange, 1 << value.Lane, _start,
                Math.Max(_start, _starts[_count % _values.Length]), _largest, Math.Abs((_sum / _values.Length) - _levelBefore), false));
        }

        _start = 0;
    }

    private double Total()
    {
        var sum = 0.0;
        foreach (var value in _values) sum += value;
        return sum;
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private bool IsSteadyWithin(double range)
    {
        var mean = _sum / _values.Length;
        foreach (var value in _values)
        {
            if (Math.Abs(value - mean) > range) return false;
        }

        return true;
    }
}
