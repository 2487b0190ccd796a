using Leadwright.Core.Circuits;

namespace Leadwright.Core.Signals;

/// <summary>Fits a direct component, a fundamental and its harmonics to a window of samples, by least squares.</summary>
/// <remarks>
/// <para>Model: x(t) = d + Σ √2·Re(X_h·e^{jhωt}), h = 1 … H, t counted from the recording's start. Unlike a discrete Fourier
/// transform it is exact whether or not the window holds a whole number of samples a cycle, and at any spacing of the
/// samples. The normal matrix follows from the sums of cos mωt and sin mωt, m = 0 … 2H, and is shared by all channels.</para>
/// <para>Buffers are kept from window to window. Not thread-safe: one instance for each thread.</para>
/// </remarks>
internal sealed class HarmonicFit
{
    private readonly int _unknowns;
    private readonly double[] _cosineSums;
    private readonly double[] _sineSums;
    private readonly double[] _matrix;
    private readonly double[] _projection;
    private readonly double[] _solution;
    private double[] _basis = [];
    private double[] _clock = [];

    /// <summary>Makes a fit of a highest order.</summary>
    public HarmonicFit(int highestOrder)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(highestOrder, 1);
        HighestOrder = highestOrder;
        _unknowns = (2 * highestOrder) + 1;
        _cosineSums = new double[_unknowns];
        _sineSums = new double[_unknowns];
        _matrix = new double[_unknowns * _unknowns];
        _projection = new double[_unknowns];
        _solution = new double[_unknowns];
    }

    /// <summary>The highest harmonic order fitted.</summary>
    public int HighestOrder { get; }

    private int First { get; set; }

    private int Length { get; set; }

    /// <summary>The highest order that a rate can carry: nine tenths of half the samples of a cycle, and two samples more
    /// than unknowns in a window of one cycle; at least 1.</summary>
    public static int OrderFor(double samplesPerCycle, int highest)
    {
        var byBand = (int)Math.Floor(0.45 * samplesPerCycle);
        var byUnknowns = ((int)Math.Floor(samplesPerCycle + 1e-6) - 2) / 2;
        return Math.Clamp(Math.Min(byBand, byUnknowns), 1, highest);
    }

    /// <summary>Takes up a window at a frequency; the fits of all channels of the window follow.</summary>
    /// <returns>False when the window holds too few samples for the unknowns.</returns>
    public bool Prepare(Stretch stretch, int first, int length, double hertz)
    {
        if (length <= _unknowns) return false;
        (First, Length) = (first, length);
        ReadClock(stretch);
        BuildBasis(hertz);
        BuildMatrix();
        return Factorise();
    }

    /// <summary>Fits one channel over the window taken up.</summary>
    /// <param name="samples">All samples of the channel in the recording.</param>
    /// <param name="harmonics">Receives the rms phasors of orders 1 to <see cref="HighestOrder"/>.</param>
    /// <returns>The rest of the fit; null when a sample is missing (NaN) or infinite.</returns>
    public FitResidue? Solve(ReadOnlySpan<double> samples, Span<Phasor> harmonics)
    {
        var window = samples.Slice(First, Length);
        // Referring to the first sample keeps a large direct component from eating the digits of a small signal.
        var origin = window[0];
        double sum = 0, sumOfSquares = 0;
        foreach (var sample in window)
        {
            var value = sample - origin;
            sum += value;
            sumOfSquares += value * value;
        }

        if (!double.IsFinite(sumOfSquares)) return null;
        _projection[0] = sum;
        for (var row = 1; row < _unknowns; row++)
        {
            var wave = _basis.AsSpan((row - 1) * Length, Length);
            double projection = 0;
            for (var index = 0; index < wave.Length; index++) projection += wave[index] * (window[index] - origin);
            _projection[row] = projection;
        }

        SolveFactorised();
        var explained = 0.0;
        for (var row = 0; row < _unknowns; row++) explained += _projection[row] * _solution[row];
        for (var order = 1; order <= HighestOrder; order++)
            harmonics[order - 1] = new Phasor(_solution[(2 * order) - 1], -_solution[2 * order]) / Math.Sqrt(2);
        var residual = Math.Max(0, sumOfSquares - explained);
        return new FitResidue(
            origin + _solution[0], residual / Length, residual / (Length - _unknowns), (sumOfSquares - (sum * sum / Length)) / (Length - 1));
    }

    private void ReadClock(Stretch stretch)
    {
        if (_clock.Length < Length) _clock = new double[Length];
        foreach (var segment in stretch.Segments)
        {
            var from = Math.Max(First, segment.FirstIndex);
            var to = Math.Min(First + Length, segment.FirstIndex + segment.Length);
            for (var index = from; index < to; index++)
                _clock[index - First] = segment.StartSeconds + ((index - segment.FirstIndex) / segment.RateHertz);
        }
    }

    private void BuildBasis(double hertz)
    {
        var needed = (_unknowns - 1) * Length;
        if (_basis.Length < needed) _basis = new double[needed];
        Array.Clear(_cosineSums);
        Array.Clear(_sineSums);
        var angular = 2 * Math.PI * hertz;
        for (var index = 0; index < Length; index++)
        {
            var (sine, cosine) = Math.SinCos(angular * _clock[index]);
            double real = 1, imaginary = 0;
            _cosineSums[0] += 1;
            for (var order = 1; order < _unknowns; order++)
            {
                (real, imaginary) = ((real * cosine) - (imaginary * sine), (real * sine) + (imaginary * cosine));
                _cosineSums[order] += real;
                _sineSums[order] += imaginary;
                if (order > HighestOrder) continue;
                _basis[(((2 * order) - 2) * Length) + index] = real;
                _basis[(((2 * order) - 1) * Length) + index] = imaginary;
            }
        }
    }

    private void BuildMatrix()
    {
        this[0, 0] = Length;
        for (var h = 1; h <= HighestOrder; h++)
        {
            this[(2 * h) - 1, 0] = _cosineSums[h];
            this[2 * h, 0] = _sineSums[h];
            for (var k = 1; k <= h; k++)
            {
                var (sumCosine, differenceCosine) = (_cosineSums[h + k], _cosineSums[h - k]);
                var (sumSine, differenceSine) = (_sineSums[h + k], _sineSums[h - k]);
                this[(2 * h) - 1, (2 * k) - 1] = 0.5 * (differenceCosine + sumCosine);
                this[2 * h, 2 * k] = 0.5 * (differenceCosine - sumCosine);
                this[2 * h, (2 * k) - 1] = 0.5 * (sumSine + differenceSine);
                // The upper entry of the pair: only below the diagonal when the orders differ.
                if (k < h) this[(2 * h) - 1, 2 * k] = 0.5 * (sumSine - differenceSine);
            }
        }
    }

    private double this[int row, int column]
    {
        get => _matrix[(row * _unknowns) + column];
        set => _matrix[(row * _unknowns) + column] = value;
    }

    // Cholesky factorisation in place, lower triangle.
    private bool Factorise()
    {
        for (var row = 0; row < _unknowns; row++)
        {
            var current = _matrix.AsSpan(row * _unknowns, row + 1);
            for (var column = 0; column <= row; column++)
            {
                var other = _matrix.AsSpan(column * _unknowns, column + 1);
                var value = current[column];
                for (var inner = 0; inner < column; inner++) value -= current[inner] * other[inner];
                if (row != column) current[column] = value / other[column];
                else if (value <= 1e-9 * Length) return false;
                else current[column] = Math.Sqrt(value);
            }
        }

        return true;
    }

    private void SolveFactorised()
    {
        for (var row = 0; row < _unknowns; row++)
        {
            var value = _projection[row];
            for (var inner = 0; inner < row; inner++) value -= this[row, inner] * _solution[inner];
            _solution[row] = value / this[row, row];
        }

        for (var row = _unknowns - 1; row >= 0; row--)
        {
            var value = _solution[row];
            for (var inner = row + 1; inner < _unknowns; inner++) value -= this[inner, row] * _solution[inner];
            _solution[row] = value / this[row, row];
        }
    }
}
