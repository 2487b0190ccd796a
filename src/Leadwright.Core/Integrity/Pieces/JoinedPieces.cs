using Leadwright.Core.Hookups;

namespace Leadwright.Core.Integrity.Pieces;

/// <summary>What neighbouring pieces say of each other: one movement explains all rows that stand so without a break.</summary>
internal static class JoinedPieces
{
    /// <summary>Joins them, in place.</summary>
    /// <param name="chained">The chains.</param>
    /// <param name="judged">The pieces, in the order of time.</param>
    /// <param name="anchor">The hook-up of the longest piece.</param>
    public static void Join(Chained chained, List<JudgedPiece> judged, Hookup anchor)
    {
        Bridge(chained, judged, anchor);
        Share(judged, anchor);
    }

    /// <summary>Without vars an angle is known by its size alone, and a load of another power factor makes another movement of it for an hour. To be moved to yet
    /// another place and back again within a mishap takes two hands more than that.</summary>
    private static void Bridge(Chained chained, List<JudgedPiece> judged, Hookup anchor)
    {
        for (var index = 1; index < judged.Count - 1; index++)
        {
            var left = judged[index - 1];
            if (left.Hookup == anchor || judged[index].Hookup == left.Hookup) continue;
            var last = index;
            while (last < judged.Count - 1 && judged[last].Hookup != anchor && judged[last].Hookup != left.Hookup && IsByAngleSizes(chained, judged[last].Key, left.Key)) last++;
            if (last == index || judged[last].Hookup != left.Hookup || last >= judged.Count) continue;
            for (var at = index; at < last; at++) judged[at] = judged[at] with { Hookup = left.Hookup, Confidence = left.Confidence, Odds = left.Odds, Alternatives = left.Alternatives };
            index = last;
        }
    }

    private static bool IsByAngleSizes(Chained chained, RowKey key, RowKey other)
    {
        if (key.Voltage != other.Voltage || key.Scales != other.Scales) return false;
        for (var channel = 0; channel < 3; channel++)
        {
            if (key.Turn(channel) != other.Turn(channel) && chained.Angles[channel] is not { HasVars: false }) return false;
        }

        return true;
    }

    /// <summary>Pieces with one hook-up that touch are as sure as the surest of them.</summary>
    private static void Share(List<JudgedPiece> judged, Hookup anchor)
    {
        for (var index = 0; index < judged.Count; index++)
        {
            var last = index;
            while (last + 1 < judged.Count && judged[last + 1].Hookup == judged[index].Hookup) last++;
            if (last > index && judged[index].Hookup != anchor)
            {
                var surest = judged.GetRange(index, last - index + 1).MaxBy(piece => piece.Confidence)!;
                for (var at = index; at <= last; at++) judged[at] = judged[at] with { Confidence = surest.Confidence, Odds = surest.Odds, Alternatives = surest.Alternatives };
            }

            index = last;
        }
    }
}
