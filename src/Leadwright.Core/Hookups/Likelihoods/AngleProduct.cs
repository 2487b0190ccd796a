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
                var row = densities[index].Row(level, sixths[index]);
                var start = ClampDensity.FirstIndex(sixths[index]);
                var wrap = DisplacementGrid.Steps - start;
                for (var step = 0; step < wrap; step++) product[step] *= row[start + step];
                for (var step = wrap; step < DisplacementGrid.Steps; step++) product[step] *= row[step - wrap];
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

    /// <summary>Sum over the mean displacements, for each level.</summary>
    public double[] Sums { get; } = new double[DisplacementGrid.Levels];

    /// <summary>The products of a level, by step.</summary>
    public ReadOnlySpan<double> Row(int level) => _product.AsSpan(level * DisplacementGrid.Steps, DisplacementGrid.Steps);
}
