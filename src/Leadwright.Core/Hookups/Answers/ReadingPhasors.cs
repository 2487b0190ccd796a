using System.Collections.Immutable;
using Leadwright.Core.Circuits;

namespace Leadwright.Core.Hookups.Answers;

/// <summary>The readings as phasors in this project's convention, for drawing.</summary>
internal static class ReadingPhasors
{
    public static ImmutableSortedDictionary<Channel, Phasor> Of(PanelReadings readings, Hypothesis strongest)
    {
        var convention = strongest.Convention;
        var sign = convention.LagPositive ? -1 : 1;
        var phasors = ImmutableSortedDictionary.CreateBuilder<Channel, Phasor>();
        foreach (var (channel, reading) in readings.Channels)
        {
            if (reading.Rms is not { } rms || channel >= Channel.I1) continue;
            var degrees = reading.AngleDegrees * sign
                ?? (readings.IsReplayed && channel <= Channel.V3 ? -120.0 * (int)channel : channel == Channel.V1 ? 0 : null);
            if (degrees is { } angle) phasors[channel] = Phasor.FromDegrees(rms, angle);
        }

        if (readings.IsReplayed && phasors.TryGetValue(Channel.V1, out var first))
        {
            phasors[Channel.V2] = first.TurnedByDegrees(-120);
            phasors[Channel.V3] = first.TurnedByDegrees(120);
        }

        foreach (var (channel, reading) in readings.Channels)
        {
            if (channel < Channel.I1 || reading.Rms is not { } rms) continue;
            if (reading.AngleDegrees is { } angle)
            {
                var own = convention.OwnVoltage && channel != Channel.IN
                    && phasors.TryGetValue(Channel.V1 + (channel - Channel.I1), out var voltage) ? voltage.AngleDegrees : 0;
                phasors[channel] = Phasor.FromDegrees(rms, (sign * angle) + own);
            }
            else if (channel != Channel.IN
                && readings.Phases.TryGetValue(channel - Channel.I1 + 1, out var power)
                && power is { Watts: { } watts, Vars: { } vars }
                && phasors.TryGetValue(Channel.V1 + (channel - Channel.I1), out var own))
            {
                var turn = convention.LoadNegative ? 180 : 0;
                phasors[channel] = Phasor.FromDegrees(
                    rms, own.AngleDegrees - (Math.Atan2(vars, watts) * 180 / Math.PI) + turn);
            }
        }

        return phasors.ToImmutable();
    }
}
