using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups.Hypotheses;

namespace Leadwright.Core.Hookups.Likelihoods;

/// <summary>How far a line's current may stand off the site's displacement because part of its load hangs between two lines.</summary>
/// <remarks>
/// <para>Displacement is weighed against the voltages of a balanced star. On a high-leg service the neutral is not that star: the leg
/// voltage of the line before the high leg lags its star voltage by 30 degrees and that of the line after it leads by as much, so
/// that single-phase load moves those two lines' currents by up to 30 degrees, one each way. On two lines of a wye the load from line to
/// line does the same. How much of the load is of that kind is not known: a mixture over the way from none to all.</para>
/// <para>Derivation: docs/methods/hook-up-evidence.md, "Load between two lines". Shares: common practice, no source.</para>
/// </remarks>
internal sealed class LegShifts
{
    /// <summary>The shifts that are mixed, in steps of <see cref="DisplacementGrid"/> (five degrees).</summary>
    public static ReadOnlySpan<int> Steps => [0, 2, 4, 6];

    private static readonly double[] s_highLeg = [0.30, 0.20, 0.20, 0.30];
    private static readonly double[] s_network = [0.50, 0.20, 0.15, 0.15];
    private readonly int[] _signs;

    private LegShifts(int[] signs, double[] weights) => (_signs, Weights) = (signs, weights);

    /// <summary>Probability of each shift; adds up to one.</summary>
    public double[] Weights { get; }

    /// <summary>1 where a line's current lags further, −1 where it lags less, 0 where it stays.</summary>
    /// <param name="line">Number of the line, 0 to 2.</param>
    public int SignOf(int line) => _signs[line];

    /// <summary>The shifts of a service; null where there are none.</summary>
    public static LegShifts? Of(Service service, LeadMap map)
    {
        var turnsAcb = map.Rotation == Rotation.Acb;
        if (service.Kind == ServiceKind.Network) return new LegShifts(turnsAcb ? [1, -1, 0] : [-1, 1, 0], s_network);
        if (service.Kind != ServiceKind.HighLeg) return null;
        var signs = new int[3];
        var next = turnsAcb ? 2 : 1;
        signs[(map.Singular + 3 - next) % 3] = 1;
        signs[(map.Singular + next) % 3] = -1;
        return new LegShifts(signs, s_highLeg);
    }
}
