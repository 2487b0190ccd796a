namespace Leadwright.Core.Mending.Answers;

/// <summary>The distribution of an energy: normal errors, and things that either were or were not.</summary>
internal sealed class EnergyMixture(double wattHours)
{
    private const int MostParts = 768;

    // A way's change is spread over this many parts, so that an interval grows with its probability and does not leap.
    private const int Spread = 16;
    private const int Fine = 64;
    private const double Widest = 1.06;
    private readonly List<(double Probability, double Shift)> _parts = [(1, 0)];
    private double _variance;

    /// <summary>Adds an independent normal error.</summary>
    /// <param name="deviation">Its standard deviation, watt-hours.</param>
    /// <param name="freedom">Degrees of freedom with which that is known; infinite when it is known outright.</param>
    /// <param name="coverage">The coverage that the interval will have: the deviation is widened so that it holds there.</param>
    public void AddError(double deviation, double freedom, double coverage)
    {
        var tail = (1 + coverage) / 2;
        var normal = NormalQuantile(tail);
        _variance += Square(deviation * (double.IsInfinity(freedom) ? 1 : StudentQuantile(normal, freedom) / normal));
    }

    /// <summary>Adds something that changes the energy when it was so.</summary>
    /// <param name="ways">Probability and change, watt-hours, of each way; what is left of 1 changes nothing.</param>
    /// <remarks>What a way changes is itself known roughly: its own mending has errors, and it may have held for a part only. Its change is spread with the
    /// density 3x² over 0 to 1.06 of itself: most of it at the change, a little on the way there, so that the quantile is continuous in the probability.</remarks>
    public void AddWays(IReadOnlyList<(double Probability, double Shift)> ways)
    {
        var rest = 1 - ways.Sum(way => way.Probability);
        var before = _parts.ToArray();
        _parts.Clear();
        foreach (var (probability, shift) in before)
        {
            _parts.Add((probability * rest, shift));
            foreach (var way in ways)
            {
                for (var part = 0; part < Spread; part++)
                    _parts.Add((probability * way.Probability / Spread, shift + (Widest * Math.Cbrt((part + 0.5) / Spread) * way.Shift)));
            }
        }

        Join();
    }

    /// <summary>Adds that a part of the energy is known by its order only: as likely more than what is put in, which dies away as a logarithmic normal law does, as anything less.</summary>
    /// <param name="part">That part as it is in the energy, watt-hours.</param>
    /// <param name="spread">Standard deviation of the logarithm of what is more over what is put in.</param>
    public void AddFactor(double part, double spread)
    {
        if (part == 0) return;
        var before = _parts.ToArray();
        _parts.Clear();
        foreach (var (probability, shift) in before)
        {
            for (var at = 0; at < Fine; at++)
            {
                var share = (at + 0.5) / Fine;
                _parts.Add((probability / Fine, shift + (part * ((share < 0.5 ? 2 * share : Math.Exp(spread * NormalQuantile(share))) - 1))));
            }
        }

        Join();
    }

    /// <summary>Joins neighbours until few enough are left: the sum and the mean are kept.</summary>
    private void Join()
    {
        if (_parts.Count <= MostParts) return;
        _parts.Sort((one, other) => one.Shift.CompareTo(other.Shift));
        var step = (_parts[^1].Shift - _parts[0].Shift) / (MostParts / 3);
        var joined = new List<(double Probability, double Shift)>();
        double weight = 0, moment = 0, from = _parts[0].Shift;
        foreach (var (probability, shift) in _parts)
        {
            if (weight > 0 && shift - from > step)
            {
                joined.Add((weight, moment / weight));
                (weight, moment) = (0, 0);
            }

            if (weight == 0) from = shift;
            weight += probability;
            moment += probability * shift;
        }

        if (weight > 0) joined.Add((weight, moment / weight));
        _parts.Clear();
        _parts.AddRange(joined);
    }

    /// <summary>The energy below which a share of the distribution lies.</summary>
    public double Quantile(double share)
    {
        var deviation = Math.Sqrt(_variance);
        double low = wattHours + _parts.Min(part => part.Shift) - (9 * deviation) - 1e-9, high = wattHours + _parts.Max(part => part.Shift) + (9 * deviation) + 1e-9;
        for (var round = 0; round < 80; round++)
        {
            var middle = 0.5 * (low + high);
            var below = 0.0;
            foreach (var (probability, shift) in _parts)
                below += probability * (deviation > 0 ? Normal((middle - wattHours - shift) / deviation) : middle >= wattHours + shift ? 1 : 0);
            if (below < share) low = middle;
            else high = middle;
        }

        return 0.5 * (low + high);
    }

    /// <summary>Distribution function of the normal law.</summary>
    /// <remarks>Abramowitz and Stegun 7.1.26, from memory: error below 1.5e-7.</remarks>
    internal static double Normal(double value)
    {
        var x = Math.Abs(value) / Math.Sqrt(2);
        var t = 1 / (1 + (0.3275911 * x));
        var tail = 0.5 * t * (0.254829592 + (t * (-0.284496736 + (t * (1.421413741 + (t * (-1.453152027 + (t * 1.061405429)))))))) * Math.Exp(-x * x);
        return value >= 0 ? 1 - tail : tail;
    }

    internal static double NormalQuantile(double share)
    {
        double low = -9, high = 9;
        for (var round = 0; round < 60; round++)
        {
            var middle = 0.5 * (low + high);
            if (Normal(middle) < share) low = middle;
            else high = middle;
        }

        return 0.5 * (low + high);
    }

    // Abramowitz and Stegun 26.7.5, from memory: the quantile of Student's law from that of the normal one, in powers of 1/ν.
    internal static double StudentQuantile(double normal, double freedom)
    {
        var z2 = normal * normal;
        var first = normal * (z2 + 1) / 4;
        var second = normal * ((((5 * z2) + 16) * z2) + 3) / 96;
        var third = normal * ((((((3 * z2) + 19) * z2) + 17) * z2) - 15) / 384;
        return normal + (first / freedom) + (second / (freedom * freedom)) + (third / (freedom * freedom * freedom));
    }

    private static double Square(double value) => value * value;
}
