using System.Collections.Immutable;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Integrity.Pieces;

/// <summary>Lowers the confidence of pieces that a load shows more often than a hand does.</summary>
internal static class DoubtfulPieces
{
    private const int TooOften = 3;
    private const double SecondsBetween = 7200;
    private const double Doubtful = 0.6;
    private const double ShortSeconds = 12 * 3600;
    private const double OddsOfShort = 15;
    private const int FewRows = 3;
    private const double SecondsOfFarFetched = 5400;

    public static void Lower(Chained chained, List<JudgedPiece> judged, Hookup anchor)
    {
        LowerShortRatios(chained, judged, anchor);
        LowerWhatRecurs(chained.Frame, judged, anchor);
        if (chained.Frame.Service.IsThreeWire) LowerFarFetched(chained.Frame, judged, anchor);
    }

    /// <summary>On three wires loads between two lines turn the elements' powers by sixty degrees and more for a while: that leads went and clamps as well, and all came back within the hour, is less likely.</summary>
    private static void LowerFarFetched(GuardFrame frame, List<JudgedPiece> judged, Hookup anchor)
    {
        for (var index = 0; index < judged.Count; index++)
        {
            var (piece, first, last) = (judged[index], index, index);
            while (first > 0 && judged[first - 1].Hookup != anchor) first--;
            while (last + 1 < judged.Count && judged[last + 1].Hookup != anchor) last++;
            if (piece.Hookup == anchor || (judged[last].To - judged[first].From + 1) * frame.Log.IntervalSeconds > SecondsOfFarFetched) continue;
            var clamps = piece.Hookup.Clamps.Where(pair => anchor.Clamps.ContainsKey(pair.Key)).Select(pair => (Now: pair.Value, Then: anchor.Clamps[pair.Key])).ToList();
            var movements = (piece.Hookup.Leads.Any(pair => anchor.Leads.TryGetValue(pair.Key, out var on) && on != pair.Value) ? 1 : 0)
                + (clamps.Exists(place => place.Now.On != place.Then.On) ? 1 : 0) + (clamps.Exists(place => place.Now.Reversed != place.Then.Reversed) ? 1 : 0);
            if (movements > 1) judged[index] = piece with { Confidence = Math.Min(piece.Confidence, Doubtful), Alternatives = [new HookupChance(anchor, 1 - Doubtful)] };
        }
    }

    /// <summary>Hardly anybody sets a clamp's range wrong and right again within hours, where loads come and go so: by two or five for some hours, by ten for a few rows.</summary>
    private static void LowerShortRatios(Chained chained, List<JudgedPiece> judged, Hookup anchor)
    {
        var frame = chained.Frame;
        // Where the currents add up to nothing they tell a ratio from a load.
        if (chained.Sum is not null) return;
        for (var index = 0; index < judged.Count; index++)
        {
            var piece = judged[index];
            var rows = piece.To - piece.From + 1;
            if (piece.From == 0 || piece.To == frame.Count - 1 || rows * frame.Log.IntervalSeconds > ShortSeconds || piece.Hookup == anchor) continue;
            var unscaled = piece.Hookup with { Clamps = piece.Hookup.Clamps.ToImmutableSortedDictionary(pair => pair.Key, pair => pair.Value with { Scale = ScaleOf(anchor, pair.Key) }) };
            if (unscaled != anchor) continue;
            // All at once is the recorder's own setting, told by how the voltages answer.
            if (frame.Lines > 1 && piece.Hookup.Clamps.Where(pair => pair.Key != Clamp.IN).Select(pair => Math.Round(pair.Value.Scale / ScaleOf(anchor, pair.Key), 3)).Distinct().Count() == 1) continue;
            var byTen = piece.Hookup.Clamps.All(pair => Math.Abs(Math.Log10(pair.Value.Scale / ScaleOf(anchor, pair.Key))) is < 0.01 or > 0.99);
            if (byTen ? rows <= FewRows : piece.Odds < OddsOfShort) judged[index] = piece with { Confidence = Math.Min(piece.Confidence, Doubtful) };
        }

        static double ScaleOf(Hookup hookup, Clamp clamp) => hookup.Clamps.TryGetValue(clamp, out var place) ? place.Scale : 1;
    }

    /// <summary>Leads and clamps are moved by hand; what comes and goes time and again, with the right hook-up for hours between, is more likely a load.</summary>
    private static void LowerWhatRecurs(GuardFrame frame, List<JudgedPiece> judged, Hookup anchor)
    {
        var rows = Math.Max(1, (int)(SecondsBetween / frame.Log.IntervalSeconds));
        foreach (var group in judged.Where(piece => piece.Hookup != anchor && piece.Hookup.Leads.Values.Concat(piece.Hookup.Clamps.Values.Select(place => place.On)).All(on => on is not null)).GroupBy(piece => piece.Hookup).ToList())
        {
            var last = -1;
            var times = 0;
            foreach (var piece in group.OrderBy(piece => piece.From))
            {
                var isApart = last < 0 || judged.Where(other => other.From > last && other.To < piece.From && other.Hookup == anchor).Sum(other => other.To - other.From + 1) >= rows;
                (last, times) = (piece.To, times + (isApart ? 1 : 0));
            }

            if (times < TooOften) continue;
            for (var index = 0; index < judged.Count; index++)
            {
                if (judged[index].Hookup == group.Key) judged[index] = judged[index] with { Confidence = Math.Min(judged[index].Confidence, Doubtful) };
            }
        }
    }
}
