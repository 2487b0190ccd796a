namespace Leadwright.Core.Hookups.Steps;

/// <summary>Real symmetric positive definite matrices of a few rows, stored row by row.</summary>
internal static class SymmetricMatrix
{
    /// <summary>Factors a matrix in place into L·Lᵀ; L is left in the lower triangle.</summary>
    /// <returns>Natural logarithm of the determinant; NaN when the matrix is not positive definite.</returns>
    public static double Factor(Span<double> matrix, int size)
    {
        double log = 0;
        for (var row = 0; row < size; row++)
        {
            for (var column = 0; column <= row; column++)
            {
                var sum = matrix[(row * size) + column];
                for (var inner = 0; inner < column; inner++) sum -= matrix[(row * size) + inner] * matrix[(column * size) + inner];
                if (row != column) matrix[(row * size) + column] = sum / matrix[(column * size) + column];
                else if (!(sum > 0)) return double.NaN;
                else
                {
                    matrix[(row * size) + row] = Math.Sqrt(sum);
                    log += Math.Log(sum);
                }
            }
        }

        return log;
    }

    /// <summary>The form vᵀ·M⁻¹·v from the factor; the vector is used up: it becomes L⁻¹·v.</summary>
    public static double Form(ReadOnlySpan<double> factor, int size, Span<double> vector)
    {
        double form = 0;
        for (var row = 0; row < size; row++)
        {
            var value = vector[row];
            for (var inner = 0; inner < row; inner++) value -= factor[(row * size) + inner] * vector[inner];
            vector[row] = value / factor[(row * size) + row];
            form += vector[row] * vector[row];
        }

        return form;
    }

    /// <summary>The inverse from the factor.</summary>
    public static void Invert(ReadOnlySpan<double> factor, int size, Span<double> inverse)
    {
        Span<double> column = stackalloc double[size];
        for (var at = 0; at < size; at++)
        {
            column.Clear();
            column[at] = 1;
            Form(factor, size, column);
            for (var row = size - 1; row >= 0; row--)
            {
                var value = column[row];
                for (var inner = row + 1; inner < size; inner++) value -= factor[(inner * size) + row] * column[inner];
                column[row] = value / factor[(row * size) + row];
            }

            for (var row = 0; row < size; row++) inverse[(row * size) + at] = column[row];
        }
    }
}
