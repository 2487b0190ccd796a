using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Integrity.Pieces;

/// <summary>A hook-up in small numbers: conductors 0 to 3, the air −1.</summary>
/// <param name="Leads">Conductor of each lead.</param>
/// <param name="Clamps">Conductor of each clamp.</param>
/// <param name="Reversed">Direction of each clamp.</param>
/// <param name="LogPrior">How often such a movement is made, natural logarithm.</param>
internal sealed record Arrangement(int[] Leads, int[] Clamps, bool[] Reversed, double LogPrior)
{
    public static Arrangement Of(Hookup hookup)
    {
        int[] leads = [0, 1, 2, 3], clamps = [0, 1, 2, 3];
        var reversed = new bool[4];
        foreach (var (lead, on) in hookup.Leads) leads[(int)lead] = on is { } conductor ? Math.Min(3, (int)conductor) : -1;
        foreach (var (clamp, place) in hookup.Clamps)
        {
            clamps[(int)clamp] = place.On is { } conductor ? Math.Min(3, (int)conductor) : -1;
            reversed[(int)clamp] = place.Reversed;
        }

        return new Arrangement(leads, clamps, reversed, 0);
    }

    /// <summary>True when every lead and clamp is on its own conductor, the right way round.</summary>
    public bool IsRight => Leads is [0, 1, 2, 3] && Clamps is [0, 1, 2, 3] && Array.TrueForAll(Reversed, reversed => !reversed);

    public bool IsLike(Arrangement other) =>
        Leads.AsSpan().SequenceEqual(other.Leads) && Clamps.AsSpan().SequenceEqual(other.Clamps) && Reversed.AsSpan().SequenceEqual(other.Reversed);

    /// <summary>Voltage of a channel, nominal line to neutral = 1; null where a lead of it is in the air or nothing is left.</summary>
    public Phasor? Voltage(GuardFrame frame, int channel)
    {
        if (frame.IsTwoElement) return channel == 0 ? Between(frame, 0, 1) : Between(frame, 2, 1);
        var star = Phasor.Zero;
        if (frame.Service.IsThreeWire || Leads[3] < 0)
        {
            var count = 0;
            for (var lead = 0; lead < frame.Lines; lead++)
            {
                if (Leads[lead] < 0) continue;
                star += frame.Ideal[Leads[lead]];
                count++;
            }

            if (count == 0) return null;
            star = star / count;
        }
        else
        {
            star = frame.Ideal[Leads[3]];
        }

        if (Leads[channel] < 0) return null;
        var volts = frame.Ideal[Leads[channel]] - star;
        return volts.Magnitude < 0.05 ? null : volts;
    }

    private Phasor? Between(GuardFrame frame, int one, int other)
    {
        if (Leads[one] < 0 && Leads[other] < 0) return null;
        Phasor[] points = [Point(frame, one), Point(frame, other)];
        var volts = points[0] - points[1];
        return volts.Magnitude < 0.05 ? null : volts;
    }

    /// <summary>A lead in the air of three wires stands at the mean of the others.</summary>
    private Phasor Point(GuardFrame frame, int lead)
    {
        if (Leads[lead] >= 0) return frame.Ideal[Leads[lead]];
        var (sum, count) = (Phasor.Zero, 0);
        for (var other = 0; other < 3; other++)
        {
            if (Leads[other] < 0) continue;
            sum += frame.Ideal[Leads[other]];
            count++;
        }

        return count == 0 ? Phasor.Zero : sum / count;
    }

    /// <summary>By how much the power of a channel is turned against another arrangement, degrees; null where nothing can be said.</summary>
    public double? Turn(GuardFrame frame, Arrangement from, int channel)
    {
        if (Clamps[channel] is < 0 or 3 || from.Clamps[channel] is < 0 or 3) return null;
        if (Voltage(frame, channel) is not { } volts || from.Voltage(frame, channel) is not { } before) return null;
        var turn = volts.AngleDegrees - before.AngleDegrees
            - (frame.Ideal[Clamps[channel]].AngleDegrees - frame.Ideal[from.Clamps[channel]].AngleDegrees)
            + (Reversed[channel] != from.Reversed[channel] ? 180 : 0);
        return Angle.WrapDegrees(turn);
    }
}

/// <summary>What hands and gravity do to a hook-up.</summary>
internal static class Movements
{
    /// <summary>The arrangement itself and all that one movement of leads makes of it.</summary>
    public static IEnumerable<Arrangement> OfLeads(GuardFrame frame, Arrangement origin)
    {
        var lines = frame.Lines;
        yield return origin;
        for (var lead = 0; lead < lines; lead++)
        {
            yield return Lead(origin, lead, -1, -4.8);
            for (var line = 0; line < lines; line++)
            {
                if (origin.Leads[lead] != line) yield return Lead(origin, lead, line, -7);
            }

            if (frame.Service.IsThreeWire) continue;
            if (origin.Leads[lead] != 3) yield return Lead(origin, lead, 3, -6.5);
            yield return Exchange(origin, lead, 3, -6.5);
            yield return Lead(Lead(origin, lead, -1, -5), 3, -1, -4);
        }

        if (!frame.Service.IsThreeWire) yield return Lead(origin, 3, -1, -5);
        for (var first = 0; first < lines; first++)
        {
            for (var second = first + 1; second < lines; second++)
            {
                yield return Exchange(origin, first, second, -5.5);
                if (!frame.Service.IsThreeWire) yield return Lead(Lead(origin, first, -1, -4.8), second, -1, -4);
            }
        }

        if (lines < 3) yield break;
        yield return Exchange(Exchange(origin, 0, 1, -3), 1, 2, -3);
        yield return Exchange(Exchange(origin, 0, 1, -3), 0, 2, -3);
    }

    /// <summary>All that one movement of clamps makes of an arrangement.</summary>
    public static IEnumerable<Arrangement> OfClamps(GuardFrame frame, Arrangement origin)
    {
        int[] clamps = [.. Enumerable.Range(0, frame.Lines).Where(clamp => frame.Amperes[clamp] is not null || frame.Watts[clamp] is not null)];
        foreach (var clamp in clamps)
        {
            yield return Turned(origin, clamp, -4);
            yield return Clamp(origin, clamp, -1, -4.6);
            for (var line = 0; line < frame.Lines; line++)
            {
                if (origin.Clamps[clamp] == line) continue;
                yield return Clamp(origin, clamp, line, -6);
                yield return Turned(Clamp(origin, clamp, line, -6), clamp, -3);
            }

            if (!frame.Service.IsThreeWire) yield return Clamp(origin, clamp, 3, -8);
        }

        if (clamps.Length > 1) yield return clamps.Aggregate(origin with { LogPrior = origin.LogPrior - 4.5 }, (made, clamp) => Turned(made, clamp, 0));
        for (var one = 0; one < clamps.Length; one++)
        {
            for (var other = one + 1; other < clamps.Length; other++)
            {
                var swapped = Swap(origin, clamps[one], clamps[other], -5);
                yield return swapped;
                yield return Turned(swapped, clamps[one], -3);
                yield return Turned(swapped, clamps[other], -3);
                yield return Turned(Turned(swapped, clamps[one], -2), clamps[other], -2);
                yield return Turned(Turned(origin, clamps[one], -3), clamps[other], -3);
            }
        }

        if (clamps.Length < 3) yield break;
        yield return Swap(Swap(origin, 0, 1, -3), 1, 2, -3);
        yield return Swap(Swap(origin, 0, 1, -3), 0, 2, -3);
    }

    private static Arrangement Lead(Arrangement origin, int lead, int on, double prior)
    {
        var leads = (int[])origin.Leads.Clone();
        leads[lead] = on;
        return origin with { Leads = leads, LogPrior = origin.LogPrior + prior };
    }

    private static Arrangement Exchange(Arrangement origin, int one, int other, double prior)
    {
        var leads = (int[])origin.Leads.Clone();
        (leads[one], leads[other]) = (leads[other], leads[one]);
        return origin with { Leads = leads, LogPrior = origin.LogPrior + prior };
    }

    private static Arrangement Clamp(Arrangement origin, int clamp, int on, double prior)
    {
        var clamps = (int[])origin.Clamps.Clone();
        clamps[clamp] = on;
        return origin with { Clamps = clamps, LogPrior = origin.LogPrior + prior };
    }

    private static Arrangement Swap(Arrangement origin, int one, int other, double prior)
    {
        var clamps = (int[])origin.Clamps.Clone();
        (clamps[one], clamps[other]) = (clamps[other], clamps[one]);
        return origin with { Clamps = clamps, LogPrior = origin.LogPrior + prior };
    }

    private static Arrangement Turned(Arrangement origin, int clamp, double prior)
    {
        var reversed = (bool[])origin.Reversed.Clone();
        reversed[clamp] = !reversed[clamp];
        return origin with { Reversed = reversed, LogPrior = origin.LogPrior + prior };
    }
}
