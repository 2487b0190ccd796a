using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;

namespace Leadwright.Core.Tests.Hookups.Others;

/// <summary>Slips of the hand, made by moving leads and clamps.</summary>
internal static class OtherSlips
{
    /// <summary>The names of the slips that a service offers.</summary>
    public static string[] Of(ServiceKind kind, bool hasNeutralClamp)
    {
        var service = Service.Of(kind);
        List<string> names = ["clamp reversed", "all clamps reversed", "clamp open", "ratio ×10", "ratio ×0.1", "ratio ×2", "ratio ×5", "lead open"];
        if (service.Clamps.Length > 1) names.AddRange(["clamps exchanged", "clamps on same", "leads on same", "leads exchanged"]);
        if (service.Clamps.Length > 2) names.AddRange(["clamps rotated"]);
        if (service.Leads.Count(lead => lead != Lead.VN) > 2) names.AddRange(["leads rotated"]);
        if (service.Conductors.Contains(Conductor.N)) names.AddRange(["clamp on neutral", "lead on neutral", "neutral lead open", "neutral lead exchanged"]);
        if (hasNeutralClamp) names.AddRange(["neutral clamp reversed", "neutral clamp open"]);
        return [.. names];
    }

    /// <summary>Makes a slip; null where it can't be made on this hook-up.</summary>
    public static Hookup? Make(string slip, ServiceKind kind, Hookup at, Random random)
    {
        var service = Service.Of(kind);
        Clamp[] clamps = [.. service.Clamps];
        Lead[] lines = [.. service.Leads.Where(lead => lead != Lead.VN)];
        var clamp = clamps[random.Next(clamps.Length)];
        var lead = lines[random.Next(lines.Length)];
        switch (slip)
        {
            case "clamp reversed": return Turned(at, clamp);
            case "neutral clamp reversed": return Turned(at, Clamp.IN);
            case "all clamps reversed": return clamps.Aggregate(at, Turned);
            case "clamp open": return Put(at, clamp, new ClampPlace(null, false, 1));
            case "neutral clamp open": return Put(at, Clamp.IN, new ClampPlace(null, false, 1));
            case "clamp on neutral": return Put(at, clamp, at.Clamps[clamp] with { On = Conductor.N });
            case "ratio ×10": return Scaled(at, clamp, 10);
            case "ratio ×0.1": return Scaled(at, clamp, 0.1);
            case "ratio ×2": return Scaled(at, clamp, 2);
            case "ratio ×5": return Scaled(at, clamp, 5);
            case "clamps on same":
                var other = clamps[(Array.IndexOf(clamps, clamp) + 1 + random.Next(clamps.Length - 1)) % clamps.Length];
                return at.Clamps[other].On is null ? null : Put(at, clamp, at.Clamps[clamp] with { On = at.Clamps[other].On });
            case "clamps exchanged":
                var second = clamps[(Array.IndexOf(clamps, clamp) + 1 + random.Next(clamps.Length - 1)) % clamps.Length];
                var (one, two) = (at.Clamps[clamp], at.Clamps[second]);
                return Put(Put(at, clamp, one with { On = two.On }), second, two with { On = one.On });
            case "clamps rotated":
                var step = 1 + random.Next(2);
                var places = Array.ConvertAll(clamps, each => at.Clamps[each].On);
                for (var index = 0; index < 3; index++) at = Put(at, clamps[index], at.Clamps[clamps[index]] with { On = places[(index + step) % 3] });
                return at;
            case "lead open": return Put(at, lead, null);
            case "neutral lead open": return Put(at, Lead.VN, null);
            case "lead on neutral": return Put(at, lead, Conductor.N);
            case "leads on same": return Put(at, lead, at.Leads[lines[(Array.IndexOf(lines, lead) + 1 + random.Next(lines.Length - 1)) % lines.Length]]);
            case "leads exchanged": return Exchanged(at, lead, lines[(Array.IndexOf(lines, lead) + 1 + random.Next(lines.Length - 1)) % lines.Length]);
            case "neutral lead exchanged": return Exchanged(at, lead, Lead.VN);
            default:
                var by = 1 + random.Next(2);
                var from = Array.ConvertAll(lines, each => at.Leads[each]);
                for (var index = 0; index < 3; index++) at = Put(at, lines[index], from[(index + by) % 3]);
                return at;
        }
    }

    /// <summary>Everything moved round together: reads as the right hook-up does.</summary>
    public static Hookup AllRotated(ServiceKind kind, Hookup at, int by)
    {
        Conductor? Next(Conductor? on) => on is { } conductor && conductor < Conductor.N ? (Conductor)(((int)conductor + by) % 3) : on;
        var service = Service.Of(kind);
        foreach (var lead in service.Leads) at = Put(at, lead, Next(at.Leads[lead]));
        foreach (var clamp in service.Clamps) at = Put(at, clamp, at.Clamps[clamp] with { On = Next(at.Clamps[clamp].On) });
        return at;
    }

    private static Hookup Exchanged(Hookup at, Lead one, Lead two) => Put(Put(at, one, at.Leads[two]), two, at.Leads[one]);

    private static Hookup Turned(Hookup at, Clamp clamp) =>
        at.Clamps[clamp].On is null ? at : Put(at, clamp, at.Clamps[clamp] with { Reversed = !at.Clamps[clamp].Reversed });

    private static Hookup? Scaled(Hookup at, Clamp clamp, double by) =>
        at.Clamps[clamp].On is null ? null : Put(at, clamp, at.Clamps[clamp] with { Scale = at.Clamps[clamp].Scale * by });

    private static Hookup Put(Hookup at, Lead lead, Conductor? on) => at with { Leads = at.Leads.SetItem(lead, on) };

    private static Hookup Put(Hookup at, Clamp clamp, ClampPlace place) => at with { Clamps = at.Clamps.SetItem(clamp, place) };
}
