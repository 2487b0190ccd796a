using Leadwright.Core.Circuits;
using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Integrity.Chains;

/// <summary>Takes back a neutral clamp on nothing where the lines leave the neutral nothing to carry.</summary>
/// <remarks>Three currents at one power factor leave √(ΣI² − Σ I(k) I(k+1)) in the neutral, two legs |I1 − I2|: loads that happen to be alike are no clamp that fell.</remarks>
internal static class IdleNeutral
{
    // The lines' angles part by some degrees, and leave about a tenth of what they carry.
    private const double ShareOfLines = 0.12;
    private const int Beside = 6;

    public static void TakeBack(GuardFrame frame, CurrentHistory?[] currents)
    {
        if (currents[3] is not { } neutral || frame.Service.Kind is not (ServiceKind.Wye or ServiceKind.Split)) return;
        if (frame.Amperes.Take(frame.Lines).Any(column => column is null)) return;
        for (var row = 0; row < neutral.Rows.Length; row++)
        {
            var last = row;
            while (last + 1 < neutral.Rows.Length && neutral.Rows[last + 1] == neutral.Rows[row]) last++;
            if (neutral.Scales[neutral.Rows[row]] == 0 && IsLeftNothing(frame, row, last)) Array.Clear(neutral.Rows, row, last - row + 1);
            row = last;
        }
    }

    /// <summary>True where less is left for the neutral than the lines' angles may make, or far less than before and after.</summary>
    private static bool IsLeftNothing(GuardFrame frame, int from, int to)
    {
        double[] within = [.. Enumerable.Range(from, to - from + 1).Select(row => Left(frame, row))];
        double[] beside = [.. Enumerable.Range(from - Beside, Beside).Concat(Enumerable.Range(to + 1, Beside)).Where(row => row >= 0 && row < frame.Count).Select(row => Left(frame, row))];
        double[] lines = [.. Enumerable.Range(from, to - from + 1).Select(row => Enumerable.Range(0, frame.Lines).Max(line => frame.Amperes[line]![row]))];
        var left = Robust.Median(within);
        return left < ShareOfLines * Robust.Median(lines) || left < 0.2 * Robust.Median(beside);
    }

    private static double Left(GuardFrame frame, int row)
    {
        double one = frame.Amperes[0]![row], other = frame.Amperes[1]![row];
        if (frame.Lines == 2) return Math.Abs(one - other);
        var third = frame.Amperes[2]![row];
        return Math.Sqrt(Math.Max(0, (one * one) + (other * other) + (third * third) - (one * other) - (other * third) - (third * one)));
    }
}
