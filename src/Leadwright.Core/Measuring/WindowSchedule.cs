using Leadwright.Core.Signals;
using Leadwright.Core.Signals.Windows;

namespace Leadwright.Core.Measuring;

/// <summary>A stretch over which the common phase runs straight.</summary>
internal readonly record struct PhaseSpan(double StartPlace, double StartCycles, double EndPlace, double EndCycles)
{
    public double CyclesAt(double place) =>
        StartCycles + ((EndCycles - StartCycles) * (place - StartPlace) / (EndPlace - StartPlace));

    public double PlaceAt(double cycles) =>
        StartPlace + ((EndPlace - StartPlace) * (cycles - StartCycles) / (EndCycles - StartCycles));
}

/// <summary>Lays window after window, ten or twelve cycles each, and starts afresh at every ten-minute tick.</summary>
/// <remarks>IEC 61000-4-30 clause 4.5 (from memory), class A: the window that the tick falls into runs on to its end and belongs to
/// the interval before; the next one starts at the tick, so that the two overlap.</remarks>
internal sealed class WindowSchedule(int cycles)
{
    private double _startCycles;
    private double _tickCycles;

    /// <summary>Start of the window to come.</summary>
    public double StartPlace { get; private set; }

    /// <summary>Place of the tick to come.</summary>
    public double TickPlace { get; private set; }

    /// <summary>Frames of the last window that no window before it held.</summary>
    public double OwnFrames { get; private set; }

    /// <summary>True once the first window's start is known.</summary>
    public bool IsStarted { get; private set; }

    private double _heldUpTo;

    /// <summary>Carries the state out or in.</summary>
    public void Carry(StateCarrier carrier)
    {
        carrier.Carry(ref _startCycles);
        carrier.Carry(ref _tickCycles);
        carrier.Carry(ref _heldUpTo);
        var (startPlace, tickPlace, ownFrames, isStarted) = (StartPlace, TickPlace, OwnFrames, IsStarted);
        carrier.Carry(ref startPlace);
        carrier.Carry(ref tickPlace);
        carrier.Carry(ref ownFrames);
        carrier.Carry(ref isStarted);
        (StartPlace, TickPlace, OwnFrames, IsStarted) = (startPlace, tickPlace, ownFrames, isStarted);
    }

    public void Clear() => (IsStarted, StartPlace, _tickCycles, _heldUpTo) = (false, 0, double.NaN, 0);

    public void Start(double place, double startCycles, double tickPlace)
    {
        (IsStarted, StartPlace, _startCycles, TickPlace, _tickCycles) = (true, place, startCycles, tickPlace, double.NaN);
        _heldUpTo = place;
    }

    public void NextTick(double place) => (TickPlace, _tickCycles) = (place, double.NaN);

    /// <summary>The next window that ends within a span of known phase.</summary>
    /// <param name="span">The newest span.</param>
    /// <param name="toleranceCycles">Cycles that the window may lack at the end of the span.</param>
    /// <param name="window">Receives the window.</param>
    /// <param name="isAtTick">True when the tick falls into it or on its end: the caller then sets the next tick.</param>
    public bool Next(PhaseSpan span, double toleranceCycles, out WindowSpan window, out bool isAtTick)
    {
        (window, isAtTick) = (default, false);
        if (!IsStarted) return false;
        if (TickPlace > span.StartPlace && TickPlace <= span.EndPlace) _tickCycles = span.CyclesAt(TickPlace);
        var endCycles = _startCycles + cycles;
        if (endCycles > span.EndCycles + toleranceCycles) return false;
        // What is lacking must not carry the end beyond the samples.
        var end = Math.Min(span.PlaceAt(endCycles), span.EndPlace);
        window = new WindowSpan(StartPlace, end, cycles);
        OwnFrames = end - Math.Max(StartPlace, _heldUpTo);
        _heldUpTo = end;
        // Half a frame for rounding: a window that ends on the tick must not be followed by one that starts just before it.
        isAtTick = TickPlace <= end + 0.5;
        if (isAtTick && double.IsNaN(_tickCycles)) _tickCycles = span.CyclesAt(TickPlace);
        (StartPlace, _startCycles) = isAtTick ? (TickPlace, _tickCycles) : (end, endCycles);
        return true;
    }
}
