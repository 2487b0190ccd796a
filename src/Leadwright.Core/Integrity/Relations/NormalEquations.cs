namespace Leadwright.Core.Integrity.Relations;

/// <summary>Least squares by the normal equations, with a touch of ridge: one part in ten thousand of each regressor's own square.</summary>
/// <param name="count">How many regressors.</param>
internal sealed class NormalEquations(int count)
{
    private readonly double[,] _matrix = new double[count, count];
    private readonly double[] _right = new double[count];
    private double[,]? _whole;
    private int _rows;

    /// <summary>Adds one row; one with an unknown value (NaN) among its regressors is left out.</summary>
    public void Add(ReadOnlySpan<double> regressors, double value, double weight = 1)
    {
        foreach (var regressor in regressors)
        {
            if (double.IsNaN(regressor)) return;
        }

        _rows++;
        for (var one = 0; one < count; one++)
        {
            _right[one] += weight * regressors[one] * value;
            for (var other = 0; other < count; other++) _matrix[one, other] += weight * regressors[one] * regressors[other];
        }
    }

    /// <summary>The weights; null where the rows are too few or say nothing of one of them. Once only.</summary>
    public double[]? Solve()
    {
        if (_rows < 5 * count) return null;
        for (var index = 0; index < count; index++) _matrix[index, index] = (_matrix[index, index] * 1.0001) + 1e-12;
        _whole = (double[,])_matrix.Clone();
        return Solved();
    }

    /// <summary>The standard error of the first weight, for a spread of one: the root of the first element of the inverse.</summary>
    public double ErrorOfFirst() => ErrorOf(0);

    /// <summary>The standard error of a weight, for a spread of one.</summary>
    public double ErrorOf(int index)
    {
        Array.Copy(_whole!, _matrix, _matrix.Length);
        Array.Clear(_right);
        _right[index] = 1;
        return Solved() is { } column && column[index] > 0 ? Math.Sqrt(column[index]) : double.PositiveInfinity;
    }

    private double[]? Solved() => Solve(_matrix, _right);

    /// <summary>Solves a symmetric positive system by elimination, in place; null where it is singular.</summary>
    /// <param name="matrix">The matrix, lost in it.</param>
    /// <param name="right">The right side, lost in it.</param>
    public static double[]? Solve(double[,] matrix, double[] right)
    {
        var count = right.Length;
        for (var step = 0; step < count; step++)
        {
            if (matrix[step, step] <= 0) return null;
            for (var row = step + 1; row < count; row++)
            {
                var factor = matrix[row, step] / matrix[step, step];
                for (var column = step; column < count; column++) matrix[row, column] -= factor * matrix[step, column];
                right[row] -= factor * right[step];
            }
        }

        var weights = new double[count];
        for (var row = count - 1; row >= 0; row--)
        {
            var sum = right[row];
            for (var column = row + 1; column < count; column++) sum -= matrix[row, column] * weights[column];
            weights[row] = sum / matrix[row, row];
        }

        return weights;
    }
}
