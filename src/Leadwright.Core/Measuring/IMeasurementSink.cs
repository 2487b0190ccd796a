using Leadwright.Core.Signals.Events;

namespace Leadwright.Core.Measuring;

/// <summary>A found event with its times.</summary>
/// <param name="Event">The event; its places are in frames of its segment.</param>
/// <param name="StartSeconds">Start after the recording's start, seconds.</param>
/// <param name="Seconds">Its length, seconds.</param>
public readonly record struct TimedEvent(VoltageEvent Event, double StartSeconds, double Seconds);

/// <summary>The waveform around an event.</summary>
/// <param name="Event">The event it was captured for.</param>
/// <param name="StartSeconds">Time of its first frame after the recording's start, seconds.</param>
/// <param name="RateHertz">Samples per second.</param>
/// <param name="Frames">Frames of eight lanes.</param>
public readonly record struct CapturedWaveform(TimedEvent Event, double StartSeconds, double RateHertz, ReadOnlyMemory<float> Frames);

/// <summary>Receives what a measurement finds, in order of time, from one thread at a time.</summary>
public interface IMeasurementSink
{
    /// <summary>A row is complete.</summary>
    /// <param name="values">Its values; valid during the call.</param>
    void TakeInterval(IntervalValues values);

    /// <summary>An event has ended.</summary>
    /// <param name="found">The event.</param>
    void TakeEvent(TimedEvent found);

    /// <summary>The waveform around an event is at hand.</summary>
    /// <param name="waveform">The waveform.</param>
    void TakeWaveform(CapturedWaveform waveform);

    /// <summary>The frequency over ten seconds of the clock (IEC 61000-4-30 clause 5.1).</summary>
    /// <param name="startSeconds">Start of the ten seconds after the recording's start, seconds.</param>
    /// <param name="hertz">The frequency.</param>
    /// <param name="flags">What to know about it.</param>
    void TakeFrequency(double startSeconds, double hertz, ValueMarks flags);

    /// <summary>The flicker of ten minutes.</summary>
    /// <param name="startSeconds">Start after the recording's start, seconds.</param>
    /// <param name="pst">P<sub>st</sub> of lanes 0 to 3; NaN where there is none.</param>
    /// <param name="flags">What to know about it.</param>
    void TakeFlicker(double startSeconds, ReadOnlySpan<double> pst, ValueMarks flags);
}
