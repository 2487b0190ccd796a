using System.Numerics;

namespace Leadwright.Core.Hookups.Likelihoods;

/// <summary>The clamps' densities multiplied at every level and mean displacement, for one set of turns.</summary>
internal sealed class AngleProduct
{
    private const int Absent = 6;
    private readonly double[] _product = new double[DisplacementGrid.Independent * DisplacementGrid.Steps];

    /// <summary>Multiplies.</summary>
    /// <param name="grid">The load prior.</param>
    /// <param name="densities">One table for each clamp.</param>
    /// <param name="sixths">Turn of each clamp, in sixths; 6 for one that reads no line.</param>
    public AngleProduct(DisplacementGrid grid, ClampDensity[] densities, ReadOnlySpan<int> sixths)
    {
        for (var level = 0; level < DisplacementGrid.Independent; level++)
        {
            var product = _product.AsSpan(level * DisplacementGrid.Steps, DisplacementGrid.Steps);
            grid.Weights[level].CopyTo(product);
            for (var index = 0; index < densities.Length; index++)
            {
                if (sixths[index] == Absent) continue;
                Multiply(product, densities[index], level, sixths[index]);
            }

            double sum = 0;
            foreach (var value in product) sum += value;
            Sums[level] = sum;
        }

        var independent = grid.LevelWeights[DisplacementGrid.Independent];
        for (var index = 0; index < densities.Length; index++)
        {
            if (sixths[index] != Absent) independent *= densities[index].Independent(sixths[index]);
        }

        Sums[DisplacementGrid.Independent] = independent;
    }

    /// <summary>How likely the angles of two clamps are together, over all levels and mean displacements, per radian each.</summary>
    public static double OfPair(DisplacementGrid grid, ClampDensity one, int oneSixths, ClampDensity other, int otherSixths)
    {
        Span<double> product = stackalloc double[DisplacementGrid.Steps];
        var total = grid.LevelWeights[DisplacementGrid.Independent] * one.Independent(oneSixths) * other.Independent(otherSixths);
        for (var level = 0; level < DisplacementGrid.Independent; level++)
        {
            grid.Weights[level].CopyTo(product);
            Multiply(product, one, level, oneSixths);
            Multiply(product, other, level, otherSixths);
            foreach (var value in product) total += value;
        }

        return total;
    }

    private static void Multiply(Span<double> product, ClampDensity density, int level, int sixths)
    {
        var row = density.Row(level, sixths);
        var start = ClampDensity.FirstIndex(sixths);
        var wrap = DisplacementGrid.Steps - start;
        Multiply(product[..wrap], row[start..]);
        Multiply(product[wrap..], row[..start]);
    }

    private static void Multiply(Span<double> product, ReadOnlySpan<double> row)
    {
        var step = 0;
        for (; step <= product.Length - Vector<double>.Count; step += Vector<double>.Count)
            (new Vector<double>(product[step..]) * new Vector<double>(row[step..])).CopyTo(product[step..]);
        for (; step < product.Length; step++) product[step] *= row[step];
    }

    /// <summary>Sum over the mean displacements, for each level.</summary>
    public double[] Sums { get; } = new double[DisplacementGrid.Levels];

    /// <summary>The products of a level, by step.</summary>
    public ReadOnlySpan<double> Row(int level) => _product.AsSpan(level * DisplacementGrid.Steps, DisplacementGrid.Steps);
}
