using System.Numerics;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;

namespace Leadwright.Core.Tests.Hookups.Others;

/// <summary>What a channel with a lead in the air reads.</summary>
internal enum OtherOpen
{
    /// <summary>Exactly nothing.</summary>
    Nothing,

    /// <summary>A share of nominal at any angle.</summary>
    Ghost,

    /// <summary>The mean of the leads that are on.</summary>
    Middle,
}

/// <summary>An instrument's inputs: what every channel reads of the conductors, errors included.</summary>
internal sealed class OtherMeter(ServiceKind service, double lineToNeutral, Hookup hookup, OtherOpen open, Complex ghost, Dictionary<Channel, Complex> errors, double idle)
{
    private readonly Service _service = Service.Of(service);

    public Channel[] Channels { get; } =
    [
        .. Service.Of(service).IsThreeWire
            ? [Channel.V12, Channel.V23, Channel.V31]
            : Service.Of(service).Leads.Where(lead => lead != Lead.VN).Select(lead => Channel.V1 + (int)lead),
        .. hookup.Clamps.Keys.Select(clamp => Channel.I1 + (int)clamp),
    ];

    /// <summary>The phasors of all channels at one order.</summary>
    public Complex[] Read(Complex[] potentials, Complex[] currents, bool isFundamental)
    {
        var read = new Complex[Channels.Length];
        for (var index = 0; index < read.Length; index++)
        {
            var channel = Channels[index];
            read[index] = channel >= Channel.I1 ? Current(channel - Channel.I1, currents, isFundamental) : Voltage(channel, potentials, isFundamental);
            read[index] *= errors.TryGetValue(channel, out var error) ? error : 1;
        }

        return read;
    }

    private Complex Current(int clamp, Complex[] currents, bool isFundamental)
    {
        var place = hookup.Clamps[(Clamp)clamp];
        if (place.On is not { } on) return isFundamental ? idle : 0;
        return (place.Reversed ? -place.Scale : place.Scale) * currents[(int)on];
    }

    private Complex Voltage(Channel channel, Complex[] potentials, bool isFundamental)
    {
        var (plus, minus) = channel switch { Channel.V12 => (0, 1), Channel.V23 => (1, 2), Channel.V31 => (2, 0), _ => ((int)channel, 3) };
        var on = hookup.Leads[(Lead)plus];
        var back = hookup.Leads[(Lead)minus];
        if (on is { } from && back is { } to) return potentials[(int)from] - potentials[(int)to];
        var stray = isFundamental ? ghost * lineToNeutral : 0;
        Complex[] live = [.. hookup.Leads.Where(lead => lead.Value is not null && lead.Key != Lead.VN).Select(lead => potentials[(int)lead.Value!])];
        var middle = live.Length == 0 ? Complex.Zero : live.Aggregate(Complex.Zero, (sum, value) => sum + value) / live.Length;
        // Without its neutral lead an instrument has only the other leads to count from.
        if (!_service.IsThreeWire && back is null && _service.Leads.Length > 2) return on is { } alone ? potentials[(int)alone] - middle : stray;
        if (_service.Leads.Length == 2 || open == OtherOpen.Nothing) return open == OtherOpen.Ghost ? stray : 0;
        if (open == OtherOpen.Ghost && !_service.IsThreeWire) return stray;
        Complex PotentialOf(int lead) => hookup.Leads[(Lead)lead] is { } conductor ? potentials[(int)conductor]
            : middle + (open == OtherOpen.Ghost ? stray * (lead == 1 ? 1 : Complex.ImaginaryOne) : 0);
        return PotentialOf(plus) - PotentialOf(minus);
    }
}
