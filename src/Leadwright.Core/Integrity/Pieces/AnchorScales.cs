using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity.Chains;

namespace Leadwright.Core.Integrity.Pieces;

/// <summary>The ratios of the longest piece's clamps, where other pieces show that not all of them were set right.</summary>
internal static class AnchorScales
{
    /// <summary>How near the neutral comes to the lines' sum, logarithm: loads' angles and harmonics of the third order part them.</summary>
    private const double NearSum = 0.3;

    /// <summary>By what the anchor's clamps read too much: where the hours before or after a jump of ratio are the wrong ones, the voltages' answer tells.</summary>
    public static double[] Find(Chained chained, RowKey anchorKey, Hookup anchor, Dictionary<RowKey, List<RowPiece>> groups)
    {
        var scales = new double[4];
        for (var clamp = 0; clamp < 4; clamp++)
        {
            scales[clamp] = anchor.Clamps.TryGetValue((Clamp)clamp, out var place) && place.On is not null ? place.Scale : 1;
            if (scales[clamp] == 1 && chained.Currents[clamp] is { } known && (chained.Sum is not null || known.IsAbsolute) && known.Scales[anchorKey.Scale(clamp)] is > 0 and var sure)
            {
                // Where the currents add up to nothing, or beside the other lines, a scale is known for itself.
                scales[clamp] = sure;
                continue;
            }

            if (clamp == 3 || scales[clamp] != 1 || chained.Currents[clamp] is not { } currents || !currents.Answer.IsSharp) continue;
            var others = Enumerable.Range(0, 3).Where(other => other != clamp && chained.Currents[other] is { Answer.IsSharp: true })
                .Select(other => chained.Currents[other]!.Answer.PerAmpere).ToArray();
            if (others.Length == 0) continue;
            var own = Math.Log(currents.Answer.PerAmpere / others.Average());
            // Ten times too weak or too strong an answer, where the other two agree, is a ratio wrong all the time.
            // Of a clamp that was turned round for some of the time both signs were learned together.
            var isTurned = chained.Angles[clamp] is { } angles && angles.Rows.Count(turn => turn > 0) > angles.Rows.Length / 20;
            var agrees = !isTurned && others.Length == 2 && Math.Abs(Math.Log(others[0] / others[1])) < 0.35;
            if (agrees && chained.Frame.Service.Kind == ServiceKind.Wye && Math.Abs(Math.Abs(own) - Math.Log(10)) < 0.3) scales[clamp] = own < 0 ? 10 : 0.1;
            // What all clamps read wrong at once tells of none of them against the others.
            foreach (var scale in groups.Keys.Where(key => !AreAllAt(chained, key)).Select(key => currents.Scales[key.Scale(clamp)]).Where(scale => scale is not (0 or 1)).Distinct())
            {
                // With the others right, the clamp's own answer is 1; with the anchor wrong by 1/scale it is that much larger.
                // The phases' own impedances may differ by a quarter, unless the other two agree.
                var isNear = Math.Abs(Math.Log(scale)) > 1 ? Math.Abs(own - Math.Log(scale)) < 0.5 * Math.Abs(own)
                    : others.Length == 2 && Math.Abs(Math.Log(others[0] / others[1])) < 0.25 && Math.Abs(own - Math.Log(scale)) < 0.25;
                // To be wrong before, right for a while and wrong again takes three hands: two other lines must say so, and closely.
                isNear &= !IsBetween(anchorKey, clamp, currents, scale, groups) || (others.Length == 2 && Math.Abs(own - Math.Log(scale)) < 0.3);
                if (isNear) scales[clamp] = 1 / scale;
            }
        }

        ByNeutral(chained, anchorKey, groups, scales);
        return scales;
    }

    /// <summary>All lines' clamps at one ratio in some pieces: the neutral's own clamp, whose ratio is another setting, shows in which of them the lines add up to it.</summary>
    private static void ByNeutral(Chained chained, RowKey anchorKey, Dictionary<RowKey, List<RowPiece>> groups, double[] scales)
    {
        var frame = chained.Frame;
        if (frame.Lines < 2 || frame.NeutralSum is not { } sum || Enumerable.Range(0, frame.Lines).Any(clamp => scales[clamp] != 1 || chained.Currents[clamp] is null)) return;
        foreach (var (key, pieces) in groups)
        {
            double[] ratios = [.. Enumerable.Range(0, frame.Lines).Select(clamp => chained.Currents[clamp]!.Scales[key.Scale(clamp)] / chained.Currents[clamp]!.Scales[anchorKey.Scale(clamp)]).Distinct()];
            if (key == anchorKey || ratios is not [var ratio] || !double.IsFinite(ratio) || ratio is 0 or 1) continue;
            double there = sum.ShownTo(frame, pieces), here = sum.ShownTo(frame, groups[anchorKey]);
            if (!(Math.Abs(Math.Log(there)) < NearSum) || !(Math.Abs(Math.Log(here / ratio)) < NearSum) || !(Math.Abs(Math.Log(ratio)) > 2 * NearSum)) continue;
            for (var clamp = 0; clamp < frame.Lines; clamp++) scales[clamp] = 1 / ratio;
            return;
        }
    }

    private static bool AreAllAt(Chained chained, RowKey key) => chained.Frame.Lines > 1
        && Enumerable.Range(0, chained.Frame.Lines).Select(clamp => chained.Currents[clamp] is { } current ? current.Scales[key.Scale(clamp)] : 1).Distinct().Count() == 1;

    /// <summary>True where all rows of a ratio lie between rows of the anchor.</summary>
    private static bool IsBetween(RowKey anchorKey, int clamp, CurrentHistory currents, double scale, Dictionary<RowKey, List<RowPiece>> groups)
    {
        var pieces = groups.Where(group => currents.Scales[group.Key.Scale(clamp)] == scale).SelectMany(group => group.Value).ToList();
        return groups[anchorKey].Exists(piece => piece.To < pieces.Min(other => other.From)) && groups[anchorKey].Exists(piece => piece.From > pieces.Max(other => other.To));
    }
}
