using System.Numerics;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Logs;
using Leadwright.Core.Signals;

namespace Leadwright.Core.Tests.Hookups.Others;

/// <summary>Readings of a case as typed, as sampled, as logged.</summary>
internal static class OtherReadings
{
    /// <summary>Phasors of one state, rounded as a screen rounds them or not at all, with powers now and then.</summary>
    public static PanelReadings Typed(
        ServiceKind service, NominalVoltage nominal, OtherSource source, List<OtherLoad> loads, List<OtherLoad> switched, OtherMeter meter, Random random)
    {
        var state = source.Solve([.. loads, .. switched], [.. loads.Select(_ => 1.0), .. switched.Select((_, index) => index < 2 ? 1.0 : 0)], 0);
        var read = meter.Read(state.Potentials[0], state.Currents[0], true);
        var isRounded = random.NextDouble() < 0.7;
        var hasPowers = random.NextDouble() < 0.4;
        var isSaid = random.NextDouble() < 0.5;
        var reference = read.First(value => value.Magnitude > 0.3 * nominal.LineToNeutralVolts || value == read[^1]).Phase;
        var readings = new PanelReadings
        {
            Service = service,
            Nominal = nominal,
            FrequencyHertz = source.Hertz < 55 ? 50 : 60,
            AngleSign = AngleSign.LeadPositive,
            CurrentAngleReference = isSaid ? CurrentAngleReference.Common : CurrentAngleReference.NotStated,
            PowerSign = isSaid ? PowerSign.LoadPositive : PowerSign.NotStated,
        };
        foreach (var (channel, value) in meter.Channels.Zip(read))
        {
            var digits = channel < Channel.I1 ? 1 : 2;
            var degrees = Math.IEEERemainder((value.Phase - reference) * 180 / Math.PI, 360);
            var rms = isRounded ? Math.Round(value.Magnitude, digits) : value.Magnitude;
            readings = readings with { Channels = readings.Channels.SetItem(channel, new ChannelReading(rms, rms == 0 ? isSaid ? 0 : null : isRounded ? Math.Round(degrees, 1) : degrees)) };
        }

        if (!hasPowers) return readings;
        foreach (var (phase, power) in Powers(service, meter.Channels, read))
            readings = readings with { Phases = readings.Phases.SetItem(phase, new PhasePower(Math.Round(power.Real), Math.Round(power.Imaginary), null, null)) };
        return readings;
    }

    /// <summary>Some seconds of samples, measured as a file would be.</summary>
    public static PanelReadings Sampled(
        ServiceKind service, NominalVoltage nominal, OtherSource source, List<OtherLoad> loads, List<OtherLoad> switched, OtherMeter meter, double rating, Random random) =>
        PanelSnapshot.Measure(Recording(nominal, source, loads, switched, meter, rating, random, out var map), map, new SnapshotOptions(), out var refusal)
            ?.ToReadings(service, nominal) ?? throw new InvalidOperationException($"Not measured: {refusal}.");

    /// <summary>The recording itself.</summary>
    public static SampledRecording Recording(
        NominalVoltage nominal, OtherSource source, List<OtherLoad> loads, List<OtherLoad> switched, OtherMeter meter, double rating, Random random, out Dictionary<Channel, int> map)
    {
        double[] rates = [1600, 1920, 3200, 3200, 3840, 4000, 6400, 7680, 15360];
        var rate = rates[random.Next(rates.Length)];
        var seconds = 2 + (8 * random.NextDouble());
        var steps = random.NextDouble() < 0.15 ? 0 : random.Next(2, 10);
        // When each load comes in, how long that takes, and whether it goes out again.
        var at = Enumerable.Range(0, switched.Count).Select(_ => (0.05 + (0.9 * random.NextDouble())) * seconds).ToArray();
        var ramp = Enumerable.Range(0, switched.Count).Select(_ => random.NextDouble() < 0.8 ? 0 : 0.02 + (0.5 * random.NextDouble())).ToArray();
        var isOff = Enumerable.Range(0, switched.Count).Select(_ => random.NextDouble() < 0.3).ToArray();
        var noise = new[] { 0, 0, 1e-4, 1e-3 }[random.Next(4)];
        var wander = random.NextDouble() < 0.6 ? 0 : 0.001 * random.NextDouble();
        List<OtherLoad> all = [.. loads, .. switched];
        var count = (int)(rate * seconds);
        var samples = meter.Channels.Select(_ => new double[count]).ToArray();
        var states = new Dictionary<string, (int[] Orders, Complex[][] Read)>();
        var parts = new double[all.Count];
        // The state is solved anew whenever a load moved, and every tenth of a cycle while the supply wanders or a ramp runs.
        (int[] Orders, Complex[][] Read)? state = null;
        var solvedAt = 0.0;
        for (var index = 0; index < count; index++)
        {
            var time = index / rate;
            var (changed, isMoving) = (false, wander > 0);
            for (var load = 0; load < all.Count; load++)
            {
                var number = load - loads.Count;
                var part = 1.0;
                if (number >= steps) part = 0;
                else if (number >= 0)
                {
                    part = ramp[number] == 0 ? time >= at[number] ? 1 : 0 : Math.Clamp((time - at[number]) / ramp[number], 0, 1);
                    if (isOff[number]) part = 1 - part;
                }

                if (part == parts[load]) continue;
                if (part is > 0 and < 1) isMoving = true;
                else changed = true;
                parts[load] = part;
            }

            if (state is null || changed || (isMoving && time - solvedAt > 0.1 / source.Hertz))
            {
                var solved = source.Solve(all, parts, wander * Math.Sin(2 * Math.PI * 0.3 * time));
                state = (solved.Orders, [.. solved.Orders.Select((order, row) => meter.Read(solved.Potentials[row], solved.Currents[row], order == 1))]);
                solvedAt = time;
            }

            for (var row = 0; row < state.Value.Orders.Length; row++)
            {
                var (sine, cosine) = Math.SinCos(state.Value.Orders[row] * 2 * Math.PI * source.Hertz * time);
                var read = state.Value.Read[row];
                for (var channel = 0; channel < samples.Length; channel++)
                    samples[channel][index] += Math.Sqrt(2) * ((read[channel].Real * cosine) - (read[channel].Imaginary * sine));
            }

            if (noise == 0) continue;
            for (var channel = 0; channel < samples.Length; channel++)
                samples[channel][index] += noise * (meter.Channels[channel] < Channel.I1 ? nominal.LineToNeutralVolts : rating) * (random.NextDouble() + random.NextDouble() + random.NextDouble() + random.NextDouble() - 2) * Math.Sqrt(3);
        }

        map = meter.Channels.Select((channel, place) => (channel, place)).ToDictionary(pair => pair.channel, pair => pair.place);
        return new SampledRecording(
            [.. meter.Channels.Select((channel, place) => new SampledChannel(channel.ToString(), "", channel < Channel.I1 ? "V" : "A", samples[place]))],
            [new RateSegment(0, count, rate, 0)], Math.Round(source.Hertz / 10) * 10, null);
    }

    /// <summary>A log of intervals, each one state, loads coming and going.</summary>
    public static PanelReadings Logged(
        ServiceKind service, NominalVoltage nominal, OtherSource source, List<OtherLoad> loads, List<OtherLoad> switched, OtherMeter meter, Random random)
    {
        var rows = random.Next(60, 300);
        var interval = new[] { 1.0, 10, 60, 300 }[random.Next(4)];
        var wander = new[] { 0, 0, 1e-4, 1e-3 }[random.Next(4)];
        var chance = 0.02 + (0.2 * random.NextDouble());
        var isOn = switched.Select(_ => random.NextDouble() < 0.5).ToArray();
        List<OtherLoad> all = [.. loads, .. switched];
        var columns = new List<(LogColumn Column, double[] Values)>();
        foreach (var channel in meter.Channels)
        {
            columns.Add((channel >= Channel.I1
                ? new(channel.ToString(), LogQuantity.Current, channel == Channel.IN ? LogPlace.Neutral : LogPlace.Phase1 + (channel - Channel.I1))
                : new(channel.ToString(), LogQuantity.Voltage, channel >= Channel.V12 ? LogPlace.Pair12 + (channel - Channel.V12) : LogPlace.Phase1 + (int)channel), new double[rows]));
        }

        var rise = 0.0;
        for (var row = 0; row < rows; row++)
        {
            rise = (0.95 * rise) + (wander * ((2 * random.NextDouble()) - 1));
            for (var load = 0; load < isOn.Length; load++) isOn[load] ^= random.NextDouble() < chance;
            var state = source.Solve(all, [.. loads.Select(_ => 1.0), .. isOn.Select(on => on ? 1.0 : 0)], rise);
            var read = meter.Read(state.Potentials[0], state.Currents[0], true);
            for (var channel = 0; channel < read.Length; channel++) columns[channel].Values[row] = Math.Round(read[channel].Magnitude, meter.Channels[channel] < Channel.I1 ? 2 : 3);
            var column = read.Length;
            foreach (var (phase, power) in Powers(service, meter.Channels, read))
            {
                if (row == 0)
                {
                    columns.Add((new($"P{phase}", LogQuantity.ActivePower, LogPlace.Phase1 + (phase - 1)), new double[rows]));
                    columns.Add((new($"Q{phase}", LogQuantity.ReactivePower, LogPlace.Phase1 + (phase - 1)), new double[rows]));
                }

                (columns[column++].Values[row], columns[column++].Values[row]) = (power.Real, power.Imaginary);
            }
        }

        var start = new DateTime(2026, 3, 2, 8, 0, 0, DateTimeKind.Unspecified).Ticks;
        var log = new IntervalLog(
            [.. columns.Select(entry => entry.Column)], [.. Enumerable.Range(0, rows).Select(row => start + (long)(row * interval * TimeSpan.TicksPerSecond))],
            [.. columns.Select(entry => entry.Values)], interval);
        return PanelLog.Read(log, 0, rows, service, nominal) ?? throw new InvalidOperationException("Not read.");
    }

    /// <summary>Volt-amperes as an instrument forms them: line by line to neutral or to the inputs' centre, on two clamps against the line between.</summary>
    private static IEnumerable<(int Phase, Complex Power)> Powers(ServiceKind service, Channel[] channels, Complex[] read)
    {
        Complex Of(Channel channel) => read[Array.IndexOf(channels, channel)];
        if (service == ServiceKind.DeltaTwoClamp)
            return [(1, Of(Channel.V12) * Complex.Conjugate(Of(Channel.I1))), (2, -Of(Channel.V23) * Complex.Conjugate(Of(Channel.I3)))];
        if (service == ServiceKind.Delta)
        {
            Complex[] star = [(Of(Channel.V12) - Of(Channel.V31)) / 3, (Of(Channel.V23) - Of(Channel.V12)) / 3, (Of(Channel.V31) - Of(Channel.V23)) / 3];
            return [.. star.Select((volts, phase) => (phase + 1, volts * Complex.Conjugate(Of(Channel.I1 + phase))))];
        }

        return [.. channels.Where(channel => channel <= Channel.V3).Select(channel => ((int)channel + 1, Of(channel) * Complex.Conjugate(Of(Channel.I1 + (int)channel))))];
    }
}
