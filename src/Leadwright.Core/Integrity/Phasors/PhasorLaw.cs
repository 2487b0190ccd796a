using Leadwright.Core.Circuits;
using Leadwright.Core.Integrity.Pieces;

namespace Leadwright.Core.Integrity.Phasors;

/// <summary>The law by which the phases of a wye service answer to their currents, for any places of leads and clamps.</summary>
/// <remarks>
/// A line's voltage falls by Z1·I(own) + Zn·ΣI along itself; with the neutral lead off the inputs' star point takes the mean of all away, and Zn is −Z1/3. An ampere of another line turns what it does to a voltage by
/// a third of a cycle one way or the other: the two other voltages differ by what Zn·√3 turns, and in which sense tells the order of the lines, and, since −Z1/3 turns it the other way, the neutral lead in the air.
/// Derivation: docs/methods/guard.md.
/// </remarks>
/// <param name="Line">Z1, per unit and ampere.</param>
/// <param name="Neutral">Zn, the same.</param>
/// <param name="Gain">Log-likelihood won over no answer at all, nats.</param>
internal readonly record struct PhasorLaw(Phasor Line, Phasor Neutral, double Gain)
{
    /// <summary>The neutral's impedance over the line's, nothing behind a transformer of its own to that of a conductor a third as thick, with how likely we take it to be, nats.</summary>
    private static readonly (double Share, double Prior)[] s_neutrals = [(0, -3), (0.2, -2.5), (0.4, -1.2), (0.6, -0.4), (0.8, -0.1), (1, 0), (1.25, -0.1), (1.6, -0.4), (2.1, -1.2), (3, -2.5)];

    /// <summary>The best law for some rows under an arrangement; null where it does not say which current flows in each line.</summary>
    /// <param name="arrangement">Where leads and clamps are.</param>
    /// <param name="ideal">Potentials of A, B, C, N.</param>
    /// <param name="sums">The rows.</param>
    public static PhasorLaw? Best(Arrangement arrangement, Phasor[] ideal, PhasorSums sums) => Basis(arrangement, ideal) is { } basis ? Best([(basis, sums)]) : null;

    /// <summary>The best law for rows under several arrangements.</summary>
    /// <param name="parts">What one unit of each number makes of the voltages, with the rows.</param>
    /// <param name="isAssumed">True where the currents' angles are not known, but for what is one for all: the impedances take that up.</param>
    public static PhasorLaw? Best(IReadOnlyList<(double[][,] Basis, PhasorSums Sums)> parts, bool isAssumed = false)
    {
        PhasorLaw? best = null;
        var most = double.NegativeInfinity;
        foreach (var (law, prior) in All(parts, isAssumed))
        {
            if (law.Gain + prior <= most) continue;
            (best, most) = (law, law.Gain + prior);
        }

        return best;
    }

    /// <summary>The best law for each ratio of the neutral's impedance to the line's, with how likely we take that to be, nats.</summary>
    /// <param name="parts">What one unit of each number makes of the voltages, with the rows.</param>
    /// <param name="isAssumed">True where the currents' angles are not known, but for what is one for all: the impedances take that up.</param>
    public static IEnumerable<(PhasorLaw Law, double Prior)> All(IReadOnlyList<(double[][,] Basis, PhasorSums Sums)> parts, bool isAssumed = false)
    {
        foreach (var (share, prior) in s_neutrals)
        {
            double a = 0, b = 0, c = 0, one = 0, other = 0;
            foreach (var (basis, sums) in parts)
            {
                double[,] real = Mixed(basis[0], basis[2], share), across = Mixed(basis[1], basis[3], share);
                (one, other) = (one + sums.With(real), other + sums.With(across));
                (a, b, c) = (a + sums.Between(real, real), b + sums.Between(real, across), c + sums.Between(across, across));
            }

            if (!(a > 0)) continue;
            var determinant = (a * c) - (b * b);
            double r = determinant > 1e-9 * a * c ? ((c * one) - (b * other)) / determinant : one / a, x = determinant > 1e-9 * a * c ? ((a * other) - (b * one)) / determinant : 0;
            // No conductor leads.
            if (x < 0 && !isAssumed) (r, x) = (one / a, 0);
            if (r < 0) (r, x) = (0, Math.Max(0, c > 0 ? other / c : 0));
            var gain = (r * one) + (x * other) - (0.5 * ((r * r * a) + (2 * r * x * b) + (x * x * c)));
            yield return (new PhasorLaw(new Phasor(r, x), share * new Phasor(r, x), gain), prior);
        }
    }

    /// <summary>Log-likelihood that this law wins over no answer at all in other rows, under their arrangement; null where that does not say which current flows in each line.</summary>
    public double? GainOf(Arrangement arrangement, Phasor[] ideal, PhasorSums sums) => Basis(arrangement, ideal) is { } basis ? sums.Gain(Of(basis)) : null;

    /// <summary>The law by channel and part of the currents.</summary>
    /// <param name="basis">What one unit of each number makes of the voltages.</param>
    public double[,] Of(double[][,] basis)
    {
        var law = new double[3, PhasorRows.Parts];
        double[] weights = [Line.Real, Line.Imaginary, Neutral.Real, Neutral.Imaginary];
        for (var channel = 0; channel < 3; channel++)
        {
            for (var part = 0; part < PhasorRows.Parts; part++)
            {
                for (var number = 0; number < 4; number++) law[channel, part] += weights[number] * basis[number][channel, part];
            }
        }

        return law;
    }

    /// <summary>What one unit of each of R1, X1, Rn and Xn makes of the three voltages, by channel and part of the currents; null where a line's current is not known.</summary>
    public static double[][,]? Basis(Arrangement arrangement, Phasor[] ideal)
    {
        for (var line = 0; line < 3; line++)
        {
            if (arrangement.Leads[line] is < 0 or > 2) return null;
        }

        if (arrangement.Leads[3] is not (3 or < 0) || Flows(arrangement) is not { } flows) return null;
        var basis = new double[4][,];
        for (var number = 0; number < 4; number++) basis[number] = new double[3, PhasorRows.Parts];
        for (var channel = 0; channel < 3; channel++)
        {
            var own = arrangement.Leads[channel];
            for (var clamp = 0; clamp < 3; clamp++)
            {
                var turn = ideal[arrangement.Leads[clamp]] * ideal[own].Conjugate;
                double all = flows[0, clamp] + flows[1, clamp] + flows[2, clamp];
                for (var number = 0; number < 4; number++)
                {
                    var share = number < 2 ? flows[own, clamp] : all;
                    // Re((r + jx)(a + jb)(p - jq)): r(ap + bq) + x(aq - bp).
                    var (p, q) = number % 2 == 0 ? (turn.Real, turn.Imaginary) : (-turn.Imaginary, turn.Real);
                    basis[number][channel, 2 * clamp] -= share * p;
                    basis[number][channel, (2 * clamp) + 1] -= share * q;
                }
            }
        }

        foreach (var part in basis) TakeMeanOfOthers(part);
        if (arrangement.Leads[3] >= 0) return basis;
        // The star point takes the mean of all away, whatever the neutral's own impedance.
        return [Mixed(basis[0], basis[2], -1.0 / 3), Mixed(basis[1], basis[3], -1.0 / 3), new double[3, PhasorRows.Parts], new double[3, PhasorRows.Parts]];
    }

    /// <summary>How much of each clamp's reading flows in each line; null where a line's current is not known.</summary>
    private static double[,]? Flows(Arrangement arrangement)
    {
        var flows = new double[3, 3];
        var clampOf = new[] { -1, -1, -1, -1 };
        for (var clamp = 0; clamp < 3; clamp++)
        {
            if (arrangement.Clamps[clamp] is not (>= 0 and <= 3 and var on) || clampOf[on] >= 0) return null;
            clampOf[on] = clamp;
        }

        for (var line = 0; line < 3; line++)
        {
            if (clampOf[line] >= 0)
            {
                flows[line, clampOf[line]] = Sign(clampOf[line]);
                continue;
            }

            // All four currents of the service add up to nothing.
            for (var clamp = 0; clamp < 3; clamp++) flows[line, clamp] = -Sign(clamp);
        }

        return flows;

        int Sign(int clamp) => arrangement.Reversed[clamp] ? -1 : 1;
    }

    private static void TakeMeanOfOthers(double[,] law)
    {
        for (var part = 0; part < PhasorRows.Parts; part++)
        {
            var mean = (law[0, part] + law[1, part] + law[2, part]) / 3;
            for (var channel = 0; channel < 3; channel++) law[channel, part] = 1.5 * (law[channel, part] - mean);
        }
    }

    private static double[,] Mixed(double[,] one, double[,] other, double share)
    {
        var mixed = new double[3, PhasorRows.Parts];
        for (var channel = 0; channel < 3; channel++)
        {
            for (var part = 0; part < PhasorRows.Parts; part++) mixed[channel, part] = one[channel, part] + (share * other[channel, part]);
        }

        return mixed;
    }
}
