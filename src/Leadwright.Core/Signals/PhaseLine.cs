using Leadwright.Core.Circuits;

namespace Leadwright.Core.Signals;

/// <summary>A straight line through the phases of successive phasors, weighted by their squared sizes.</summary>
internal sealed class PhaseLine
{
    private readonly List<double> _times = [];
    private readonly List<Phasor> _phasors = [];

    /// <summary>How many phasors it was laid through.</summary>
    public int Count => _times.Count;

    /// <summary>Standard error of the last <see cref="Slope"/>, radians per second.</summary>
    public double SlopeError { get; private set; }

    /// <summary>Forgets all phasors.</summary>
    public void Clear()
    {
        _times.Clear();
        _phasors.Clear();
    }

    /// <summary>Adds a phasor; in order of time.</summary>
    public void Add(double seconds, Phasor phasor)
    {
        _times.Add(seconds);
        _phasors.Add(phasor);
    }

    /// <summary>Square of the phasors' mean, their common turning taken out: what noise does not add up to.</summary>
    public double CoherentSquare()
    {
        var turning = Slope();
        var sum = default(Phasor);
        for (var index = 0; index < Count; index++)
            sum += _phasors[index] * Phasor.FromRadians(1, -turning * (_times[index] - _times[0]));
        return (sum / Count).SquaredMagnitude;
    }

    /// <summary>Slope of the unwrapped phase, radians per second.</summary>
    public double Slope()
    {
        double weights = 0, meanTime = 0, meanPhase = 0, phase = 0;
        Span<double> phases = Count <= 256 ? stackalloc double[Count] : new double[Count];
        for (var index = 0; index < Count; index++)
        {
            if (index > 0) phase += (_phasors[index] * _phasors[index - 1].Conjugate).AngleRadians;
            phases[index] = phase;
            var weight = _phasors[index].SquaredMagnitude;
            weights += weight;
            meanTime += weight * _times[index];
            meanPhase += weight * phase;
        }

        if (weights == 0) return 0;
        meanTime /= weights;
        meanPhase /= weights;
        double timeSquare = 0, product = 0, phaseSquare = 0;
        for (var index = 0; index < Count; index++)
        {
            var weight = _phasors[index].SquaredMagnitude;
            var (time, turned) = (_times[index] - meanTime, phases[index] - meanPhase);
            timeSquare += weight * time * time;
            product += weight * time * turned;
            phaseSquare += weight * turned * turned;
        }

        if (timeSquare == 0) return 0;
        var slope = product / timeSquare;
        SlopeError = Count > 2 ? Math.Sqrt(Math.Max(0, phaseSquare - (slope * product)) / timeSquare / (Count - 2)) : 0;
        return slope;
    }
}
