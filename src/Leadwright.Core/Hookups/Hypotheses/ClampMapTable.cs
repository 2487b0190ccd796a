using System.Collections.Concurrent;
using System.Runtime.CompilerServices;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups.Priors;

namespace Leadwright.Core.Hookups.Hypotheses;

/// <summary>All arrangements of the clamps, and which becomes which when the lines' names are exchanged.</summary>
internal sealed class ClampMapTable
{
    // Kept with the beliefs they are made of: the next judgement mostly asks for the same again, and no answer depends on it.
    private static readonly ConditionalWeakTable<SlipRates, ConcurrentDictionary<(ServiceKind, string, bool), ClampMapTable>> s_kept = [];

    private readonly int[][] _relabelled;

    /// <summary>The arrangements of some clamps on a service.</summary>
    public static ClampMapTable For(Service service, IReadOnlyList<Clamp> clamps, bool mayExport, SlipRates slips)
    {
        var tables = s_kept.GetValue(slips, _ => new());
        return tables.GetOrAdd(
            (service.Kind, string.Join(',', clamps), mayExport),
            _ => new ClampMapTable(service, ClampMaps.Enumerate(service, clamps, mayExport, slips)));
    }

    public ClampMapTable(Service service, List<ClampMap> maps)
    {
        Maps = maps;
        var relabellings = Relabelling.Of(service);
        _relabelled = new int[relabellings.Length][];
        var byCode = new Dictionary<int, int>(maps.Count);
        for (var index = 0; index < maps.Count; index++) byCode[Code(maps[index], relabellings[0])] = index;
        for (var number = 0; number < relabellings.Length; number++)
        {
            var row = _relabelled[number] = new int[maps.Count];
            for (var index = 0; index < maps.Count; index++)
            {
                // Where a ratio on top was too rare to be listed for the relabelled arrangement, it is left out.
                row[index] = byCode.GetValueOrDefault(Code(maps[index], relabellings[number]), -1);
            }
        }

        TopPriors = [.. Enumerable.Range(0, maps.Count).Select(index => _relabelled.Max(row => row[index] < 0 ? double.NegativeInfinity : maps[row[index]].LogPrior))];
        Roles = [.. maps.Select(map => map.RoleCode)];
    }

    /// <summary>The largest prior, as a natural logarithm, of each arrangement under any names of the lines.</summary>
    public double[] TopPriors { get; }

    /// <summary>What each arrangement's clamps tell, as a number below 256: two bits a clamp.</summary>
    public byte[] Roles { get; }

    /// <summary>The arrangements.</summary>
    public List<ClampMap> Maps { get; }

    /// <summary>The arrangement that one becomes; null when it is too rare to be listed.</summary>
    public ClampMap? Relabelled(int relabelling, int index) =>
        _relabelled[relabelling][index] is >= 0 and var other ? Maps[other] : null;

    private static int Code(ClampMap map, Relabelling relabelling)
    {
        var code = map.OffScale + 1;
        code = (code * ClampMap.ScaleCodes) + (map.OffScale < 0 ? 0 : map.ScaleCodeOf(map.OffScale));
        code = (code * 5) + map.SecondOffScale + 1;
        code = (code * ClampMap.ScaleCodes) + (map.SecondOffScale < 0 ? 0 : map.ScaleCodeOf(map.SecondOffScale));
        for (var position = 0; position < map.On.Length; position++)
            code = (code * 10) + (relabelling.To[map.On[position]] * 2) + (map.Reversed[position] ? 1 : 0);
        return code;
    }
}
