using System.Collections.Immutable;
using Leadwright.Core.Hookups;
using Leadwright.Core.Logs;
using Leadwright.Core.Signals;

namespace Leadwright.Core.Integrity.Samples;

/// <summary>Reduces a sampled recording to a log with one row each half cycle.</summary>
/// <remarks>
/// Each row covers one cycle and starts half a cycle after the row before, so that a change shows within half a cycle (the refreshed one-cycle
/// rms of IEC 61000-4-30 clause 3, from memory; its cycles start at zero crossings, these at equal steps of one frequency, since
/// currents, which have other zero crossings, are reduced beside them). Volts and amperes are rms values of all that there is; watts are the mean
/// of the products; vars those of the fundamental, positive for a lagging load.
/// </remarks>
public static class HalfCycleLog
{
    /// <summary>Reduces the waveform stretches of a recording.</summary>
    /// <param name="recording">The recording, V and A in base units.</param>
    /// <param name="map">Which of the recording's channels is which, by index; V1 to V3 and I1 to IN are used.</param>
    /// <param name="hertz">The fundamental frequency, as measured; above zero.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <returns>The log; its times count from the recording's start as stated, or from the first of January of the year 1.</returns>
    public static IntervalLog Of(
        SampledRecording recording, IReadOnlyDictionary<Channel, int> map, double hertz, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(recording);
        ArgumentNullException.ThrowIfNull(map);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(hertz);
        Channel[] volts = [.. map.Keys.Where(channel => channel < Channel.I1).Order()];
        Channel[] amperes = [.. map.Keys.Where(channel => channel >= Channel.I1).Order()];
        var columns = ImmutableArray.CreateBuilder<LogColumn>();
        foreach (var channel in volts) columns.Add(new LogColumn(channel.ToString(), LogQuantity.Voltage, PlaceOf(channel)));
        foreach (var channel in amperes) columns.Add(new LogColumn(channel.ToString(), LogQuantity.Current, PlaceOf(channel)));
        (Channel Volts, Channel Amperes)[] phases = [.. amperes.Select(channel => (Volts: channel - Channel.I1 + Channel.V1, Amperes: channel))
            .Where(pair => pair.Amperes <= Channel.I3 && volts.Contains(pair.Volts))];
        foreach (var (_, channel) in phases)
        {
            columns.Add(new LogColumn($"P{channel - Channel.I1 + 1}", LogQuantity.ActivePower, PlaceOf(channel)));
            columns.Add(new LogColumn($"Q{channel - Channel.I1 + 1}", LogQuantity.ReactivePower, PlaceOf(channel)));
        }

        var starts = new List<long>();
        var values = columns.Select(_ => new List<double>()).ToArray();
        var origin = (recording.Start ?? DateTime.MinValue).Ticks;
        Channel[] all = [.. volts, .. amperes];
        var index = all.ToDictionary(channel => channel, channel => Array.IndexOf(all, channel));
        var sums = new CycleSums[all.Length];
        foreach (var stretch in Stretch.Join(recording.Segments, 8 * hertz))
        {
            var halves = (int)Math.Floor((stretch.DurationSeconds * 2 * hertz) + 0.01) - 1;
            for (var half = 0; half < halves; half++)
            {
                if (half % 1000 == 0) cancellation.ThrowIfCancellationRequested();
                var seconds = stretch.StartSeconds + (half / (2 * hertz));
                var from = stretch.IndexAt(seconds);
                var to = stretch.IndexAt(seconds + (1 / hertz));
                if (to - from < 8) continue;
                var start = origin + (long)Math.Round(seconds * TimeSpan.TicksPerSecond);
                if (starts.Count > 0 && start <= starts[^1]) continue;
                starts.Add(start);
                for (var channel = 0; channel < all.Length; channel++)
                {
                    sums[channel] = CycleSums.Of(recording.Channels[map[all[channel]]].Samples.Span[from..to]);
                    values[channel].Add(sums[channel].Rms);
                }

                var at = all.Length;
                foreach (var (volt, ampere) in phases)
                {
                    var one = recording.Channels[map[volt]].Samples.Span[from..to];
                    var other = recording.Channels[map[ampere]].Samples.Span[from..to];
                    double product = 0;
                    for (var sample = 0; sample < one.Length; sample++) product += one[sample] * other[sample];
                    values[at++].Add(product / one.Length);
                    var (v, i) = (sums[index[volt]], sums[index[ampere]]);
                    values[at++].Add((v.Imaginary * i.Real) - (v.Real * i.Imaginary));
                }
            }
        }

        return new IntervalLog(columns.ToImmutable(), [.. starts], [.. values.Select(column => column.ToArray())], 1 / (2 * hertz));
    }

    private static LogPlace PlaceOf(Channel channel) => channel switch
    {
        Channel.V12 or Channel.V23 or Channel.V31 => LogPlace.Pair12 + (channel - Channel.V12),
        Channel.IN => LogPlace.Neutral,
        >= Channel.I1 => LogPlace.Phase1 + (channel - Channel.I1),
        _ => LogPlace.Phase1 + (int)channel,
    };

    /// <summary>Rms of one cycle, and its fundamental as an rms phasor.</summary>
    private readonly record struct CycleSums(double Rms, double Real, double Imaginary)
    {
        public static CycleSums Of(ReadOnlySpan<double> samples)
        {
            double square = 0, real = 0, imaginary = 0, cosine = 1, sine = 0;
            var (stepSine, stepCosine) = Math.SinCos(2 * Math.PI / samples.Length);
            foreach (var sample in samples)
            {
                square += sample * sample;
                real += sample * cosine;
                imaginary -= sample * sine;
                (cosine, sine) = ((cosine * stepCosine) - (sine * stepSine), (sine * stepCosine) + (cosine * stepSine));
            }

            var scale = Math.Sqrt(2) / samples.Length;
            return new CycleSums(Math.Sqrt(square / samples.Length), real * scale, imaginary * scale);
        }
    }
}
