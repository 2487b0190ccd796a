namespace Leadwright.Core.Hookups.Hypotheses;

/// <summary>All arrangements of the clamps, and which becomes which when the lines' names are exchanged.</summary>
internal sealed class ClampMapTable
{
    private readonly int[][] _relabelled;

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
    }

    /// <summary>The arrangements.</summary>
    public List<ClampMap> Maps { get; }

    /// <summary>The arrangement that one becomes; null when it is too rare to be listed.</summary>
    public ClampMap? Relabelled(int relabelling, int index) =>
        _relabelled[relabelling][index] is >= 0 and var other ? Maps[other] : null;

    private static int Code(ClampMap map, Relabelling relabelling)
    {
        var code = map.OffScale + 1;
        code = (code * 7) + (map.OffScale < 0 ? 0 : map.Scale switch { 10 => 1, 0.1 => 2, 5 => 3, 0.2 => 4, 2 => 5, _ => 6 });
        for (var position = 0; position < map.On.Length; position++)
            code = (code * 10) + (relabelling.To[map.On[position]] * 2) + (map.Reversed[position] ? 1 : 0);
        return code;
    }
}
