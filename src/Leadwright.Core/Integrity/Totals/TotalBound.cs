using Leadwright.Core.Circuits;

namespace Leadwright.Core.Integrity.Totals;

/// <summary>The most that currents can show as a total under a hook-up, whatever their loads: a volt-ampere turned by g adds to the total in a direction d at most max over φ of cos(arg g + φ − arg d).</summary>
/// <remarks>With every current behind its own voltage by −40 to 80 degrees (our choice: wider than sites are seen to stand). A total beyond that excludes the hook-up however steadily it stands.</remarks>
internal static class TotalBound
{
    private const double LeastOfLoads = -40;
    private const double MostOfLoads = 80;
    private const double Tails = 3;
    private const double Spread = 0.03;
    private const double MostAgainst = 8;

    /// <summary>What a volt-ampere can add at most in a direction that is so many degrees from where its hook-up turns it, 1 at the most.</summary>
    public static double Most(double degrees)
    {
        var off = Angle.WrapDegrees(degrees);
        if (-off is > LeastOfLoads and < MostOfLoads) return 1;
        return Math.Max(Math.Cos((off + LeastOfLoads) * Math.PI / 180), Math.Cos((off + MostOfLoads) * Math.PI / 180));
    }

    /// <summary>The most that a row's currents can add up to in a direction, as a share of its volt-amperes.</summary>
    /// <param name="shares">Share of each clamp in the volt-amperes.</param>
    /// <param name="turns">What the hook-up turns each by.</param>
    /// <param name="direction">The total's angle, degrees.</param>
    public static double Most(double[] shares, Phasor[] turns, double direction)
    {
        var most = 0.0;
        for (var index = 0; index < shares.Length; index++) most += shares[index] * Most(turns[index].AngleDegrees - direction);
        return most;
    }

    /// <summary>What a row says against a hook-up under which it can show no more than this, natural logarithm, zero or more.</summary>
    /// <param name="shown">Size of the total over the row's volt-amperes.</param>
    /// <param name="most">The most that could be.</param>
    public static double Against(double shown, double most)
    {
        var over = Math.Max(0, shown - most);
        return Math.Min(MostAgainst, 2 * Math.Log(1 + (over * over / (Tails * Spread * Spread))));
    }
}
