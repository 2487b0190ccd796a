namespace Leadwright.Core.Hookups.Likelihoods;

/// <summary>How likely one clamp's angle is, for every mean displacement, level, and sixth of a turn.</summary>
/// <remarks>Conductors are 120 (or 180) degrees apart and a turned clamp is 180 away, so that moving or turning a clamp only
/// shifts this table by twelve steps for each sixth of a turn.</remarks>
internal sealed class ClampDensity
{
    private const double Flat = 1 / (2 * Math.PI);
    private const int StepsPerSixth = DisplacementGrid.Steps / 6;
    private const int Variants = 3;
    private readonly double[][] _density = new double[DisplacementGrid.Independent * Variants][];
    private readonly int[] _firstRow = new int[6];
    private readonly double[] _independent = new double[6];

    /// <summary>Makes the table.</summary>
    /// <param name="displacements">Displacement that each candidate angle would mean were the clamp on A, facing the load;
    /// radians, with weights.</param>
    /// <param name="deviation">Angle error of the clamp, radians.</param>
    /// <param name="grid">The load prior.</param>
    /// <param name="shifts">How far lines may stand off it; null when none does.</param>
    /// <param name="lineSixths">Where each line stands behind A, in sixths of a turn.</param>
    public ClampDensity(
        ReadOnlySpan<AngleCandidate> displacements, double deviation, DisplacementGrid grid, LegShifts? shifts, ReadOnlySpan<int> lineSixths)
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
            var sign = shifts is null ? 0 : SignOf(shifts, lineSixths, sixth);
            if (sign != 0) _firstRow[sixth] = ShiftedRows(shifts!, sign);
            foreach (var candidate in displacements)
                _independent[sixth] += candidate.Weight * Marginal(grid, shifts, sign, candidate.AngleRadians + (sixth * Math.PI / 3));
            if (displacements.IsEmpty) _independent[sixth] = Flat;
            Largest = Math.Max(Largest, _independent[sixth]);
        }
    }

    /// <summary>The largest density in the table, per radian.</summary>
    public double Largest { get; } = Flat;

    /// <summary>Density per radian when phases are independent.</summary>
    public double Independent(int sixths) => _independent[sixths];

    /// <summary>The row of a level for a clamp turned by some sixths; <see cref="FirstIndex"/> is the index in it that belongs to
    /// step 0.</summary>
    public ReadOnlySpan<double> Row(int level, int sixths) => _density[_firstRow[sixths] + level];

    public static int FirstIndex(int sixths) => sixths == 0 ? 0 : DisplacementGrid.Steps - (sixths * StepsPerSixth);

    /// <summary>Density of a displacement when phases are independent, over the shifts of its line.</summary>
    public static double Marginal(DisplacementGrid grid, LegShifts? shifts, int sign, double radians)
    {
        if (sign == 0) return grid.Marginal(radians);
        double sum = 0;
        for (var number = 0; number < LegShifts.Steps.Length; number++)
            sum += shifts!.Weights[number] * grid.Marginal(radians - (sign * DisplacementGrid.MeanOf(LegShifts.Steps[number])));
        return sum;
    }

    /// <summary>A turned clamp stands three sixths off its line: each sixth belongs to one line.</summary>
    private static int SignOf(LegShifts shifts, ReadOnlySpan<int> lineSixths, int sixth)
    {
        for (var line = 0; line < lineSixths.Length; line++)
            if (lineSixths[line] == sixth || lineSixths[line] == (sixth + 3) % 6) return shifts.SignOf(line);
        return 0;
    }

    private int ShiftedRows(LegShifts shifts, int sign)
    {
        var first = sign > 0 ? DisplacementGrid.Independent : 2 * DisplacementGrid.Independent;
        if (_density[first] is not null) return first;
        for (var level = 0; level < DisplacementGrid.Independent; level++)
        {
            var row = _density[first + level] = new double[DisplacementGrid.Steps];
            for (var number = 0; number < LegShifts.Steps.Length; number++)
            {
                var offset = DisplacementGrid.Steps + (sign * LegShifts.Steps[number]);
                for (var step = 0; step < row.Length; step++)
                    row[step] += shifts.Weights[number] * _density[level][(step + offset) % DisplacementGrid.Steps];
            }
        }

        return first;
    }

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
