namespace Leadwright.Core.Studies;

/// <summary>A sum that values are added to and taken from without the rounding piling up, kept in two doubles.</summary>
/// <remarks>D. E. Knuth, The Art of Computer Programming 2, 4.2.2, theorem B: the rounding error of a sum of two doubles is a double. A window that slides over millions of values thus has
/// the sum that it would have had by itself, to the last digit.</remarks>
internal struct RunningSum
{
    private double _high, _low;

    /// <summary>The sum.</summary>
    public readonly double Value => _high + _low;

    /// <summary>Adds a finite value.</summary>
    public void Add(double value)
    {
        var sum = _high + value;
        var back = sum - _high;
        _low += _high - (sum - back) + (value - back);
        _high = sum + _low;
        _low -= _high - sum;
    }
}
