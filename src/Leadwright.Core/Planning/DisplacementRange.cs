using Leadwright.Core.Hookups;
using Leadwright.Core.Hookups.Priors;

namespace Leadwright.Core.Planning;

/// <summary>The displacement that eight in ten sites of a kind have.</summary>
/// <param name="FromDegrees">The tenth percentile, degrees, positive lagging.</param>
/// <param name="TypicalDegrees">The median.</param>
/// <param name="ToDegrees">The ninetieth percentile.</param>
/// <remarks>From the same mixture by which the check of hook-ups judges (docs/methods/priors.md), loads alone: what generation adds is
/// said, not folded in.</remarks>
public readonly record struct DisplacementRange(double FromDegrees, double TypicalDegrees, double ToDegrees)
{
    private const double StepDegrees = 0.25;

    /// <summary>The range of a kind of load.</summary>
    /// <param name="load">The kind.</param>
    public static DisplacementRange Of(LoadKind load)
    {
        var parts = LoadPrior.For(load, false).Components;
        var count = (int)(180 / StepDegrees) + 1;
        var sums = new double[count];
        var sum = 0.0;
        for (var index = 0; index < count; index++)
        {
            var degrees = -90 + (index * StepDegrees);
            foreach (var part in parts)
            {
                var distance = (degrees - part.MeanDegrees) / part.DeviationDegrees;
                sum += part.Weight / part.DeviationDegrees * Math.Exp(-0.5 * distance * distance);
            }

            sums[index] = sum;
        }

        return new DisplacementRange(At(sums, 0.1 * sum), At(sums, 0.5 * sum), At(sums, 0.9 * sum));
    }

    private static double At(double[] sums, double level)
    {
        var index = Array.FindIndex(sums, value => value >= level);
        return -90 + (index * StepDegrees);
    }
}
