namespace Leadwright.Core.Integrity.Samples;

/// <summary>How much each sample counts in a mean over one cycle that is no whole number of samples.</summary>
/// <remarks>
/// With 53 samples in one cycle and 54 in the next the rms of a steady wave moves by a percent, in all channels together, and what moves together seems to answer. Between samples the wave's square is taken to go straight: the
/// trapezoidal rule, which over whole cycles of a sine errs by nothing, with weights ½, 1, …, 1, ½ + f − f²/2, f²/2 where the cycle ends a share f behind a sample.
/// </remarks>
/// <param name="length">Samples to a cycle, as measured.</param>
/// <param name="whole">How many samples lie in this one.</param>
internal readonly struct CycleEnds(double length, int whole)
{
    private const double Nearly = 0.002;
    private readonly int _floor = (int)Math.Floor(length + Nearly);
    private readonly double _rest = length - Math.Floor(length + Nearly) is var rest and > Nearly ? rest : 0;

    /// <summary>Samples of the cycle itself.</summary>
    public int Whole => whole;

    /// <summary>How many samples have a weight.</summary>
    public int Samples => _rest > 0 ? _floor + 2 : whole;

    /// <summary>The sum of all weights.</summary>
    public double Length => _rest > 0 ? _floor + _rest : whole;

    /// <summary>The weight of a sample.</summary>
    /// <param name="index">Its place from the cycle's first on.</param>
    public double Weight(int index) => _rest <= 0 || (index > 0 && index < _floor) ? 1
        : index == 0 ? 0.5
        : index == _floor ? 0.5 + _rest - (0.5 * _rest * _rest)
        : 0.5 * _rest * _rest;
}
