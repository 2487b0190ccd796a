using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Mending.Maps;

/// <summary>Tells vars that were made of the volt-amperes, √(S² − P²) with a sign, from those of the fundamental wave.</summary>
/// <remarks>
/// The former hold what distortion adds, and no phasor may be turned by them. They show by a hole about zero: where their sign changes they leap from minus to plus what distortion leaves, while those of the fundamental pass
/// through nothing (IEEE Std 1459 calls the two nonactive and fundamental reactive power).
/// </remarks>
internal static class NonactiveVars
{
    private const int LeastSlots = 100;
    private const double LeastOfASign = 0.05;
    private const double LeastOfTop = 0.1;
    private const double MostNearZero = 0.02;

    /// <summary>True where the vars of any channel leap over zero.</summary>
    /// <param name="raw">The log.</param>
    /// <param name="isRight">True where a slot's channel read what it should.</param>
    public static bool Are(RawSeries raw, Func<int, int, bool> isRight)
    {
        foreach (var channel in raw.Elements)
        {
            if (raw.IsTotal || raw.Watts[channel] is not { } watts || raw.Vars[channel] is not { } vars) continue;
            var least = LeastOfTop * Robust.Quantile(watts, 0.95);
            var shares = new List<double>();
            for (var slot = 0; slot < watts.Length; slot++)
            {
                if (watts[slot] > least && double.IsFinite(vars[slot]) && isRight(channel, slot)) shares.Add(vars[slot] / watts[slot]);
            }

            if (shares.Count < LeastSlots) continue;
            var leading = shares.Count(share => share < 0) / (double)shares.Count;
            if (Math.Min(leading, 1 - leading) < LeastOfASign) continue;
            double[] sizes = [.. shares.Select(Math.Abs)];
            var small = 0.5 * Robust.Quantile(sizes, 0.2);
            if (sizes.Count(size => size < small) < MostNearZero * sizes.Length) return true;
        }

        return false;
    }
}
