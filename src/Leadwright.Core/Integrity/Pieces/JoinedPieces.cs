using Leadwright.Core.Hookups;

namespace Leadwright.Core.Integrity.Pieces;

/// <summary>What neighbouring pieces say of each other: one movement explains all rows that stand so without a break.</summary>
internal static class JoinedPieces
{
    private const int LeastTurns = 4;
    private const double LeastShare = 0.15;
    private const double MostAtOneAngle = 0.7;
    private const double HoursBetween = 6;
    private const double LeastHours = 2;
    private const double OnTheNeutral = 0.85;

    /// <summary>Joins them, in place.</summary>
    /// <param name="chained">The chains.</param>
    /// <param name="judged">The pieces, in the order of time.</param>
    /// <param name="anchor">The hook-up of the longest piece.</param>
    public static void Join(Chained chained, List<JudgedPiece> judged, Hookup anchor)
    {
        Bridge(chained, judged, anchor);
        Wander(chained, judged, anchor);
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

    /// <summary>What comes back by the neutral stands at any angle, and at another from hour to hour: a clamp that is said to be turned by this and by that, with nothing wrong between, and not at
    /// all before and after, is on the neutral. What recurs at one angle is a load's.</summary>
    private static void Wander(Chained chained, List<JudgedPiece> judged, Hookup anchor)
    {
        var frame = chained.Frame;
        if (frame.Lines != 3 || frame.Service.IsThreeWire || frame.Options.Check.MayExport || !anchor.IsRight) return;
        for (var clamp = 0; clamp < frame.Lines; clamp++)
        {
            List<JudgedPiece> pieces = [.. judged.Where(piece => IsOfClamp(piece.Hookup, anchor, (Clamp)clamp))];
            if (pieces.Count < LeastTurns || pieces.Select(piece => piece.Key.Turn(clamp)).Distinct().Count() < 2) continue;
            var (from, to) = (pieces[0].From, pieces[^1].To);
            var rows = to - from + 1;
            var turned = pieces.Sum(piece => piece.To - piece.From + 1);
            // What stands at one angle for most of the time is moved, and the load does the rest.
            if (pieces.GroupBy(piece => piece.Key.Turn(clamp)).Max(group => group.Sum(piece => piece.To - piece.From + 1)) > MostAtOneAngle * turned) continue;
            var gap = (int)(HoursBetween * 3600 / frame.Log.IntervalSeconds);
            if (2 * rows > frame.Count || rows * frame.Log.IntervalSeconds < LeastHours * 3600) continue;
            if (LeastShare * rows > turned || Enumerable.Range(1, pieces.Count - 1).Any(at => pieces[at].From - pieces[at - 1].To > gap)) continue;
            var hookup = anchor with { Clamps = anchor.Clamps.SetItem((Clamp)clamp, ClampPlace.Right(Circuits.Conductor.N)) };
            for (var at = 0; at < judged.Count; at++)
            {
                if (judged[at].From >= from && judged[at].To <= to && (judged[at].Hookup == anchor || pieces.Contains(judged[at])))
                    judged[at] = judged[at] with { Hookup = hookup, Confidence = OnTheNeutral, Odds = 2, Alternatives = [] };
            }
        }
    }

    /// <summary>True where one clamp of a line is the only one that stands otherwise.</summary>
    private static bool IsOfClamp(Hookup hookup, Hookup anchor, Clamp clamp) =>
        hookup != anchor && anchor.Clamps.TryGetValue(clamp, out var usual) && hookup.Clamps.TryGetValue(clamp, out var place) && place is { On: not null, Scale: 1 }
        && hookup with { Clamps = hookup.Clamps.SetItem(clamp, usual) } == anchor;

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
