using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity;
using Leadwright.Core.Mending.Maps;

namespace Leadwright.Core.Mending.Answers;

/// <summary>Adds that the other side of a leap may be the wrong one, where all line clamps went to another ratio at once and stayed so to the recording's end, or had been so from its beginning.</summary>
/// <remarks>That a ratio was set shows; which of the two is right does not, where no line is left to hold it against: all that the recording holds is then the ratio times what it seems. Only what lies on both sides of a stretch
/// says that the stretch is the odd one.</remarks>
internal static class OpenSide
{
    /// <summary>What holds for longer is a little likelier to be what was meant (our choice: common practice has no figure).</summary>
    private const double OfShorter = 0.4;

    /// <summary>The ratio and the first and last piece of the side that is said to be wrong; null where the other side can't be it.</summary>
    /// <param name="guard">What the guard said.</param>
    /// <param name="raw">The recording.</param>
    public static (double Ratio, HookupPiece First, HookupPiece Last)? Find(GuardReport guard, RawSeries raw)
    {
        var pieces = guard.Timeline.Pieces;
        // The neutral's own clamp is another setting, against which the lines' are held.
        if (pieces.Length < 2 || raw.Amperes[3] is not null) return null;
        double[] ratios = [.. pieces.Select(piece => RatioOfAll(piece.Hookup, raw))];
        if (ratios.Where(ratio => ratio != 1).Distinct().ToArray() is not [var ratio] || !double.IsFinite(ratio) || Changes(ratios) != 1) return null;
        return ratios[0] == 1 ? (ratio, pieces[Array.IndexOf(ratios, ratio)], pieces[^1]) : (ratio, pieces[0], pieces[Array.LastIndexOf(ratios, ratio)]);
    }

    /// <summary>Adds the two ways to an energy.</summary>
    /// <param name="guard">What the guard said.</param>
    /// <param name="raw">The recording.</param>
    /// <param name="total">The mended energy, watt-hours.</param>
    /// <param name="mixture">The energy's distribution.</param>
    public static void Add(GuardReport guard, RawSeries raw, double total, EnergyMixture mixture)
    {
        if (Find(guard, raw) is { } open) mixture.AddWays([(OfShorter, (open.Ratio - 1) * total)]);
    }

    private static int Changes(double[] ratios) => Enumerable.Range(1, ratios.Length - 1).Count(index => ratios[index] != ratios[index - 1]);

    /// <summary>The one ratio that all line clamps are at; NaN where they differ or are nowhere.</summary>
    private static double RatioOfAll(Hookup hookup, RawSeries raw)
    {
        double[] scales = [.. (raw.IsTotal ? raw.TotalClamps : raw.Elements).Select(line => hookup.Clamps.TryGetValue((Clamp)line, out var place) && place.On is not null ? place.Scale : double.NaN).Distinct()];
        return scales is [var one] ? one : double.NaN;
    }
}
