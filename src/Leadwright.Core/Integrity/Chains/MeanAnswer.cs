using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Integrity.Chains;

/// <summary>How the mean of a wye service's voltages answers to what all currents seem to do, inside a stretch of rows against outside.</summary>
/// <remarks>An ampere in any line moves the mean of the three voltages by a third of the line's impedance, whether the neutral lead is on or in the air; the phases' differences answer less with the lead off.
/// Where all clamps read a ratio times what flows, the mean's answer falls with the differences'. The supply moves the mean by itself, so that it takes many rows. Derivation: docs/methods/guard.md.</remarks>
internal static class MeanAnswer
{
    private const int LeastRows = 30;
    private const double Beyond = 3.5;

    /// <summary>Loads differ in the part of their current that the voltage answers to.</summary>
    private const double SlopeKnownTo = 0.2;

    /// <summary>Log-odds that the mean answers inside by the ratio less, over that it answers as outside; 0 where there is too little.</summary>
    /// <param name="frame">The recording.</param>
    /// <param name="voltages">What the voltages did.</param>
    /// <param name="answers">How the phases answer.</param>
    /// <param name="from">First row.</param>
    /// <param name="to">Last row.</param>
    /// <param name="ratio">What is read over what flows.</param>
    public static double OddsOfRatio(GuardFrame frame, VoltageHistory voltages, VoltageAnswer[] answers, int from, int to, double ratio)
    {
        if (frame.Lines != 3 || frame.IsPairs || !Array.TrueForAll(answers[..3], answer => answer.IsKnown)) return 0;
        var inside = new List<(double Seems, double Moved)>();
        var outside = new List<(double Seems, double Moved)>();
        for (var row = 1; row < frame.Count; row++)
        {
            if (Math.Abs(row - from) < 2 || Math.Abs(row - to - 1) < 2 || !IsWhole(voltages, row) || !IsWhole(voltages, row - 1)) continue;
            double seems = 0, moved = 0;
            for (var line = 0; line < 3; line++)
            {
                seems += answers[line].Own(row) - answers[line].Own(row - 1);
                moved += (frame.Volts[line]![row] - frame.Volts[line]![row - 1]) / 3;
            }

            if (!double.IsNaN(seems + moved)) (row > from && row <= to ? inside : outside).Add((seems, moved));
        }

        if (inside.Count < LeastRows || outside.Count < LeastRows) return 0;
        var (within, withinError) = Slope(inside);
        var (usual, usualError) = Slope(outside);
        if (!(usual > 3 * usualError) && !(within > 3 * withinError)) return 0;
        // Known by both together, so that neither explanation gains by an ill-known slope of its own.
        return Likelihood(ratio) - Likelihood(1);

        double Likelihood(double by)
        {
            double weight = 1 / (withinError * withinError), weightOfUsual = by * by / (usualError * usualError);
            var size = ((weight * within) + (weightOfUsual * usual / by)) / (weight + weightOfUsual);
            var square = (withinError * withinError) + (usualError * usualError / (by * by)) + (SlopeKnownTo * SlopeKnownTo * size * size);
            var off = within - (usual / by);
            return size <= 0 ? -50 : -0.5 * off * off / square;
        }
    }

    private static bool IsWhole(VoltageHistory voltages, int row) =>
        voltages.At(row) is { Kind: VoltageStateKind.Sound } or { Kind: VoltageStateKind.Leads, Line: 3 };

    /// <summary>Least squares through nought, without the rows beyond some spreads.</summary>
    private static (double Slope, double Error) Slope(List<(double Seems, double Moved)> rows)
    {
        double slope = 0, square = 0, spread = double.PositiveInfinity;
        for (var pass = 0; pass < 3; pass++)
        {
            double product = 0;
            square = 0;
            foreach (var (seems, moved) in rows)
            {
                if (Math.Abs(moved - (slope * seems)) > Beyond * spread) continue;
                square += seems * seems;
                product += seems * moved;
            }

            if (!(square > 0)) return (0, double.PositiveInfinity);
            slope = product / square;
            var by = slope;
            spread = Robust.Deviation([.. rows.Select(row => row.Moved - (by * row.Seems))]);
        }

        return (slope, spread / Math.Sqrt(square));
    }
}
