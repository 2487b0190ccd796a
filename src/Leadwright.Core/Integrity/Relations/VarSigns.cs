namespace Leadwright.Core.Integrity.Relations;

/// <summary>Whether vars were written without their sign, as √(S² − P²): lines then never lead, whichever way their clamps and leads are.</summary>
internal static class VarSigns
{
    private const int LeastRows = 30;
    private const double Backwards = -0.02;
    private const double Leads = -0.01;

    /// <summary>True where the vars of all lines are never negative though the watts of two or more lines are in many rows: powers turned by a third of a cycle one way and the other, or by a half, would lead on one of them.</summary>
    /// <remarks>All clamps a line on turn every power the same way, and may keep all vars positive; without a sign such powers still stand at angles of their own.</remarks>
    public static bool AreMissing(double[]?[] watts, double[]?[] vars)
    {
        var turned = 0;
        for (var line = 0; line < 3; line++)
        {
            if (watts[line] is not { } real || vars[line] is not { } across) continue;
            var size = Robust.Quantile([.. real.Select(Math.Abs)], 0.95);
            var backwards = 0;
            for (var row = 0; row < real.Length; row++)
            {
                if (across[row] < Leads * size) return false;
                if (real[row] < Backwards * size) backwards++;
            }

            if (backwards >= LeastRows) turned++;
        }

        return turned >= 2;
    }
}
