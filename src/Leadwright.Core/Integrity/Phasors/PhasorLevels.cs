namespace Leadwright.Core.Integrity.Phasors;

/// <summary>How well voltages stand at one level before a row and at another from it on, beside what two laws say of the currents' share in it.</summary>
internal sealed class PhasorLevels
{
    /// <summary>A supply's unbalance wanders: the rows of an hour say less than as many by themselves (our choice).</summary>
    private const double Temper = 0.5;
    private const int Parts = 3;
    private readonly double[][] _then = new double[Parts][];
    private readonly double[][] _now = new double[Parts][];
    private readonly double[][] _thenSquares = new double[Parts][];
    private readonly double[][] _nowSquares = new double[Parts][];
    private readonly double[] _squares = new double[Parts];
    private readonly int _count;

    /// <param name="source">The rows' values.</param>
    /// <param name="rows">The rows about a change.</param>
    /// <param name="then">The law before.</param>
    /// <param name="now">The law behind.</param>
    public PhasorLevels(PhasorRows source, int[] rows, double[,] then, double[,] now)
    {
        _count = rows.Length;
        for (var channel = 0; channel < Parts; channel++)
        {
            _then[channel] = new double[_count + 1];
            _now[channel] = new double[_count + 1];
            _thenSquares[channel] = new double[_count + 1];
            _nowSquares[channel] = new double[_count + 1];
            for (var index = 0; index < _count; index++)
            {
                double before = source.Rest(channel, rows[index], then), behind = source.Rest(channel, rows[index], now);
                (_then[channel][index + 1], _thenSquares[channel][index + 1]) = (_then[channel][index] + before, _thenSquares[channel][index] + (before * before));
                (_now[channel][index + 1], _nowSquares[channel][index + 1]) = (_now[channel][index] + behind, _nowSquares[channel][index] + (behind * behind));
            }

            var least = double.PositiveInfinity;
            for (var index = 1; index < _count; index++) least = Math.Min(least, Before(channel, index) + Behind(channel, index));
            _squares[channel] = Math.Max(source.Spread * source.Spread, least / _count);
        }
    }

    /// <summary>Log-likelihood of a change at a row, up to a constant.</summary>
    /// <param name="index">Number of the first row behind it.</param>
    /// <param name="isMixed">True where the change fell within the row before: that is of neither level.</param>
    public double Say(int index, bool isMixed)
    {
        double say = 0;
        for (var channel = 0; channel < Parts; channel++)
        {
            double left = Before(channel, isMixed ? index - 1 : index) + Behind(channel, index);
            say -= 0.5 * (left + (isMixed ? _squares[channel] : 0)) / _squares[channel];
        }

        return Temper * 2 / 3 * say;
    }

    /// <summary>The squares that are left about the mean of the first rows.</summary>
    private double Before(int channel, int count) => count == 0 ? 0 : _thenSquares[channel][count] - (_then[channel][count] * _then[channel][count] / count);

    /// <summary>The squares that are left about the mean of the last rows.</summary>
    private double Behind(int channel, int from)
    {
        var sum = _now[channel][_count] - _now[channel][from];
        return from == _count ? 0 : _nowSquares[channel][_count] - _nowSquares[channel][from] - (sum * sum / (_count - from));
    }
}
