using BenchmarkDotNet.Attributes;
using Leadwright.Core.Circuits;
using Leadwright.Core.Panels;
using Leadwright.Core.Signals;

namespace Leadwright.Benchmarks;

/// <summary>Phasors of two seconds of six channels, beside the plain transform that anyone would write first.</summary>
/// <remarks>The plain one is told the frequency and trusts that nothing happens in the recording. Ours finds the frequency,
/// looks for a steady part, and states a spread.</remarks>
[MemoryDiagnoser]
public class SnapshotBenchmarks
{
    private const int Orders = 25;
    private SampledRecording _recording = null!;
    private SignalChoice[] _choices = [];
    private double _hertz;

    [Params(2_560, 10_240)]
    public int RateHertz { get; set; }

    [GlobalSetup]
    public void Prepare()
    {
        var visit = new PanelPopulation { Service = ServiceKind.Wye, Family = LoadFamily.Distorted, Seed = 1 }.Case(0);
        _recording = visit.Samples(new SamplingPlan(RateHertz, 2));
        _choices = [.. _recording.Channels.Select((channel, index) =>
            new SignalChoice(index, channel.Name.StartsWith('V') ? SignalKind.Voltage : SignalKind.Current))];
        _hertz = visit.Panel.Source.FrequencyHertz;
    }

    [Benchmark(Baseline = true, Description = "plain scalar transform, 25 orders")]
    public double Plain()
    {
        var sum = 0.0;
        foreach (var channel in _recording.Channels)
        {
            for (var order = 1; order <= Orders; order++) sum += Magnitude(channel.Samples.Span, order);
        }

        return sum;
    }

    [Benchmark(Description = "plain scalar transform, fundamental alone")]
    public double PlainFundamental()
    {
        var sum = 0.0;
        foreach (var channel in _recording.Channels) sum += Magnitude(channel.Samples.Span, 1);
        return sum;
    }

    [Benchmark(Description = "SnapshotPhasors.Measure")]
    public double Ours() =>
        SnapshotPhasors.Measure(_recording, _choices, new SnapshotOptions { HighestOrder = Orders }).Snapshot!.FrequencyHertz;

    private double Magnitude(ReadOnlySpan<double> samples, int order)
    {
        // A pointer that turns by one step a sample: no sine in the loop.
        var turn = Phasor.FromRadians(1, -2 * Math.PI * _hertz * order / RateHertz);
        var pointer = new Phasor(1, 0);
        var sum = Phasor.Zero;
        foreach (var sample in samples)
        {
            sum += sample * pointer;
            pointer *= turn;
        }

        return sum.Magnitude * Math.Sqrt(2) / samples.Length;
    }
}
