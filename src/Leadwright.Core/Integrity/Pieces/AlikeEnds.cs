using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Integrity.Pieces;

/// <summary>Carries two leads on one conductor on to the recording's own ends, where the few rows left over read alike as well.</summary>
/// <remarks>What is told by long runs of alike readings ends with the last of them. That somebody came in the last hour and put right what had stood for days is likelier shown by the readings than not.</remarks>
internal static class AlikeEnds
{
    private const double MostSeconds = 3 * 3600;
    private const double Within = 3;
    private const double Share = 0.95;
    private const double Spread = 3e-4;

    /// <summary>Carries them on, in place.</summary>
    /// <param name="frame">The recording.</param>
    /// <param name="judged">The pieces, in the order of time.</param>
    public static void Extend(GuardFrame frame, List<JudgedPiece> judged)
    {
        if (judged.Count < 2 || frame.IsPairs) return;
        if (Belongs(frame, judged[0], judged[1])) judged[0] = Joined(judged[0], judged[1]);
        if (Belongs(frame, judged[^1], judged[^2])) judged[^1] = Joined(judged[^1], judged[^2]);
    }

    private static JudgedPiece Joined(JudgedPiece end, JudgedPiece beside) => end with { Hookup = beside.Hookup, Confidence = beside.Confidence, Odds = beside.Odds, Alternatives = beside.Alternatives };

    private static bool Belongs(GuardFrame frame, JudgedPiece end, JudgedPiece beside)
    {
        if (end.Hookup == beside.Hookup || !end.Hookup.Clamps.SequenceEqual(beside.Hookup.Clamps) || (end.To - end.From + 1) * frame.Log.IntervalSeconds > MostSeconds || end.To - end.From >= beside.To - beside.From) return false;
        Arrangement moved = Arrangement.Of(beside.Hookup), there = Arrangement.Of(end.Hookup);
        for (var one = 0; one < frame.Lines; one++)
        {
            for (var other = one + 1; other < frame.Lines; other++)
            {
                if (moved.Leads[one] < 0 || moved.Leads[one] != moved.Leads[other] || there.Leads[one] == there.Leads[other]) continue;
                if (frame.Volts[one] is { } first && frame.Volts[other] is { } second) return ReadsAlike(first, second, end, beside);
            }
        }

        return false;
    }

    private static bool ReadsAlike(double[] first, double[] second, JudgedPiece end, JudgedPiece beside)
    {
        double[] Logs(JudgedPiece piece) => [.. Enumerable.Range(piece.From, piece.To - piece.From + 1).Where(row => first[row] > 0 && second[row] > 0).Select(row => Math.Log(first[row] / second[row]))];
        double[] inside = Logs(beside), rest = Logs(end);
        if (inside.Length < 4 || rest.Length == 0) return false;
        var gain = Robust.Median(inside);
        var spread = Math.Max(Math.Min(Spread, Robust.Deviation(inside)), 0.6 * Robust.Step(first) / Robust.Median(first));
        return rest.Count(log => Math.Abs(log - gain) < Within * spread) >= Share * rest.Length;
    }
}
