using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Integrity.Phasors;

/// <summary>Weighted sums of products of three voltages' changes and of six parts of currents, enough to weigh any linear law of them.</summary>
internal sealed class PhasorSums
{
    /// <summary>The three voltages are known less their mean: two of them tell it all.</summary>
    private const double TwoOfThree = 2.0 / 3;
    private const double Ridge = 1.0001;
    private readonly double[,] _own = new double[PhasorRows.Parts, PhasorRows.Parts];
    private readonly double[,] _both = new double[PhasorRows.Parts, 3];

    /// <summary>Number of rows.</summary>
    public int Rows { get; private set; }

    /// <summary>Adds a row.</summary>
    /// <param name="parts">The changes of the currents.</param>
    /// <param name="apart">The changes of the voltages.</param>
    /// <param name="weight">One over the square of what they are known to.</param>
    public void Add(ReadOnlySpan<double> parts, ReadOnlySpan<double> apart, double weight)
    {
        Rows++;
        for (var one = 0; one < PhasorRows.Parts; one++)
        {
            for (var other = 0; other < PhasorRows.Parts; other++) _own[one, other] += TwoOfThree * weight * parts[one] * parts[other];
            for (var channel = 0; channel < 3; channel++) _both[one, channel] += TwoOfThree * weight * parts[one] * apart[channel];
        }
    }

    /// <summary>Adds what another one holds.</summary>
    public void Add(PhasorSums other)
    {
        Rows += other.Rows;
        for (var one = 0; one < PhasorRows.Parts; one++)
        {
            for (var two = 0; two < PhasorRows.Parts; two++) _own[one, two] += other._own[one, two];
            for (var channel = 0; channel < 3; channel++) _both[one, channel] += other._both[one, channel];
        }
    }

    /// <summary>Log-likelihood that a law wins over no answer at all, nats.</summary>
    /// <param name="law">Weights by channel and part.</param>
    public double Gain(double[,] law) => With(law) - (0.5 * Between(law, law));

    /// <summary>Log-likelihood that the best of all linear laws wins over no answer at all, nats.</summary>
    public double MostGain()
    {
        double most = 0;
        for (var channel = 0; channel < 3; channel++)
        {
            var (matrix, right) = ((double[,])_own.Clone(), new double[PhasorRows.Parts]);
            for (var part = 0; part < PhasorRows.Parts; part++) (right[part], matrix[part, part]) = (_both[part, channel], (matrix[part, part] * Ridge) + 1e-300);
            if (NormalEquations.Solve(matrix, right) is not { } weights) continue;
            for (var part = 0; part < PhasorRows.Parts; part++) most += 0.5 * weights[part] * _both[part, channel];
        }

        return most;
    }

    /// <summary>What a law predicts times what happened, summed.</summary>
    /// <param name="law">Weights by channel and part.</param>
    public double With(double[,] law)
    {
        double sum = 0;
        for (var channel = 0; channel < 3; channel++)
        {
            for (var part = 0; part < PhasorRows.Parts; part++) sum += law[channel, part] * _both[part, channel];
        }

        return sum;
    }

    /// <summary>What one law predicts times what another does, summed.</summary>
    public double Between(double[,] law, double[,] other)
    {
        double sum = 0;
        for (var channel = 0; channel < 3; channel++)
        {
            for (var one = 0; one < PhasorRows.Parts; one++)
            {
                if (law[channel, one] == 0) continue;
                for (var two = 0; two < PhasorRows.Parts; two++) sum += law[channel, one] * _own[one, two] * other[channel, two];
            }
        }

        return sum;
    }
}
