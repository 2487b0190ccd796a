using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;

namespace Leadwright.Reports.Hookups;

/// <summary>What the channels' readings say of the conductors themselves, if the leads and clamps are where a hook-up says.</summary>
/// <param name="verdict">The verdict that holds the phasors.</param>
/// <param name="hookup">The hook-up that is taken for true.</param>
internal sealed class ConductorPhasors(HookupVerdict verdict, Hookup hookup)
{
    private readonly bool _isThreeWire = Service.Of(verdict.Service).IsThreeWire;

    /// <summary>The voltage of a conductor: to neutral, on three-wire services to the star point; null when it can't be had.</summary>
    public Phasor? VoltageOf(Conductor conductor)
    {
        if (OnConductor(conductor) is not { } line) return null;
        if (_isThreeWire) return line;
        if (OnConductor(Conductor.N) is { } neutral) return line - neutral;

        // With the neutral lead in the air the inputs' star point stands in for the neutral.
        return hookup.Leads.TryGetValue(Lead.VN, out var place) && place is null ? line : null;
    }

    /// <summary>The current toward the load that a clamp has in its jaws, at its true ratio; null when it can't be had.</summary>
    public Phasor? CurrentIn(Clamp clamp)
    {
        if (!hookup.Clamps.TryGetValue(clamp, out var place) || place.On is null) return null;
        if (!verdict.Phasors.TryGetValue(ChannelOf(clamp), out var read)) return null;
        return (place.Reversed ? -1 : 1) / place.Scale * read;
    }

    /// <summary>Degrees by which the current in a clamp lags the voltage of the conductor it is on; null when it can't be had.</summary>
    public double? LagOf(Clamp clamp)
    {
        if (CurrentIn(clamp) is not { } current || current.SquaredMagnitude == 0) return null;
        if (hookup.Clamps[clamp].On is not { } on || on is Conductor.N or Conductor.G) return null;
        if (VoltageOf(on) is not { } voltage || voltage.SquaredMagnitude == 0) return null;
        return Angle.WrapDegrees(voltage.AngleDegrees - current.AngleDegrees);
    }

    /// <summary>The channel that shows a clamp's reading.</summary>
    public static Channel ChannelOf(Clamp clamp) => Channel.I1 + (int)clamp;

    private Phasor? OnConductor(Conductor conductor)
    {
        foreach (var (lead, place) in hookup.Leads)
        {
            if (place == conductor && OnLead(lead) is { } potential) return potential;
        }

        return null;
    }

    private Phasor? OnLead(Lead lead)
    {
        if (lead == Lead.VN) return Phasor.Zero;
        if (verdict.Phasors.TryGetValue(Channel.V1 + (int)lead, out var direct)) return direct;

        // From lead to lead, to the star point: V1 = (V12 − V31)/3 and so round, since the three add up to zero.
        Span<Phasor?> between =
        [
            Read(Channel.V12), Read(Channel.V23), Read(Channel.V31),
        ];
        for (var index = 0; index < 3; index++)
        {
            if (between[index] is null && between[(index + 1) % 3] is { } next && between[(index + 2) % 3] is { } after)
                between[index] = -(next + after);
        }

        var own = (int)lead;
        return between[own] is { } toNext && between[(own + 2) % 3] is { } fromLast ? (toNext - fromLast) / 3 : null;
    }

    private Phasor? Read(Channel channel) => verdict.Phasors.TryGetValue(channel, out var phasor) ? phasor : null;
}
