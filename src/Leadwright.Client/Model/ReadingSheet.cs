using System.Collections.Immutable;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;

namespace Leadwright.Client.Model;

/// <summary>Which numbers are asked for, by service and by what the instrument shows.</summary>
public static class ReadingSheet
{
    /// <summary>The groups of rows to type.</summary>
    /// <param name="service">The service.</param>
    /// <param name="shows">What the instrument shows.</param>
    /// <param name="texts">Texts already there: a channel that has one is asked for even if the service does not need it, so
    /// that nothing loaded stays out of sight.</param>
    public static ImmutableArray<ReadingGroup> Groups(
        ServiceKind service, MeterShows shows, IReadOnlyDictionary<string, string> texts)
    {
        var groups = ImmutableArray.CreateBuilder<ReadingGroup>();
        var voltages = Voltages(service).Union(Filled(texts).Where(IsVoltage)).Order().ToArray();
        var rows = voltages.Select(channel => ChannelRow(channel, service, shows)).ToList();
        if (shows.HasFlag(MeterShows.GroundLead) && HasNeutral(service)) rows.Add(GroundRow(shows));
        groups.Add(new("Voltages", [.. rows]));

        var currents = Currents(service).Union(Filled(texts).Where(channel => !IsVoltage(channel) && channel != Channel.IN)).Order().ToList();
        if (shows.HasFlag(MeterShows.NeutralClamp) && HasNeutral(service)) currents.Add(Channel.IN);
        groups.Add(new("Currents", [.. currents.Select(channel => ChannelRow(channel, service, shows))]));

        if (shows.HasFlag(MeterShows.Powers) || shows.HasFlag(MeterShows.PowerFactors))
            groups.Add(new("Power of each phase", [.. Phases(service).Select(phase => PowerRow(phase, service, shows))]));
        if (shows.HasFlag(MeterShows.BetweenLeads))
            groups.Add(new("Between leads", [.. Between(service).Select(BetweenRow)]));
        return groups.ToImmutable();
    }

    /// <summary>The voltage channels of a service's usual instrument.</summary>
    public static ImmutableArray<Channel> Voltages(ServiceKind service) => service switch
    {
        ServiceKind.Wye or ServiceKind.HighLeg => [Channel.V1, Channel.V2, Channel.V3],
        ServiceKind.Split or ServiceKind.Network => [Channel.V1, Channel.V2],
        ServiceKind.Single => [Channel.V1],
        _ => [Channel.V12, Channel.V23, Channel.V31],
    };

    /// <summary>The current channels of a service's usual instrument, the neutral clamp left out.</summary>
    public static ImmutableArray<Channel> Currents(ServiceKind service) =>
        [.. Service.Of(service).Clamps.Select(clamp => Channel.I1 + (int)clamp)];

    /// <summary>The phase numbers that powers are read for: those of the clamps.</summary>
    public static ImmutableArray<int> Phases(ServiceKind service) => [.. Service.Of(service).Clamps.Select(clamp => (int)clamp + 1)];

    /// <summary>The pairs of leads that can be read besides the voltage channels.</summary>
    public static ImmutableArray<Channel> Between(ServiceKind service) => service switch
    {
        ServiceKind.Wye or ServiceKind.HighLeg => [Channel.V12, Channel.V23, Channel.V31],
        ServiceKind.Split or ServiceKind.Network => [Channel.V12],
        _ => [],
    };

    /// <summary>True on services with a neutral that a clamp can go round.</summary>
    public static bool HasNeutral(ServiceKind service) => !Service.Of(service).IsThreeWire;

    /// <summary>True for a voltage channel.</summary>
    public static bool IsVoltage(Channel channel) => channel < Channel.I1;

    /// <summary>The channel's key for its size.</summary>
    public static string RmsKey(Channel channel) => $"{channel}.rms";

    /// <summary>The channel's key for its angle.</summary>
    public static string AngleKey(Channel channel) => $"{channel}.angle";

    /// <summary>The key for the volts between two leads, read besides the channels.</summary>
    public static string BetweenKey(Channel channel) => $"{channel}.between";

    /// <summary>The key for the neutral lead to a ground lead; <paramref name="what"/> is rms or angle.</summary>
    public static string GroundKey(string what) => $"VNG.{what}";

    /// <summary>The key for a power of a phase; <paramref name="what"/> is watts, vars, va or pf.</summary>
    public static string PowerKey(int phase, string what) => string.Create(System.Globalization.CultureInfo.InvariantCulture, $"P{phase}.{what}");

    private static IEnumerable<Channel> Filled(IReadOnlyDictionary<string, string> texts) =>
        Enum.GetValues<Channel>().Where(channel => texts.ContainsKey(RmsKey(channel)) || texts.ContainsKey(AngleKey(channel)));

    private static ReadingRow ChannelRow(Channel channel, ServiceKind service, MeterShows shows)
    {
        var rms = IsVoltage(channel)
            ? new ReadingField(RmsKey(channel), "volts", "V", false, 1e6)
            : new ReadingField(RmsKey(channel), "amps", "A", false, 1e6);
        var angle = new ReadingField(AngleKey(channel), "angle", "°", true, 720);
        return new(channel.ToString(), Says(channel, service), shows.HasFlag(MeterShows.Angles) ? [rms, angle] : [rms]);
    }

    private static string Says(Channel channel, ServiceKind service) => channel switch
    {
        Channel.V1 or Channel.V2 or Channel.V3 =>
            HasNeutral(service) ? $"Lead {channel} to neutral" : $"Lead {channel} to the star point",
        Channel.V12 => "Lead 1 to lead 2",
        Channel.V23 => "Lead 2 to lead 3",
        Channel.V31 => "Lead 3 to lead 1",
        Channel.IN => "Clamp on the neutral",
        _ => $"Clamp {channel}",
    };

    private static ReadingRow PowerRow(int phase, ServiceKind service, MeterShows shows)
    {
        var fields = ImmutableArray.CreateBuilder<ReadingField>();
        if (shows.HasFlag(MeterShows.Powers))
        {
            fields.Add(new(PowerKey(phase, "watts"), "watts", "W", true, 1e9));
            fields.Add(new(PowerKey(phase, "vars"), "vars", "var", true, 1e9));
        }

        if (shows.HasFlag(MeterShows.PowerFactors))
        {
            fields.Add(new(PowerKey(phase, "va"), "volt-amps", "VA", false, 1e9));
            fields.Add(new(PowerKey(phase, "pf"), "power factor", "", true, 1));
        }

        var plate = string.Create(System.Globalization.CultureInfo.InvariantCulture, $"P{phase}");
        return new(plate, service == ServiceKind.DeltaTwoClamp ? $"Element of clamp I{phase}" : $"Phase {phase}", fields.ToImmutable());
    }

    private static ReadingRow GroundRow(MeterShows shows)
    {
        var rms = new ReadingField(GroundKey("rms"), "volts", "V", false, 1e6);
        var angle = new ReadingField(GroundKey("angle"), "angle", "°", true, 720);
        return new("VNG", "Neutral lead to ground", shows.HasFlag(MeterShows.Angles) ? [rms, angle] : [rms]);
    }

    private static ReadingRow BetweenRow(Channel channel) =>
        new(channel.ToString(), Says(channel, ServiceKind.Delta), [new(BetweenKey(channel), "volts", "V", false, 1e6)]);
}
