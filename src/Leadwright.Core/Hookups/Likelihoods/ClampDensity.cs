namespace Leadwright.Core.Hookups.Likelihoods;

/// <summary>How likely one clamp's angle is, for every mean displacement, level, and sixth of a turn.</summary>
/// <remarks>Conductors are 120 (or 180) degrees apart and a turned clamp is 180 away, so that moving or turning a clamp only
/// shifts this table by twelve steps for each sixth of a turn.</remarks>
internal sealed class ClampDensity
{
    private const double Flat = 1 / (2 * Math.PI);
    private const int StepsPerSixth = DisplacementGrid.Steps / 6;
    private readonly double[][] _density = new double[DisplacementGrid.Independent][];
    private readonly double[] _independent = new double[6];

    /// <summary>Makes the table.</summary>
    /// <param name="displacements">Displacement that each candidate angle would mean were the clamp on A, facing the load;
    /// radians, with weights.</param>
    /// <param name="deviation">Angle error of the clamp, radians.</param>
    /// <param name="grid">The load prior.</param>
    public ClampDensity(ReadOnlySpan<AngleCandidate> displacements, double deviation, DisplacementGrid grid)
    {
        for (var level = 0; level < DisplacementGrid.Independent; level++)
        {
            var row = _density[level] = new double[DisplacementGrid.Steps];
            var spread = Math.Sqrt(Square(DisplacementGrid.AngleSpread[level]) + Square(deviation));
            for (var step = 0; step < row.Length; step++)
                row[step] = Density(displacements, DisplacementGrid.MeanOf(step), spread);
            foreach (var value in row) Largest = Math.Max(Largest, value);
        }

        for (var sixth = 0; sixth < 6; sixth++)
        {
            foreach (var candidate in displacements)
                _independent[sixth] += candidate.Weight * grid.Marginal(candidate.AngleRadians + (sixth * Math.PI / 3));
            if (displacements.IsEmpty) _independent[sixth] = Flat;
            Largest = Math.Max(Largest, _independent[sixth]);
        }
    }

    /// <summary>The largest density in the table, per radian.</summary>
    public double Largest { get; } = Flat;

    /// <summary>Density per radian when phases are independent.</summary>
    public double Independent(int sixths) => _independent[sixths];

    /// <summary>The row of a level, and the index in it that belongs to step 0 after turning by some sixths.</summary>
    public ReadOnlySpan<double> Row(int level) => _density[level];

    public static int FirstIndex(int sixths) => sixths == 0 ? 0 : DisplacementGrid.Steps - (sixths * StepsPerSixth);

    private static double Density(ReadOnlySpan<AngleCandidate> displacements, double mean, double spread)
    {
        if (displacements.IsEmpty) return Flat;
        double sum = 0;
        foreach (var candidate in displacements)
            sum += candidate.Weight * Gauss.WrappedDensity(candidate.AngleRadians - mean, spread);
        return sum;
    }

    private static double Square(double value) => value * value;
}
