using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Integrity.Chains;

/// <summary>Tells whether the neutral lead of a split service was off from first to last, by steps of the loads.</summary>
/// <remarks>
/// What the legs carry together lowers the sum of their voltages by the impedance of one line and what the supply's winding adds, z(I1 + I2). What one carries more than the other pulls the two apart by (z + 2 zn)(I1 − I2) while
/// the neutral lead is on, less what they share of the winding; with it off the inputs halve the one voltage that there is, and nothing pulls them apart. So the answer of the difference over that of the sum is nothing with
/// the lead off, and a third to five with it on (the bounds are our choice, and so is how unlikely we hold a supply whose own winding takes as much as the service's conductors).
/// </remarks>
internal static class NeutralOfSplit
{
    private const double LeastOdds = 6;
    private const double Sharp = 4;

    /// <summary>How far from nothing inputs that are not alike leave the answer of the difference, and how well any other ratio is known, of itself.</summary>
    private const double KnownTo = 0.06, OnKnownTo = 0.2;

    /// <summary>A spread of less than so much of a written step: most rows did not move at all.</summary>
    private const double Still = 0.1;
    private const int LeastRows = 40;
    private const double Beyond = 3.5;

    /// <summary>The conductors of a service are of one kind; roughly, since loads that come together are told apart badly.</summary>
    private const double LeastOfLegs = 0.25;
    private static readonly (double Ratio, double Prior)[] s_on = [(0.33, -2), (0.5, -1), (0.7, -0.5), (1, 0), (1.4, 0), (2, 0), (2.8, 0), (4, 0), (5, 0)];

    public static bool IsOffThroughout(GuardFrame frame, VoltageHistory voltages)
    {
        if (frame.Lines != 2 || frame.Volts[0] is not { } one || frame.Volts[1] is not { } other || frame.Amperes[0] is null || frame.Amperes[1] is null || frame.Watts[0] is null || frame.Watts[1] is null) return false;
        var currents = VoltageAnswer.Regressors(frame, 0, out var own);
        if (own != 2 || currents.Count != 4) return false;
        var teaches = VoltageAnswer.WithSteps(frame, currents);
        var dips = SupplyDips.Rows(frame);
        var rows = Enumerable.Range(1, Math.Max(0, frame.Count - 1)).Where(row => teaches?[row] != false && voltages.Rows[row] == 0 && voltages.Rows[row - 1] == 0 && (dips.Length == 0 || (!dips[row] && !dips[row - 1]))
            && frame.Starts[row] - frame.Starts[row - 1] < 1.5 * frame.Log.IntervalTicks && !double.IsNaN(one[row] + other[row] + one[row - 1] + other[row - 1])).ToArray();
        if (rows.Length < LeastRows) return false;
        if (AreOpposite(frame, rows) || !BothLegsLowerTheSum()) return false;
        var (sum, sumError) = Answer(1);
        var (apart, apartError) = Answer(-1);
        if (!(sum < -Sharp * sumError)) return false;
        return Say(0) - s_on.Max(on => Say(on.Ratio) + on.Prior) > LeastOdds;

        double Say(double expected)
        {
            double ofSum = expected * sumError, known = expected == 0 ? KnownTo : OnKnownTo * expected;
            var variance = (apartError * apartError) + (ofSum * ofSum) + (known * known * sum * sum);
            var rest = apart - (expected * sum);
            return (-0.5 * rest * rest / variance) - (0.5 * Math.Log(variance));
        }

        // Loads between the legs pull nothing apart either; what each leg carries must be seen by itself.
        bool BothLegsLowerTheSum()
        {
            var sums = new NormalEquations(4);
            foreach (var row in rows) sums.Add([.. currents.Select(column => column[row] - column[row - 1])], one[row] - one[row - 1] + other[row] - other[row - 1]);
            return sums.Solve() is { } weights && weights[0] < 0 && weights[2] < 0 && Math.Min(-weights[0], -weights[2]) > LeastOfLegs * Math.Max(-weights[0], -weights[2]);
        }

        // What an ampere in phase in both legs does to the voltages' sum, or one more in the first to their difference, with its error.
        (double Slope, double Error) Answer(int sign)
        {
            double[]? weights = null;
            double spread = double.PositiveInfinity, ofFirst = double.PositiveInfinity;
            var step = Math.Max(Robust.Step(one), Robust.Step(other));
            for (var pass = 0; pass < 3; pass++)
            {
                var sums = new NormalEquations(2);
                foreach (var row in rows)
                {
                    if (weights is null || Math.Abs(Rest(row)) <= Beyond * spread) sums.Add([Step(0, row), Step(1, row)], Moved(row));
                }

                weights = sums.Solve();
                if (weights is null) return (0, double.PositiveInfinity);
                ofFirst = sums.ErrorOfFirst();
                spread = Robust.Deviation([.. rows.Select(Rest)]);
                // Most steps may be none at all, of voltages that keep one proportion to the last digit.
                if (spread < Still * step) spread = Math.Sqrt(rows.Average(row => Rest(row) * Rest(row)));
            }

            return (weights![0], ofFirst * spread);
            double Step(int part, int row) => currents[part][row] - currents[part][row - 1] + (sign * (currents[part + 2][row] - currents[part + 2][row - 1]));
            double Moved(int row) => one[row] - one[row - 1] + (sign * (other[row] - other[row - 1]));
            double Rest(int row) => Moved(row) - (weights![0] * Step(0, row)) - (weights[1] * Step(1, row));
        }
    }

    /// <summary>With both leads on one leg the other's power stands turned.</summary>
    private static bool AreOpposite(GuardFrame frame, int[] rows) =>
        Robust.Median([.. rows.Select(row => frame.Watts[0]![row] * frame.Watts[1]![row])]) < 0;
}
