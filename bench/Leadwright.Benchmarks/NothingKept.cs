using Leadwright.Core.Measuring;

namespace Leadwright.Benchmarks;

/// <summary>Takes what a measurement finds and keeps nothing of it.</summary>
internal sealed class NothingKept : IMeasurementSink
{
    public void TakeInterval(IntervalValues values)
    {
    }

    public void TakeEvent(TimedEvent found)
    {
    }

    public void TakeWaveform(CapturedWaveform waveform)
    {
    }

    public void TakeFrequency(double startSeconds, double hertz, ValueMarks flags)
    {
    }

    public void TakeFlicker(double startSeconds, ReadOnlySpan<double> pst, ValueMarks flags)
    {
    }
}
