using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Signals;

namespace Leadwright.Core.Panels;

/// <summary>Makes samples from a chain of steady states.</summary>
internal static class Sampler
{
    private const double FlutterMemory = 0.9;

    public static SampledRecording Record(VirtualPanel panel, Hookup hookup, Instrument instrument, SamplingPlan plan, ulong seed)
    {
        ArgumentNullException.ThrowIfNull(panel);
        ArgumentNullException.ThrowIfNull(hookup);
        if (!(plan.RateHertz > 0) || !(plan.DurationSeconds > 0) || plan.SampleCount < 1)
        {
            throw new ArgumentException(
                $"Rate and length must be above zero; found {plan.RateHertz} samples/s for {plan.DurationSeconds} s.", nameof(plan));
        }

        var root = new SeededRandom(seed);
        var flutter = root.Fork(3);
        var rises = new double[3];
        var boundaries = Boundaries(panel, plan);
        List<Channel>? channels = null;
        double[][] samples = [];
        var (flutterSd, history) = (panel.Source.History.FlutterFraction, panel.Source.History);
        var nextFlutter = 0.0;
        for (var piece = 0; piece + 1 < boundaries.Count; piece++)
        {
            var (first, end) = (boundaries[piece], boundaries[piece + 1]);
            // A hair later than the sample, so that rounding can't put a switching after it.
            var start = (first + 1e-6) / plan.RateHertz;
            if (flutterSd > 0 && start >= nextFlutter - (0.5 / plan.RateHertz))
            {
                var innovation = flutterSd * Math.Sqrt(1 - (FlutterMemory * FlutterMemory));
                for (var line = 0; line < 3; line++)
                {
                    rises[line] = nextFlutter == 0
                        ? flutterSd * flutter.Gaussian()
                        : (FlutterMemory * rises[line]) + (innovation * flutter.Gaussian());
                }

                nextFlutter += history.FlutterSeconds;
            }

            var inputs = Inputs.Of(panel.Solve(start, rises[0], rises[1], rises[2]), hookup, instrument, root.Fork(1), limits: false);
            if (channels is null)
            {
                channels = Recorded(inputs);
                samples = new double[channels.Count][];
                for (var index = 0; index < samples.Length; index++) samples[index] = new double[plan.SampleCount];
            }

            for (var index = 0; index < samples.Length; index++)
                AddWaves(inputs, channels[index], samples[index].AsSpan(first, end - first), first, plan.RateHertz);
        }

        for (var index = 0; index < samples.Length; index++)
            AddNoise(samples[index], channels![index], hookup, panel, instrument, root.Fork(16 + (ulong)channels[index]));
        for (var index = 0; index < samples.Length; index++) Cut(samples[index], channels![index], hookup, instrument);

        return new SampledRecording(
            [.. channels!.Select((channel, index) => new SampledChannel(
                channel.ToString(), PhaseOf(channel), channel < Channel.I1 ? "V" : "A", samples[index]))],
            [new RateSegment(0, plan.SampleCount, plan.RateHertz, 0)],
            panel.Source.NominalFrequencyHertz,
            null);
    }

    /// <summary>The samples at which the steady state changes, from 0 to the sample count.</summary>
    private static List<int> Boundaries(VirtualPanel panel, SamplingPlan plan)
    {
        var times = new SortedSet<int> { 0, plan.SampleCount };
        foreach (var load in panel.Loads)
        {
            foreach (var time in load.Schedule.SwitchSeconds) Add(time);
        }

        foreach (var change in panel.Source.History.Changes) Add(change.AtSeconds);
        var history = panel.Source.History;
        if (history.FlutterFraction > 0)
        {
            if (!(history.FlutterSeconds > 0))
                throw new ArgumentException($"The supply's wandering needs a time above zero; found {history.FlutterSeconds} s.", nameof(panel));
            for (var number = 1; number * history.FlutterSeconds < plan.DurationSeconds; number++) Add(number * history.FlutterSeconds);
        }

        return [.. times];

        void Add(double seconds)
        {
            var sample = Math.Ceiling(seconds * plan.RateHertz);
            if (sample > 0 && sample < plan.SampleCount) times.Add((int)sample);
        }
    }

    private static List<Channel> Recorded(Inputs inputs)
    {
        var channels = new List<Channel>();
        for (var channel = Channel.V1; channel <= Channel.IN; channel++)
        {
            var isShown = channel >= Channel.I1 || inputs.ShowsBetweenLines == (channel >= Channel.V12);
            if (inputs.Has(channel) && isShown) channels.Add(channel);
        }

        return channels;
    }

    private static void AddWaves(Inputs inputs, Channel channel, Span<double> samples, int first, double rate)
    {
        var frequency = inputs.Solution.Panel.Source.FrequencyHertz;
        for (var index = 0; index < inputs.Solution.Orders.Length; index++)
        {
            var phasor = Math.Sqrt(2) * inputs.At(index, channel);
            if (phasor == Phasor.Zero) continue;

            // Whole cycles are taken off before the angle is formed, so that long recordings keep their phase.
            var cycles = inputs.Solution.Orders[index] * frequency / rate;
            var turn = Phasor.FromRadians(1, 2 * Math.PI * cycles);
            for (var sample = 0; sample < samples.Length; sample++)
            {
                if (sample % 1024 == 0)
                {
                    var start = (first + sample) * cycles;
                    if (sample > 0) phasor = Math.Sqrt(2) * inputs.At(index, channel);
                    phasor *= Phasor.FromRadians(1, 2 * Math.PI * (start - Math.Floor(start)));
                }

                samples[sample] += phasor.Real;
                phasor *= turn;
            }
        }
    }

    /// <summary>A clamp beyond its range shows flat tops.</summary>
    private static void Cut(double[] samples, Channel channel, Hookup hookup, Instrument instrument)
    {
        if (channel < Channel.I1) return;
        var limit = Math.Sqrt(2) * instrument.OverloadFactor * instrument.ClampRatingAmperes * hookup.Clamps[(Clamp)(channel - Channel.I1)].Scale;
        for (var index = 0; index < samples.Length; index++) samples[index] = Math.Clamp(samples[index], -limit, limit);
    }

    private static void AddNoise(
        double[] samples, Channel channel, Hookup hookup, VirtualPanel panel, Instrument instrument, SeededRandom random)
    {
        if (instrument.SampleNoiseFraction <= 0) return;
        var size = instrument.SampleNoiseFraction * channel switch
        {
            >= Channel.I1 => instrument.ClampRatingAmperes * hookup.Clamps[(Clamp)(channel - Channel.I1)].Scale,
            >= Channel.V12 => Math.Sqrt(2) * panel.Source.Nominal.LineToNeutralVolts,
            _ => panel.Source.Nominal.LineToNeutralVolts,
        };
        for (var index = 0; index < samples.Length; index++) samples[index] += size * random.Gaussian();
    }

    private static string PhaseOf(Channel channel) => channel switch
    {
        Channel.V1 or Channel.I1 => "A",
        Channel.V2 or Channel.I2 => "B",
        Channel.V3 or Channel.I3 => "C",
        Channel.V12 => "AB",
        Channel.V23 => "BC",
        Channel.V31 => "CA",
        _ => "N",
    };
}
