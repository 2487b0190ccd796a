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
    private const double Parted = 0.03;
    private const double OfParted = 1e-6;
    private const int LeastRows = 50;

    /// <summary>Takes from a hook-up that has two clamps on one conductor what speaks for it where these part in the rows: readings of a few rows may be equal by chance, or by a load of three lines.</summary>
    /// <param name="frame">The recording.</param>
    /// <param name="pieces">The rows.</param>
    /// <param name="chances">Hook-ups with their probabilities.</param>
    public static IEnumerable<HookupChance> WithoutParted(GuardFrame frame, List<RowPiece> pieces, IReadOnlyCollection<HookupChance> chances)
    {
        double[] left = [.. chances.Select(chance => chance.Probability * (Parts(chance.Hookup) ? OfParted : 1))];
        var total = left.Sum();
        return chances.Zip(left, (chance, probability) => chance with { Probability = total > 0 ? probability / total : chance.Probability });

        bool Parts(Hookup hookup)
        {
            for (var one = 0; one < frame.Lines; one++)
            {
                for (var other = one + 1; other < frame.Lines; other++)
                {
                    if (hookup.Clamps.TryGetValue((Clamp)one, out var place) && hookup.Clamps.TryGetValue((Clamp)other, out var beside) && place.On is { } on && on == beside.On
                        && frame.Amperes[one] is { } first && frame.Amperes[other] is { } second && Range(first, second, pieces) > Parted) return true;
                }
            }

            return false;
        }
    }

    /// <summary>Between which two values the logarithm of a ratio keeps, but for one row in fifty either way, beyond what the digits make; 0 where little flows.</summary>
    private static double Range(double[] first, double[] second, List<RowPiece> pieces)
    {
        List<double> ratios = [], sizes = [];
        foreach (var piece in pieces)
        {
            for (var row = piece.From + 1; row < piece.To; row++)
            {
                if (!(first[row] > 0) || !(second[row] > 0)) continue;
                ratios.Add(Math.Log(first[row] / second[row]));
                sizes.Add(Math.Min(first[row], second[row]));
            }
        }

        if (ratios.Count < LeastRows) return 0;
        return Robust.Quantile([.. ratios], 0.98) - Robust.Quantile([.. ratios], 0.02) - (4 * Math.Max(Robust.Step(first), Robust.Step(second)) / Robust.Quantile([.. sizes], 0.02));
    }

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
