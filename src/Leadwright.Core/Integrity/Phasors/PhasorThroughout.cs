using Leadwright.Core.Circuits;
using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Integrity.Phasors;

/// <summary>Tells a neutral lead that was in the air from first to last.</summary>
/// <remarks>It is held against the law of a right hook-up with any neutral's impedance and in either order of the lines: one very large the other way about turns the voltages nearly as much, and differs in how the mean of the voltages
/// answers.</remarks>
internal static class PhasorThroughout
{
    /// <summary>One recording in some hundred (our choice), as a movement of the lead is weighed elsewhere.</summary>
    private const double OfThroughout = -5;
    private const double LeastOdds = 3;

    /// <summary>The supply's own load falls and rises with the site's, and seems to be answered: what speaks for an answer of the mean is trusted less than what speaks against one.</summary>
    private const double OfMean = 0.3;
    private const double MostOfMean = 8, MostAgainst = 100;

    /// <summary>The course; null where it is not so, or nothing tells.</summary>
    /// <param name="frame">The recording; the order of its lines is left as the last that was asked about.</param>
    /// <param name="blocks">Its blocks.</param>
    /// <param name="rotations">The orders of the lines that may be.</param>
    public static PhasorCourse? Find(GuardFrame frame, PhasorBlocks blocks, Rotation[] rotations)
    {
        var sums = new PhasorSums();
        foreach (var block in blocks.Sums) sums.Add(block);
        var right = PhasorStates.Right;
        var rows = blocks.Rows;
        List<(PhasorLaw Law, double Score)> offs = [], ons = [];
        foreach (var rotation in rotations)
        {
            frame.Take(rotation);
            var ofRotation = rotations.Length > 1 && rotation == Rotation.Acb ? GuardFrame.LogAcb : 0;
            if (PhasorLaw.Best([(PhasorLaw.Basis(right with { Leads = [0, 1, 2, -1] }, frame.Ideal)!, sums)], rows.IsAssumed) is { } off) offs.Add((off, (PhasorChain.Temper * off.Gain) + ofRotation + OfThroughout));
            ons.AddRange(PhasorLaw.All([(PhasorLaw.Basis(right, frame.Ideal)!, sums)], rows.IsAssumed).Select(on => (on.Law, (PhasorChain.Temper * on.Law.Gain) + on.Prior + ofRotation)));
        }

        if (offs.Count == 0 || ons.Count == 0) return null;
        var best = offs.MaxBy(entry => entry.Score);
        if (best.Law.Line.Real <= 0 || best.Law.Gain < PhasorChain.LeastFit * sums.MostGain()) return null;
        var odds = ons.Where(on => on.Score > best.Score - MostAgainst).Select(on => best.Score - on.Score + Math.Clamp(OfMean * rows.SayMean(best.Law.Line, on.Law.Line), -MostAgainst, MostOfMean)).DefaultIfEmpty(MostAgainst).Min();
        if (odds < LeastOdds) return null;
        return new PhasorCourse([new PhasorStretch(0, frame.Count - 1, right with { Leads = [0, 1, 2, -1] }, odds)], offs.Count < 2 ? 0 : PhasorChain.Temper * (offs[1].Law.Gain - offs[0].Law.Gain));
    }
}
