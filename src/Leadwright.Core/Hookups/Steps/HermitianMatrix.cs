using Leadwright.Core.Circuits;

namespace Leadwright.Core.Hookups.Steps;

/// <summary>Small Hermitian matrices, row by row in a span.</summary>
internal static class HermitianMatrix
{
    /// <summary>Cholesky factor in place (lower triangle).</summary>
    /// <returns>Natural logarithm of the determinant; NaN when the matrix is not positive definite.</returns>
    public static double Factor(Span<Phasor> matrix, int size)
    {
        double log = 0;
        for (var row = 0; row < size; row++)
        {
            for (var column = 0; column <= row; column++)
            {
                var value = matrix[(row * size) + column];
                for (var inner = 0; inner < column; inner++)
                    value -= matrix[(row * size) + inner] * matrix[(column * size) + inner].Conjugate;
                if (row != column)
                {
                    matrix[(row * size) + column] = value / matrix[(column * size) + column].Real;
                    continue;
                }

                if (!(value.Real > 0)) return double.NaN;
                log += Math.Log(value.Real);
                matrix[(row * size) + row] = new Phasor(Math.Sqrt(value.Real), 0);
            }
        }

        return log;
    }

    /// <summary>x^H·M^-1·x from the factor; x is destroyed.</summary>
    public static double Form(ReadOnlySpan<Phasor> factor, int size, Span<Phasor> x)
    {
        double sum = 0;
        for (var row = 0; row < size; row++)
        {
            var value = x[row];
            for (var inner = 0; inner < row; inner++) value -= factor[(row * size) + inner] * x[inner];
            x[row] = value / factor[(row * size) + row].Real;
            sum += x[row].SquaredMagnitude;
        }

        return sum;
    }

    /// <summary>The inverse from the factor.</summary>
    public static void Invert(ReadOnlySpan<Phasor> factor, int size, Span<Phasor> inverse)
    {
        Span<Phasor> unit = stackalloc Phasor[size];
        for (var column = 0; column < size; column++)
        {
            unit.Clear();
            unit[column] = new Phasor(1, 0);
            for (var row = 0; row < size; row++)
            {
                var value = unit[row];
                for (var inner = 0; inner < row; inner++) value -= factor[(row * size) + inner] * unit[inner];
                unit[row] = value / factor[(row * size) + row].Real;
            }

            for (var row = size - 1; row >= 0; row--)
            {
                var value = unit[row];
                for (var inner = row + 1; inner < size; inner++) value -= factor[(inner * size) + row].Conjugate * unit[inner];
                unit[row] = value / factor[(row * size) + row].Real;
            }

            for (var row = 0; row < size; row++) inverse[(row * size) + column] = unit[row];
        }
    }
}
