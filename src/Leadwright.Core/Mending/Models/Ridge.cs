namespace Leadwright.Core.Mending.Models;

/// <summary>Least squares with a small penalty on the size of the coefficients; accumulates rows, then solves.</summary>
/// <remarks>The normal equations (X'X + λ·diag(X'X))·b = X'y, by elimination with pivots.</remarks>
internal sealed class Ridge(int size)
{
    private readonly double[,] _products = new double[size, size];
    private readonly double[] _target = new double[size];

    public int Count { get; private set; }

    public void Add(ReadOnlySpan<double> features, double target, double weight = 1)
    {
        for (var row = 0; row < size; row++)
        {
            for (var column = row; column < size; column++) _products[row, column] += weight * features[row] * features[column];
            _target[row] += weight * features[row] * target;
        }

        Count++;
    }

    /// <summary>The coefficients; zeros where nothing was learnt.</summary>
    public double[] Solve(double penalty = 1e-4)
    {
        var matrix = new double[size, size + 1];
        for (var row = 0; row < size; row++)
        {
            for (var column = 0; column < size; column++) matrix[row, column] = _products[Math.Min(row, column), Math.Max(row, column)];
            matrix[row, row] += (penalty * _products[row, row]) + 1e-12;
            matrix[row, size] = _target[row];
        }

        for (var at = 0; at < size; at++)
        {
            var pivot = at;
            for (var row = at + 1; row < size; row++) if (Math.Abs(matrix[row, at]) > Math.Abs(matrix[pivot, at])) pivot = row;
            if (pivot != at) for (var column = 0; column <= size; column++) (matrix[at, column], matrix[pivot, column]) = (matrix[pivot, column], matrix[at, column]);
            if (Math.Abs(matrix[at, at]) < 1e-300) continue;
            for (var row = 0; row < size; row++)
            {
                if (row == at || matrix[row, at] == 0) continue;
                var factor = matrix[row, at] / matrix[at, at];
                for (var column = at; column <= size; column++) matrix[row, column] -= factor * matrix[at, column];
            }
        }

        var solution = new double[size];
        for (var row = 0; row < size; row++) solution[row] = Math.Abs(matrix[row, row]) < 1e-300 ? 0 : matrix[row, size] / matrix[row, row];
        return solution;
    }
}
