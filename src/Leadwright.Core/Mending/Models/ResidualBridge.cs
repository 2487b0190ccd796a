namespace Leadwright.Core.Mending.Models;

/// <summary>Carries what the two ends of a hole read beyond a prediction into the hole, as far as the residuals are correlated.</summary>
/// <remarks>The residuals are taken for a first-order autoregression with white noise on top: correlation c·ρ^k at lag k. The value between two known ends
/// is its conditional mean.</remarks>
internal sealed class ResidualBridge
{
    private const int Reach = 3;
    private readonly double[] _residuals;
    private readonly double _share;
    private readonly double _decay;
    private readonly int[] _before;
    private readonly int[] _after;

    public ResidualBridge(double[] residuals)
    {
        _residuals = residuals;
        double square = 0, first = 0, second = 0;
        int squares = 0, firsts = 0, seconds = 0;
        for (var slot = 0; slot < residuals.Length; slot++)
        {
            var now = residuals[slot];
            if (double.IsNaN(now)) continue;
            square += now * now;
            squares++;
            if (slot >= 1 && !double.IsNaN(residuals[slot - 1])) (first, firsts) = (first + (now * residuals[slot - 1]), firsts + 1);
            if (slot >= 2 && !double.IsNaN(residuals[slot - 2])) (second, seconds) = (second + (now * residuals[slot - 2]), seconds + 1);
        }

        if (squares > 2 && firsts > 0 && seconds > 0 && square > 0)
        {
            var one = first / firsts / (square / squares);
            var two = second / seconds / (square / squares);
            if (one > 0.05 && two > 0)
            {
                _decay = Math.Clamp(two / one, 0, 0.999);
                _share = Math.Clamp(_decay > 0 ? one / _decay : 0, 0, 1);
            }
        }

        _before = new int[residuals.Length];
        _after = new int[residuals.Length];
        for (int slot = 0, last = -1; slot < residuals.Length; slot++) _before[slot] = last = double.IsNaN(residuals[slot]) ? last : slot;
        for (int slot = residuals.Length - 1, next = -1; slot >= 0; slot--) _after[slot] = next = double.IsNaN(residuals[slot]) ? next : slot;
    }

    /// <summary>What to add in a slot.</summary>
    public double At(int slot)
    {
        if (_share <= 0) return 0;
        var left = Mean(_before[slot], -1, out var leftCount);
        var right = Mean(_after[slot], 1, out var rightCount);
        var toLeft = leftCount > 0 ? Math.Pow(_decay, slot - _before[slot]) : 0;
        var toRight = rightCount > 0 ? Math.Pow(_decay, _after[slot] - slot) : 0;
        var across = toLeft * toRight;
        var bridge = 1 - (across * across);
        if (bridge < 1e-9) return 0.5 * _share * (left + right);
        return _share * ((toLeft * (1 - (toRight * toRight)) * left) + (toRight * (1 - (toLeft * toLeft)) * right)) / bridge;
    }

    private double Mean(int from, int step, out int count)
    {
        (var sum, count) = (0.0, 0);
        for (var slot = from; slot >= 0 && slot < _residuals.Length && count < Reach; slot += step)
        {
            if (double.IsNaN(_residuals[slot])) break;
            sum += _residuals[slot];
            count++;
        }

        return count == 0 ? 0 : sum / count;
    }
}
