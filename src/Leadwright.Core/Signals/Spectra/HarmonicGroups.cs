namespace Leadwright.Core.Signals.Spectra;

/// <summary>Which bins of a 10- or 12-cycle spectrum make a harmonic or interharmonic value, and their sums.</summary>
/// <remarks>
/// <para>IEC 61000-4-7:2002 + A1:2008 clause 5.5 and annex A (formulas from memory). Bin k lies at k/(10 or 12) of the fundamental,
/// about 5 Hz apart; harmonic h lies at bin h·N, with N = 10 or 12 cycles in the window. All sums are of squared rms values.</para>
/// <para>Held by <c>tests/vectors/harmonic-groups</c>: the bins of every order to 50 at 50 and 60 Hz, and two check signals.</para>
/// </remarks>
public static class HarmonicGroups
{
    /// <summary>Bins that the values of the orders to <paramref name="highestOrder"/> reach into.</summary>
    /// <param name="cycles">Cycles in the window.</param>
    /// <param name="highestOrder">The highest order.</param>
    public static int BinCount(int cycles, int highestOrder) => (cycles * highestOrder) + cycles;

    /// <summary>The harmonic subgroup: the component and its two neighbours, G²sg = Σ C²(Nh + i), i = −1 to 1.</summary>
    /// <param name="squares">Squared rms of every bin.</param>
    /// <param name="cycles">Cycles in the window, N.</param>
    /// <param name="order">The order h, from 1.</param>
    /// <returns>The square of the value.</returns>
    public static double Subgroup(ReadOnlySpan<double> squares, int cycles, int order) => Sum(squares, (cycles * order) - 1, (cycles * order) + 1);

    /// <summary>The harmonic group: all bins nearer to this harmonic than to the next, those half-way with half their square.</summary>
    /// <param name="squares">Squared rms of every bin.</param>
    /// <param name="cycles">Cycles in the window, N.</param>
    /// <param name="order">The order h, from 1.</param>
    /// <returns>The square of the value.</returns>
    public static double Group(ReadOnlySpan<double> squares, int cycles, int order)
    {
        var centre = cycles * order;
        var half = cycles / 2;
        return (0.5 * squares[centre - half]) + Sum(squares, centre - half + 1, centre + half - 1) + (0.5 * squares[centre + half]);
    }

    /// <summary>The interharmonic group: all bins between this harmonic and the next.</summary>
    /// <param name="squares">Squared rms of every bin.</param>
    /// <param name="cycles">Cycles in the window, N.</param>
    /// <param name="order">The order h below, from 0.</param>
    /// <returns>The square of the value.</returns>
    public static double InterharmonicGroup(ReadOnlySpan<double> squares, int cycles, int order) =>
        Sum(squares, (cycles * order) + 1, (cycles * order) + cycles - 1);

    /// <summary>The interharmonic centred subgroup: the bins between two harmonics without the neighbours of either.</summary>
    /// <param name="squares">Squared rms of every bin.</param>
    /// <param name="cycles">Cycles in the window, N.</param>
    /// <param name="order">The order h below, from 0.</param>
    /// <returns>The square of the value.</returns>
    public static double CentredSubgroup(ReadOnlySpan<double> squares, int cycles, int order) =>
        Sum(squares, (cycles * order) + 2, (cycles * order) + cycles - 2);

    private static double Sum(ReadOnlySpan<double> squares, int first, int last)
    {
        var sum = 0.0;
        for (var bin = first; bin <= last; bin++) sum += squares[bin];
        return sum;
    }
}
