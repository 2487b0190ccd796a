using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Integrity.Chains;

/// <summary>Whether the phases of a wye service still answer each to its own clamp, however weakly, or to another's.</summary>
/// <remarks>With the neutral lead in the air a phase's difference from the others answers to its own current as before, but less. With clamps on other lines it answers to another clamp's current as much as it
/// did. Each order of the clamps is fitted with one slope for all phases; n/2 times the logarithm of what is left tells which fits. Amperes alone will do.</remarks>
internal static class AnsweredClamps
{
    /// <summary>Robust spreads beyond which a change is a dip of the supply or a lost lead, and no answer (our choice).</summary>
    private const double Beyond = 12;
    private static readonly int[][] s_orders = [[0, 1, 2], [1, 0, 2], [0, 2, 1], [2, 1, 0], [1, 2, 0], [2, 0, 1]];

    /// <summary>The phases share the supply.</summary>
    private const double Shared = 2.0 / 3;

    /// <summary>By how much more their own clamps explain the voltages in some rows than clamps in any other order do, nats; minus infinity where they do not fall with them.</summary>
    public static double OwnOverOthers(GuardFrame frame, int from, int to)
    {
        if (frame.Lines != 3 || frame.Volts.Take(3).Concat(frame.Amperes.Take(3)).Any(column => column is null)) return double.NegativeInfinity;
        double[][] changes = [.. Enumerable.Range(0, 3).Select(phase => Enumerable.Range(from + 1, Math.Max(0, to - from)).Select(row => Moved(phase, row)).ToArray())];
        double[] most = [.. changes.Select(column => Beyond * Robust.Deviation(column))];
        var lefts = new double[s_orders.Length];
        var (rows, falls) = (0, true);
        for (var order = 0; order < s_orders.Length; order++)
        {
            double moved = 0, seems = 0, both = 0;
            rows = 0;
            for (var row = from + 1; row <= to; row++)
            {
                for (var phase = 0; phase < 3; phase++)
                {
                    double change = changes[phase][row - from - 1], current = Against(phase, order, row);
                    if (!(Math.Abs(change) <= most[phase]) || double.IsNaN(current)) continue;
                    moved += change * change;
                    seems += current * current;
                    both += change * current;
                    rows++;
                }
            }

            lefts[order] = both < 0 ? moved - (both * both / seems) : moved;
            falls &= order > 0 || both < 0;
        }

        return !falls ? double.NegativeInfinity : Shared * 0.5 * rows * Math.Log(lefts[1..].Min() / lefts[0]);

        double Moved(int phase, int row)
        {
            double Volts(int line) => frame.Volts[line]![row] - frame.Volts[line]![row - 1];
            return Volts(phase) - (0.5 * (Volts((phase + 1) % 3) + Volts((phase + 2) % 3)));
        }

        // A phase's clamp less the mean of the others'.
        double Against(int phase, int order, int row)
        {
            double Ampere(int line) => frame.Amperes[s_orders[order][line]]![row] - frame.Amperes[s_orders[order][line]]![row - 1];
            return Ampere(phase) - (0.5 * (Ampere((phase + 1) % 3) + Ampere((phase + 2) % 3)));
        }
    }
}
