using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Integrity.Chains;

/// <summary>Finds a stretch in which all phases of a wye service answer to their currents much less than in the rest, where the whole recording taken together teaches no answer at all.</summary>
/// <remarks>
/// The neutral lead off for half of a recording or more leaves answers that fit neither part. For every stretch of whole blocks the changes of each phase against the others are fitted by least squares inside and
/// outside it apart, and n/2 ln(S/(Sin + Sout)) says how much likelier two laws are than one, two thirds of it since the phases share the supply.
/// </remarks>
internal static class AnswerBreak
{
    private const double BlockSeconds = 3600;
    private const int MostBlocks = 150;
    private const int LeastBlocks = 3;
    private const int LeastRows = 40;
    private const double LeastOdds = 30;
    private const double Beyond = 15;
    private const double MostLeft = 0.5;

    /// <summary>The rows in which the phases answer less; null where there is no such stretch, or no rest to tell it by.</summary>
    public static bool[]? Weak(GuardFrame frame, VoltageHistory voltages, CancellationToken cancellation)
    {
        if (frame.IsPairs || frame.Lines != 3 || Enumerable.Range(0, 3).Any(line => frame.Volts[line] is null || frame.Amperes[line] is null)) return null;
        var perBlock = Math.Max((int)Math.Ceiling(BlockSeconds / frame.Log.IntervalSeconds), (frame.Count + MostBlocks - 1) / MostBlocks);
        var count = frame.Count / perBlock;
        if (count < 2 * LeastBlocks) return null;
        var laws = Enumerable.Range(0, 3).Select(line => new Blocks(frame, voltages, line, perBlock, count)).ToArray();
        var (most, best) = (LeastOdds, (From: -1, To: -1));
        for (var from = 0; from < count; from++)
        {
            cancellation.ThrowIfCancellationRequested();
            for (var to = from + LeastBlocks; to <= count; to++)
            {
                if (count - (to - from) < LeastBlocks) continue;
                var odds = laws.Sum(law => law.Odds(from, to)) * 2 / 3;
                if (odds > most) (most, best) = (odds, (from, to));
            }
        }

        if (best.From < 0) return null;
        double[] shares = [.. laws.Select(law => law.Share(best.From, best.To))];
        if (!shares.All(share => share > 0) || (!shares.All(share => share < MostLeft) && !shares.All(share => share > 1 / MostLeft))) return null;
        var weak = new bool[frame.Count];
        var isInside = shares[0] < 1;
        for (var row = 0; row < weak.Length; row++) weak[row] = (row / perBlock >= best.From && row / perBlock < best.To) == isInside;
        return weak;
    }

    /// <summary>One phase's changes and what makes them, summed up to each block.</summary>
    private sealed class Blocks
    {
        private readonly int _width;
        private readonly double[][] _upTo;

        public Blocks(GuardFrame frame, VoltageHistory voltages, int line, int perBlock, int count)
        {
            var regressors = VoltageAnswer.Regressors(frame, line, out _);
            _width = regressors.Count;
            // Of each block: the rows, the square of what is explained, the products with it, and the matrix.
            _upTo = [.. Enumerable.Range(0, count + 1).Select(_ => new double[2 + _width + (_width * _width)])];
            var changes = new double[frame.Count];
            for (var row = 0; row < changes.Length; row++)
            {
                var isWhole = row > 0 && voltages.At(row).Kind == VoltageStateKind.Sound && voltages.At(row - 1).Kind == VoltageStateKind.Sound
                    && frame.Starts[row] - frame.Starts[row - 1] < 1.5 * frame.Log.IntervalTicks;
                changes[row] = isWhole ? VoltageAnswer.Relative(frame, line, row) - VoltageAnswer.Relative(frame, line, row - 1) : double.NaN;
            }

            var limit = Beyond * Robust.Deviation(changes);
            var steps = new double[_width];
            for (var block = 0; block < count; block++)
            {
                _upTo[block].CopyTo(_upTo[block + 1], 0);
                for (var row = block * perBlock; row < (block + 1) * perBlock; row++)
                {
                    if (!(Math.Abs(changes[row]) < limit)) continue;
                    for (var index = 0; index < _width; index++) steps[index] = regressors[index][row] - regressors[index][row - 1];
                    if (!steps.Any(double.IsNaN)) Add(_upTo[block + 1], steps, changes[row]);
                }
            }
        }

        private void Add(double[] sums, double[] steps, double change)
        {
            sums[0]++;
            sums[1] += change * change;
            for (var one = 0; one < _width; one++)
            {
                sums[2 + one] += steps[one] * change;
                for (var other = 0; other < _width; other++) sums[2 + _width + (one * _width) + other] += steps[one] * steps[other];
            }
        }

        /// <summary>How much likelier two laws are than one, nats.</summary>
        public double Odds(int from, int to)
        {
            var inside = Part(from, to, false);
            var outside = Part(from, to, true);
            if (inside[0] < LeastRows || outside[0] < LeastRows) return 0;
            double one = Fit(_upTo[^1]).Left, two = Fit(inside).Left + Fit(outside).Left;
            return two > 0 ? 0.5 * _upTo[^1][0] * Math.Log(one / two) : 0;
        }

        /// <summary>The phase's answer to its own current inside over that outside.</summary>
        public double Share(int from, int to) => Fit(Part(from, to, false)).Own / Fit(Part(from, to, true)).Own;

        private double[] Part(int from, int to, bool isOutside)
        {
            var part = new double[_upTo[0].Length];
            for (var index = 0; index < part.Length; index++)
            {
                var inside = _upTo[to][index] - _upTo[from][index];
                part[index] = isOutside ? _upTo[^1][index] - inside : inside;
            }

            return part;
        }

        /// <summary>What is left of the squares, and the answer to the own current in phase.</summary>
        private (double Left, double Own) Fit(double[] sums)
        {
            var matrix = new double[_width, _width + 1];
            for (var one = 0; one < _width; one++)
            {
                for (var other = 0; other < _width; other++) matrix[one, other] = sums[2 + _width + (one * _width) + other] * (one == other ? 1.0001 : 1);
                matrix[one, one] += 1e-12;
                matrix[one, _width] = sums[2 + one];
            }

            // Elimination without choice of rows: the matrix is positive definite by its ridge.
            for (var pivot = 0; pivot < _width; pivot++)
            {
                for (var row = 0; row < _width; row++)
                {
                    if (row == pivot) continue;
                    var factor = matrix[row, pivot] / matrix[pivot, pivot];
                    for (var column = pivot; column <= _width; column++) matrix[row, column] -= factor * matrix[pivot, column];
                }
            }

            var left = sums[1];
            for (var one = 0; one < _width; one++) left -= matrix[one, _width] / matrix[one, one] * sums[2 + one];
            return (Math.Max(left, 1e-6 * sums[1]), matrix[0, _width] / matrix[0, 0]);
        }
    }
}
