using System.Collections.Immutable;

namespace Leadwright.Core.Hookups.Likelihoods;

/// <summary>What displayed powers say of the angle between a current and its voltage.</summary>
internal static class PowerAngles
{
    /// <summary>Share by which watts may exceed volts times amperes before they are called impossible.</summary>
    private const double Slack = 0.04;

    /// <summary>Possible angles of the current ahead of its voltage, radians.</summary>
    /// <param name="power">The phase's powers.</param>
    /// <param name="apparentRead">Volts times amperes as read; NaN when amperes are not known.</param>
    /// <param name="loadNegative">True when power to the load is shown negative.</param>
    /// <param name="clamp">The clamp, for notes.</param>
    /// <param name="notes">Receives what is wrong with the powers; null when it was noted already.</param>
    public static AngleCandidate[] Candidates(
        PhasePower power, double apparentRead, bool loadNegative, Clamp clamp, ImmutableArray<Note>.Builder? notes)
    {
        var turn = loadNegative ? Math.PI : 0;
        var apparent = power.VoltAmperes is > 0 ? power.VoltAmperes.Value : apparentRead;
        if (power.Watts is { } watts && power.Vars is { } vars)
        {
            if (watts == 0 && vars == 0) return [];
            if (IsImpossible(Math.Sqrt((watts * watts) + (vars * vars)), apparentRead))
            {
                Note(notes, clamp, Math.Abs(watts) / apparentRead);
                return [];
            }

            return [new(-Math.Atan2(vars, watts) + turn, 1)];
        }

        if (power.Watts is { } active)
        {
            if (active == 0) return [];
            if (IsImpossible(Math.Abs(active), apparentRead) || IsImpossible(Math.Abs(active), apparent))
            {
                Note(notes, clamp, Math.Abs(active) / (double.IsNaN(apparentRead) ? apparent : apparentRead));
                return [];
            }

            if (!double.IsNaN(apparent) && apparent > 0) return EitherSide(Math.Acos(Math.Clamp(active / apparent, -1, 1)), turn);
            if (power.PowerFactor is { } shown && Math.Abs(shown) is > 0 and <= 1)
                return EitherSide(Math.Acos(Math.Abs(shown)) is var angle && active < 0 ? Math.PI - angle : angle, turn);
            return SignOnly(active > 0, turn);
        }

        // A power factor alone: its sign means direction on some meters and lagging or leading on others.
        if (power.PowerFactor is { } factor && Math.Abs(factor) is > 0 and <= 1)
        {
            var angle = Math.Acos(Math.Abs(factor));
            return
            [
                new(-angle + turn, 0.25), new(angle + turn, 0.25),
                new(Math.PI - angle + turn, 0.25), new(angle - Math.PI + turn, 0.25),
            ];
        }

        return [];
    }

    private static bool IsImpossible(double watts, double apparent) => apparent > 0 && watts > (apparent * (1 + Slack)) + 2;

    private static AngleCandidate[] EitherSide(double angle, double turn) =>
        angle < 1e-3 || Math.PI - angle < 1e-3 ? [new(angle + turn, 1)] : [new(-angle + turn, 0.5), new(angle + turn, 0.5)];

    /// <summary>Watts without amperes: only the half-plane is known.</summary>
    private static AngleCandidate[] SignOnly(bool positive, double turn)
    {
        const int Count = 12;
        var candidates = new AngleCandidate[Count];
        for (var index = 0; index < Count; index++)
        {
            var angle = ((index + 0.5) * Math.PI / Count) - (Math.PI / 2) + (positive ? 0 : Math.PI) + turn;
            candidates[index] = new AngleCandidate(angle, 1.0 / Count);
        }

        return candidates;
    }

    private static void Note(ImmutableArray<Note>.Builder? notes, Clamp clamp, double ratio) =>
        notes?.Add(new Note(NoteKind.PowerImpossible, [ObservationBuilder.ChannelOf(clamp)], ratio));
}
