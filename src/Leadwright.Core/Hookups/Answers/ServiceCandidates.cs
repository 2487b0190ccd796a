using System.Collections.Immutable;
using Leadwright.Core.Circuits;

namespace Leadwright.Core.Hookups.Answers;

/// <summary>The services that the channels at hand could have been read on, and how often each is met.</summary>
/// <remarks>Shares: common practice, no source.</remarks>
internal static class ServiceCandidates
{
    /// <summary>Voltages of three wires are read between the lines; to a common point, now and then.</summary>
    private const double ThreeWiresReadToOnePoint = 0.1;

    /// <summary>Voltages of a service with a neutral are read to it; between the lines alone, now and then.</summary>
    private const double NeutralNotUsed = 0.15;

    private static readonly (ServiceKind Kind, double Share)[] s_shares =
    [
        (ServiceKind.Wye, 0.45), (ServiceKind.Split, 0.20), (ServiceKind.Delta, 0.12), (ServiceKind.DeltaTwoClamp, 0.08),
        (ServiceKind.Single, 0.06), (ServiceKind.Network, 0.05), (ServiceKind.HighLeg, 0.04),
    ];

    /// <summary>The services, each with its share among them, in the order of <see cref="Service.All"/>.</summary>
    public static ImmutableArray<(ServiceKind Kind, double Share)> Of(PanelReadings readings)
    {
        var all = s_shares
            .Select(entry => (entry.Kind, Share: entry.Share * Fits(readings, Hookups.Service.Of(entry.Kind))))
            .Where(entry => entry.Share > 0)
            .ToList();
        var sum = all.Sum(entry => entry.Share);
        return [.. all.Select(entry => (entry.Kind, entry.Share / sum))];
    }

    /// <summary>How well the set of channels goes with a service, values aside; 0 when not at all.</summary>
    private static double Fits(PanelReadings readings, Service service)
    {
        var voltages = readings.Channels.Keys.Where(channel => channel <= Channel.V31).Concat(readings.LineToLineVolts.Keys).ToHashSet();
        if (voltages.Count == 0) return 0;
        var leads = Enum.GetValues<Lead>().Where(lead => lead != Lead.VN && voltages.Any(channel => Touches(channel, lead))).ToHashSet();
        var clamps = Enum.GetValues<Clamp>().Where(clamp => clamp != Clamp.IN && IsRead(readings, clamp)).ToHashSet();
        if (!leads.SetEquals(service.Leads.Where(lead => lead != Lead.VN))) return 0;
        if (clamps.Count > 0 && !clamps.SetEquals(service.Clamps)) return 0;
        if (service.IsThreeWire && readings.Channels.ContainsKey(Channel.IN)) return 0;
        if (service.IsThreeWire) return voltages.Any(channel => channel <= Channel.V3) ? ThreeWiresReadToOnePoint : 1;
        return voltages.Any(channel => channel <= Channel.V3) ? 1 : NeutralNotUsed;
    }

    private static bool IsRead(PanelReadings readings, Clamp clamp) =>
        readings.Channels.ContainsKey(Channel.I1 + (int)clamp) || readings.Phases.ContainsKey((int)clamp + 1);

    private static bool Touches(Channel channel, Lead lead) => channel switch
    {
        Channel.V12 => lead is Lead.V1 or Lead.V2,
        Channel.V23 => lead is Lead.V2 or Lead.V3,
        Channel.V31 => lead is Lead.V3 or Lead.V1,
        _ => (int)channel == (int)lead,
    };
}
