using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Integrity.Pieces;

/// <summary>Two legs of a split service that read the same in every row, while one power stands turned by half a cycle, are one leg read twice: not a clamp turned round on a service whose legs never part.</summary>
internal static class OneLeg
{
    private const double Still = 1.2e-3;
    private const double Apart = 0.04;
    private const double Parted = 0.003;
    private const double HalfHour = 1800;

    /// <summary>True where both voltages stand as still to each other as two inputs' rounding and noise leave them, though the currents of the legs change apart from each other.</summary>
    public static bool IsRead(GuardFrame frame, List<RowPiece> pieces)
    {
        if (frame.Service.Kind != ServiceKind.Split || frame.IsPairs || frame.Volts[0] is not { } one || frame.Volts[1] is not { } other) return false;
        if (frame.Amperes[0] is not { } first || frame.Amperes[1] is not { } second) return false;
        // The rows at the ends may be mixed.
        double[] Within(double[] column) => [.. pieces.Where(piece => piece.Length > 2).SelectMany(piece => column[(piece.From + 1)..piece.To])];
        (one, other, first, second) = (Within(one), Within(other), Within(first), Within(second));
        if (one.Length < 2) return false;
        var rows = Math.Clamp((int)(HalfHour / frame.Log.IntervalSeconds), 1, Math.Max(1, one.Length / 10));
        return AlikeTest.Spread(one, other) <= Still && AlikeTest.Spread(first, second, rows) >= Apart && !LegsPart(one, other);
    }

    /// <summary>The lead on the other leg for the clamp that was said to be turned; the hook-up as it is where it is another.</summary>
    public static Hookup Instead(Hookup hookup)
    {
        Clamp[] turned = [.. hookup.Clamps.Where(clamp => clamp.Value.Reversed).Select(clamp => clamp.Key)];
        if (turned.Length != 1 || hookup.Leads[Lead.VN] != Conductor.N) return hookup;
        return hookup with
        {
            Leads = hookup.Leads.SetItem((Lead)turned[0], (Conductor)(1 - (int)turned[0])),
            Clamps = hookup.Clamps.SetItem(turned[0], hookup.Clamps[turned[0]] with { Reversed = false }),
        };
    }

    /// <summary>True when the two part by more than a hundredth part of what one of them moves by over the rows.</summary>
    private static bool LegsPart(double[] one, double[] other)
    {
        double[] ratios = [.. one.Zip(other, (first, second) => first > 0.3 && second > 0.3 ? Math.Log(first / second) : double.NaN)];
        return Robust.Quantile(ratios, 0.98) - Robust.Quantile(ratios, 0.02) > Parted;
    }
}
