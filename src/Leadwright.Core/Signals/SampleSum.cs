namespace Leadwright.Core.Signals;

/// <summary>The sum of channels sample by sample.</summary>
public static class SampleSum
{
    /// <summary>Rms of the sum of three channels over the mean of their rms values, the mean of each taken out.</summary>
    /// <param name="first">Samples of the first channel over the span wanted.</param>
    /// <param name="second">Samples of the second channel, as many.</param>
    /// <param name="third">Samples of the third channel, as many.</param>
    /// <returns>The fraction, 0 to 3; near 0 for three voltages against a star point that floats. Times at which any of the
    /// three is missing (NaN) are left out; NaN when none is left or all are constant.</returns>
    /// <exception cref="ArgumentException">The lengths differ.</exception>
    public static double RmsFraction(ReadOnlySpan<double> first, ReadOnlySpan<double> second, ReadOnlySpan<double> third)
    {
        if (second.Length != first.Length || third.Length != first.Length)
            throw new ArgumentException($"Three spans of one length expected, found {first.Length}, {second.Length} and {third.Length} samples.");
        double sumFirst = 0, sumSecond = 0, sumThird = 0;
        var count = 0;
        for (var index = 0; index < first.Length; index++)
        {
            if (!double.IsFinite(first[index] + second[index] + third[index])) continue;
            sumFirst += first[index];
            sumSecond += second[index];
            sumThird += third[index];
            count++;
        }

        if (count == 0) return double.NaN;
        var (meanFirst, meanSecond, meanThird) = (sumFirst / count, sumSecond / count, sumThird / count);
        double squareFirst = 0, squareSecond = 0, squareThird = 0, squareSum = 0;
        for (var index = 0; index < first.Length; index++)
        {
            var (a, b, c) = (first[index] - meanFirst, second[index] - meanSecond, third[index] - meanThird);
            if (!double.IsFinite(a + b + c)) continue;
            squareFirst += a * a;
            squareSecond += b * b;
            squareThird += c * c;
            squareSum += (a + b + c) * (a + b + c);
        }

        return 3 * Math.Sqrt(squareSum) / (Math.Sqrt(squareFirst) + Math.Sqrt(squareSecond) + Math.Sqrt(squareThird));
    }
}
