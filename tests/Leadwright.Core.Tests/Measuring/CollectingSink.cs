using Leadwright.Core.Measuring;

namespace Leadwright.Core.Tests.Measuring;

/// <summary>A row, copied from the object that the engine reuses.</summary>
internal sealed record KeptRow(
    double StartSeconds, double EndSeconds, int WindowCount, int FlaggedCount, ValueMarks Flags,
    double[] Rms, double[] Scalars, double[][] Spectrum, double[] Pst, double[] Least, double[] Most);

/// <summary>Keeps everything that a measurement gives.</summary>
internal sealed class CollectingSink : IMeasurementSink
{
    public List<KeptRow> Rows { get; } = [];

    public List<TimedEvent> Events { get; } = [];

    public List<CapturedWaveform> Waveforms { get; } = [];

    public List<(double Start, double Hertz, ValueMarks Flags)> Frequencies { get; } = [];

    public List<(double Start, double[] Pst, ValueMarks Flags)> Flickers { get; } = [];

    public void TakeInterval(IntervalValues values) => Rows.Add(new KeptRow(
        values.StartSeconds, values.EndSeconds, values.WindowCount, values.FlaggedCount, values.Flags,
        [.. Enumerable.Range(0, 8).Select(lane => values.Rms(0, lane))],
        [.. Enumerable.Range(0, Scalars.All.Length).Select(values.Of)],
        [.. Enumerable.Range(0, values.Row.Count).Select(row => Enumerable.Range(0, 8).Select(lane => values.Rms(row, lane)).ToArray())],
        [.. values.Pst],
        [.. Enumerable.Range(0, 8).Select(values.HalfCycleLeast)],
        [.. Enumerable.Range(0, 8).Select(values.HalfCycleMost)]));

    public void TakeEvent(TimedEvent found) => Events.Add(found);

    public void TakeWaveform(CapturedWaveform waveform) => Waveforms.Add(waveform);

    public void TakeFrequency(double startSeconds, double hertz, ValueMarks flags) => Frequencies.Add((startSeconds, hertz, flags));

    public void TakeFlicker(double startSeconds, ReadOnlySpan<double> pst, ValueMarks flags) => Flickers.Add((startSeconds, pst.ToArray(), flags));
}
