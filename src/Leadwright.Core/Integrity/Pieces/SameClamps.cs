using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Integrity.Pieces;

/// <summary>Puts two clamps on one conductor first among what the longest piece may be, where both keep one ratio in it though they move, and the powers stand as they do then.</summary>
/// <remarks>A few rows that read alike may be one load on two lines: the hook-up check, which sees a few, then takes a turned and exchanged clamp for as likely.</remarks>
internal static class SameClamps
{
    private const double Still = 0.009;
    private const double Moving = 0.03;

    // Distortion lowers a power factor, and makes of an angle of ten degrees one of thirty.
    private const double OfDistortion = 25;

    // What is not two clamps on one conductor then is one load that draws on two lines all week.
    private const double Otherwise = 0.02;

    public static List<HookupChance> Weigh(Chained chained, List<RowPiece> pieces, List<HookupChance> chances)
    {
        var frame = chained.Frame;
        if (frame.Lines < 2 || chances.Count == 0 || chances.MaxBy(chance => chance.Probability)!.Hookup.IsRight) return chances;
        var right = Hookup.Expected(frame.Service.Leads, chances[0].Hookup.Clamps.Keys);
        List<Hookup> fitting = [];
        for (var one = 0; one < frame.Lines; one++)
        {
            for (var other = one + 1; other < frame.Lines; other++)
            {
                if (frame.Amperes[one] is not { } first || frame.Amperes[other] is not { } second || !AreOne(frame, first, second, one, other, pieces)) continue;
                foreach (var (moved, on) in new[] { (one, other), (other, one) })
                {
                    var hookup = right with { Clamps = right.Clamps.SetItem((Clamp)moved, ClampPlace.Right((Conductor)on)) };
                    if (AlikeLeads.Fits(chained, Arrangement.Of(hookup), Arrangement.Of(right), OfDistortion)) fitting.Add(hookup);
                }
            }
        }

        if (fitting.Count == 0) return chances;
        return [.. fitting.Select(hookup => new HookupChance(hookup, 1.0 / fitting.Count)), .. chances.Where(chance => !fitting.Contains(chance.Hookup)).Select(chance => chance with { Probability = Otherwise * chance.Probability })];
    }

    /// <summary>True where two currents keep one ratio near one though they move, and a third does not go with them as a load on three lines would.</summary>
    private static bool AreOne(GuardFrame frame, double[] first, double[] second, int one, int other, List<RowPiece> pieces)
    {
        if (2 * pieces.Sum(piece => piece.Length) < frame.Count || AlikeTest.StandApart(first, second, pieces)) return false;
        // Three-phase motors draw alike on the two clamps of three wires for hours: there it must be so in all of the recording.
        if (!((frame.IsTwoElement ? AlikeTest.Spread(first, second) : AlikeTest.Spread(first, second, pieces)) < Still) || !(AlikeTest.Moves(first) > Moving)) return false;
        return frame.Lines < 3 || frame.Amperes[3 - one - other] is not { } third || AlikeTest.Spread(first, third, pieces) > Moving;
    }
}
