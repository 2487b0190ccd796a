namespace Leadwright.Core.Signals.Events;

/// <summary>Finds dips, swells and interruptions in the half-cycle values of the voltages, by the polyphase rules.</summary>
/// <remarks>
/// IEC 61000-4-30 clauses 5.4 and 5.5 (from memory): a dip begins when any channel falls below its threshold and ends when all
/// are back above it by the hysteresis; swells likewise; an interruption begins when all channels are below and ends when any is back.
/// An event starts at the start of the cycle whose value crossed, and ends at the start of the cycle whose value is back, so that the
/// duration is off by up to half a cycle at each end, as the standard states. An interruption that a dip hardly outlasts stands alone.
/// </remarks>
internal sealed class VoltageEventDetector
{
    // A dip that lasts no more than this many cycles longer than the interruption within it is the same event.
    private const double SameEventCycles = 4;

    private readonly EventThresholds _thresholds;
    private readonly double[] _declared;
    private readonly int _lanes;
    private readonly double[] _fractions = new double[Lanes.Lane.VoltageCount];
    private readonly double[] _starts = new double[Lanes.Lane.VoltageCount];
    private int _seen;
    private Running _dip, _swell, _interruption;
    private double _interruptedFrames;

    /// <summary>Prepares.</summary>
    /// <param name="thresholds">Where events begin and end.</param>
    /// <param name="declared">Declared voltage of each lane, volts rms; 0 for a lane that takes no part.</param>
    public VoltageEventDetector(EventThresholds thresholds, ReadOnlySpan<double> declared)
    {
        (_thresholds, _declared) = (thresholds, declared.ToArray());
        for (var lane = 0; lane < _declared.Length; lane++) _lanes |= _declared[lane] > 0 ? 1 << lane : 0;
    }

    /// <summary>True while a dip, swell or interruption lasts.</summary>
    public bool IsRunning => _dip.IsOn || _swell.IsOn || _interruption.IsOn;

    /// <summary>Start of the event of a kind that lasts; infinite when there is none.</summary>
    public double StartOf(VoltageEventKind kind) => kind switch
    {
        VoltageEventKind.Dip => _dip.Since,
        VoltageEventKind.Swell => _swell.Since,
        VoltageEventKind.Interruption => _interruption.Since,
        _ => double.PositiveInfinity,
    };

    /// <summary>Starts a new segment.</summary>
    public void Clear()
    {
        _seen = 0;
        _dip = _swell = _interruption = default;
        _interruptedFrames = 0;
    }

    /// <summary>Carries the state out or in.</summary>
    public void Carry(StateCarrier carrier)
    {
        carrier.Carry(_fractions.AsSpan());
        carrier.Carry(_starts.AsSpan());
        carrier.Carry(ref _seen);
        carrier.Carry(ref _dip);
        carrier.Carry(ref _swell);
        carrier.Carry(ref _interruption);
        carrier.Carry(ref _interruptedFrames);
    }

    /// <summary>Takes the next value, in order of the cycles' ends.</summary>
    /// <param name="value">The value.</param>
    /// <param name="found">Receives the events that ended with it.</param>
    public void Take(in HalfCycle value, List<VoltageEvent> found)
    {
        if ((_lanes & (1 << value.Lane)) == 0) return;
        var isFirst = (_seen & (1 << value.Lane)) == 0;
        _seen |= 1 << value.Lane;
        _fractions[value.Lane] = value.Rms / _declared[value.Lane];
        _starts[value.Lane] = value.StartPlace;
        if (_seen != _lanes) return;
        var atStart = isFirst;

        var (below, above, notBack, notDown, dead, alive) = (0, 0, 0, 0, 0, 0);
        for (var lane = 0; lane < _fractions.Length; lane++)
        {
            var bit = 1 << lane;
            if ((_lanes & bit) == 0) continue;
            var fraction = _fractions[lane];
            if (fraction < _thresholds.Dip) below |= bit;
            if (fraction < _thresholds.Dip + _thresholds.Hysteresis) notBack |= bit;
            if (fraction > _thresholds.Swell) above |= bit;
            if (fraction > _thresholds.Swell - _thresholds.Hysteresis) notDown |= bit;
            if (fraction < _thresholds.Interruption) dead |= bit;
            if (fraction >= _thresholds.Interruption + _thresholds.Hysteresis) alive |= bit;
        }

        // Ends and starts at this cycle's start; an interruption before the dip that holds it.
        var place = value.StartPlace;
        if (_interruption.IsOn && alive != 0)
        {
            _interruptedFrames += place - _interruption.Since;
            found.Add(_interruption.End(VoltageEventKind.Interruption, place));
        }
        else if (!_interruption.IsOn && dead == _lanes) _interruption.Start(place, atStart);
        _interruption.Follow(_fractions, _lanes, dead, isLow: true);

        if (_dip.IsOn && notBack == 0)
        {
            var dip = _dip.End(VoltageEventKind.Dip, place);
            var cycle = value.EndPlace - value.StartPlace;
            if (_interruptedFrames == 0 || dip.Length - _interruptedFrames > SameEventCycles * cycle) found.Add(dip);
            _interruptedFrames = 0;
        }
        else if (!_dip.IsOn && below != 0) _dip.Start(place, atStart);
        _dip.Follow(_fractions, _lanes, below, isLow: true);

        if (_swell.IsOn && notDown == 0) found.Add(_swell.End(VoltageEventKind.Swell, place));
        else if (!_swell.IsOn && above != 0) _swell.Start(place, atStart);
        _swell.Follow(_fractions, _lanes, above, isLow: false);
    }

    /// <summary>Ends what still lasts at the end of a segment.</summary>
    public void Finish(double endPlace, List<VoltageEvent> found)
    {
        if (_interruption.IsOn) found.Add(_interruption.End(VoltageEventKind.Interruption, endPlace) with { IsCutShort = true });
        else if (_dip.IsOn) found.Add(_dip.End(VoltageEventKind.Dip, endPlace) with { IsCutShort = true });
        if (_swell.IsOn) found.Add(_swell.End(VoltageEventKind.Swell, endPlace) with { IsCutShort = true });
        Clear();
    }

    private struct Running
    {
        private double _start;
        private double _extreme;
        private int _lanes;
        private bool _beganCut;

        public bool IsOn { get; private set; }

        public readonly double Since => IsOn ? _start : double.PositiveInfinity;

        public void Start(double place, bool isCut) =>
            (IsOn, _start, _extreme, _lanes, _beganCut) = (true, place, double.NaN, 0, isCut);

        public void Follow(ReadOnlySpan<double> fractions, int all, int lanes, bool isLow)
        {
            if (!IsOn) return;
            _lanes |= lanes;
            for (var lane = 0; lane < fractions.Length; lane++)
            {
                if ((all & (1 << lane)) == 0) continue;
                var isFurther = isLow ? !(fractions[lane] >= _extreme) : !(fractions[lane] <= _extreme);
                if (isFurther) _extreme = fractions[lane];
            }
        }

        public VoltageEvent End(VoltageEventKind kind, double place)
        {
            IsOn = false;
            return new VoltageEvent(kind, _lanes, _start, place, _extreme, 0, _beganCut);
        }
    }
}
