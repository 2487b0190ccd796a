using Leadwright.Core.Hookups;

namespace Leadwright.Core.Integrity.Pieces;

/// <summary>Carries a sure movement of clamps on into rows beside it in which a clamp seems to be on nothing, where the line that it was moved to is idle at these hours.</summary>
/// <remarks>Of lines of which one alone draws by day and all by night, clamps that were exchanged by day look like one that came off: it shows the idle line. By the hours of other days that line is idle, and the clamp that took its place
/// shows what the other one used to.</remarks>
internal static class IdleUnderMoved
{
    private const double Mostly = 0.9;
    private const int LeastRows = 5;

    /// <summary>Carries them on, in place.</summary>
    /// <param name="chained">The chains.</param>
    /// <param name="judged">The pieces, in the order of time.</param>
    /// <param name="anchor">The hook-up of the longest piece.</param>
    public static void Carry(Chained chained, List<JudgedPiece> judged, Hookup anchor)
    {
        if (!anchor.IsRight) return;
        for (var pass = 0; pass < 2; pass++)
        {
            for (var index = 0; index < judged.Count; index++)
            {
                foreach (var beside in new[] { index - 1, index + 1 })
                {
                    if (beside < 0 || beside >= judged.Count || judged[beside] is not { Confidence: >= GuardSpan.SureFrom } moved || !IsOfClamps(moved.Hookup, anchor)) continue;
                    if (IsLackOfOne(judged[index].Hookup, anchor, moved.Hookup) && Fits(chained, judged, judged[index], moved.Hookup, anchor))
                        judged[index] = judged[index] with { Hookup = moved.Hookup, Confidence = moved.Confidence, Odds = moved.Odds, Alternatives = [] };
                }
            }
        }
    }

    /// <summary>True for line clamps that are on lines, and not all on their own.</summary>
    private static bool IsOfClamps(Hookup hookup, Hookup anchor) => hookup != anchor && hookup.Leads.SequenceEqual(anchor.Leads)
        && hookup.Clamps.All(pair => pair.Value is { On: not null, Reversed: false, Scale: 1 } && (pair.Key == Clamp.IN || (int)pair.Value.On! < 3));

    /// <summary>True where nothing but clamps on nothing parts a hook-up from the anchor's, all of them clamps that were moved.</summary>
    private static bool IsLackOfOne(Hookup hookup, Hookup anchor, Hookup moved) => hookup != anchor && hookup.Leads.SequenceEqual(anchor.Leads)
        && hookup.Clamps.All(pair => pair.Value == anchor.Clamps[pair.Key] || (pair.Value.On is null && moved.Clamps[pair.Key] != anchor.Clamps[pair.Key]));

    /// <summary>True where each moved clamp shows something, or nothing, as the line that it was moved to does at these hours while the hook-up is right.</summary>
    private static bool Fits(Chained chained, List<JudgedPiece> judged, JudgedPiece piece, Hookup moved, Hookup anchor)
    {
        var frame = chained.Frame;
        foreach (var (clamp, place) in moved.Clamps)
        {
            if (clamp == Clamp.IN || place == anchor.Clamps[clamp]) continue;
            var line = (int)place.On!;
            if (frame.Amperes[(int)clamp] is not { } amperes || frame.Amperes[line] is not { } usual) return false;
            double floor = chained.Voltages.Floors[(int)clamp], floorOfLine = chained.Voltages.Floors[line];
            var (idle, seen) = (new int[24], new int[24]);
            foreach (var other in judged)
            {
                if (other.Hookup != anchor) continue;
                for (var row = other.From; row <= other.To; row++)
                {
                    seen[frame.From(row).Hour]++;
                    if (usual[row] <= floorOfLine) idle[frame.From(row).Hour]++;
                }
            }

            var (rows, alike) = (0, 0);
            for (var row = piece.From; row <= piece.To; row++)
            {
                var hour = frame.From(row).Hour;
                if (seen[hour] == 0) continue;
                rows++;
                alike += (amperes[row] <= floor) == (2 * idle[hour] > seen[hour]) ? 1 : 0;
            }

            if (rows < LeastRows || alike < Mostly * rows) return false;
        }

        return true;
    }
}
