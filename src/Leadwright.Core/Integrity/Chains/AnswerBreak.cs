using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Integrity.Chains;

/// <summary>A stretch of rows in which clamps seem to show a ratio times what flows, by how the voltages answer to them there and in the rest.</summary>
/// <param name="From">First row.</param>
/// <param name="To">Last row.</param>
/// <param name="PerBlock">To so many rows its ends are known.</param>
/// <param name="Clamp">The clamp; -1 for all of them.</param>
/// <param name="Ratio">What they show over what the rest of the recording would have them show.</param>
/// <param name="Odds">How much likelier the ratio is than none, nats.</param>
/// <remarks>
/// A ratio of all clamps scales all answers; so does the neutral lead in the air, whose answers fall to a fifth or so. For every stretch of whole blocks the changes of each phase against the others are fitted by
/// one law with the currents inside over a ratio, by least squares, inside and outside weighed by the spread that is left there at best; two thirds of what is won over no ratio counts, since the phases share the
/// supply. The law is learned in the same fit, so that it need not be known beforehand: what a whole recording teaches is neither part's. Free laws for both parts are not compared: where no load is switched,
/// what is learned is how the loads answer to a voltage that others move.
/// </remarks>
internal sealed record AnswerBreak(int From, int To, int PerBlock, int Clamp, double Ratio, double Odds)
{
    private const double BlockSeconds = 3600;
    private const int MostBlocks = 100;
    private const int LeastBlocks = 3;
    private const int LeastRows = 40;
    private const double LeastOdds = 40;
    private const double Beyond = 15;
    private const double OfBetween = 8;
    private const double ShareOfBetween = 0.05;
    private const double Never = -1e9;
    private static readonly double[] s_ratios = [10, 7, 5, 3.5, 2, 1.4, 0.7, 0.5, 0.28, 0.2, 0.14, 0.1];

    /// <summary>The likeliest stretch; null where one law will do.</summary>
    public static AnswerBreak? Find(GuardFrame frame, VoltageHistory voltages, CancellationToken cancellation)
    {
        if (frame.IsPairs || frame.Lines != 3 || Enumerable.Range(0, 3).Any(line => frame.Volts[line] is null || frame.Amperes[line] is null)) return null;
        var perBlock = Math.Max((int)Math.Ceiling(BlockSeconds / frame.Log.IntervalSeconds), (frame.Count + MostBlocks - 1) / MostBlocks);
        var count = frame.Count / perBlock;
        if (count < 2 * LeastBlocks) return null;
        var laws = Enumerable.Range(0, 3).Select(line => new Blocks(frame, voltages, line, perBlock, count)).ToArray();
        var found = new AnswerBreak?[count];
        Parallel.For(0, count, new ParallelOptions { CancellationToken = cancellation }, from =>
        {
            for (var to = from + LeastBlocks; to <= count; to++)
            {
                if (count - (to - from) < LeastBlocks) continue;
                var stretches = Array.ConvertAll(laws, law => law.Between(from, to));
                for (var clamp = -1; clamp < 3; clamp++)
                {
                    foreach (var ratio in s_ratios)
                    {
                        var odds = 0.0;
                        for (var line = 0; line < 3; line++) odds += laws[line].Odds(stretches[line], clamp, ratio) * 2 / 3;
                        // Answers are known to a fifth or so: what lies between two ratios of ranges must be plainly likelier.
                        if (ratio is 1.4 or 0.7) odds = Math.Min(odds - OfBetween, odds * (1 - ShareOfBetween));
                        if (odds > Math.Max(LeastOdds, found[from]?.Odds ?? 0)) found[from] = new AnswerBreak(from * perBlock, (to == count ? frame.Count : to * perBlock) - 1, perBlock, clamp, ratio, odds);
                    }
                }
            }
        });
        return found.MaxBy(entry => entry?.Odds ?? 0);
    }

    /// <summary>The rows in which all phases answer less, be they inside or outside; null where one clamp's answers alone do.</summary>
    public bool[]? Weak(int count)
    {
        if (Clamp >= 0) return null;
        var weak = new bool[count];
        for (var row = 0; row < count; row++) weak[row] = (row >= From && row <= To) == (Ratio > 1);
        return weak;
    }

    /// <summary>One phase's changes and what makes them, summed up to each block.</summary>
    private sealed class Blocks
    {
        private readonly int _width;
        private readonly int _parts;
        private readonly int _line;
        private readonly double[][] _upTo;

        public Blocks(GuardFrame frame, VoltageHistory voltages, int line, int perBlock, int count)
        {
            var regressors = VoltageAnswer.Regressors(frame, line, out _parts);
            (_width, _line) = (regressors.Count, line);
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

        /// <summary>The sums of a stretch, and those of all rows, each part weighed by the spread that is left there at best; with what one law for all leaves.</summary>
        public Stretch? Between(int from, int to)
        {
            var all = _upTo[^1];
            double[] inside = new double[all.Length], both = new double[all.Length];
            for (var index = 0; index < all.Length; index++)
            {
                inside[index] = _upTo[to][index] - _upTo[from][index];
                both[index] = all[index] - inside[index];
            }

            if (inside[0] < LeastRows || both[0] < LeastRows) return null;
            double left = Left(inside) / inside[0], leftOutside = Left(both) / both[0];
            if (!(left > 0) || !(leftOutside > 0)) return null;
            for (var index = 0; index < all.Length; index++)
            {
                inside[index] /= left;
                both[index] = inside[index] + (both[index] / leftOutside);
            }

            return new Stretch(inside, both, Left(both));
        }

        /// <summary>How much likelier a ratio inside is than none, nats.</summary>
        public double Odds(Stretch? stretch, int clamp, double ratio)
        {
            if (stretch is not { Inside: var inside }) return 0;
            Span<double> both = stackalloc double[inside.Length], scales = stackalloc double[_width];
            stretch.Both.CopyTo(both);
            for (var index = 0; index < _width; index++) scales[index] = clamp < 0 || ((_line + (index / _parts)) % 3) == clamp ? 1 / ratio : 1;
            for (var one = 0; one < _width; one++)
            {
                both[2 + one] += (scales[one] - 1) * inside[2 + one];
                for (var other = 0; other < _width; other++)
                {
                    var at = 2 + _width + (one * _width) + other;
                    both[at] += ((scales[one] * scales[other]) - 1) * inside[at];
                }
            }

            var with = Left(both, out var own);
            // Where voltages rise with what flows it is loads that answer to them.
            return own < 0 ? 0.5 * (stretch.None - with) : Never;
        }

        private double Left(ReadOnlySpan<double> sums) => Left(sums, out _);

        /// <summary>What is left of the squares at best, and the phase's answer to its own current in phase.</summary>
        private double Left(ReadOnlySpan<double> sums, out double own)
        {
            var columns = _width + 1;
            Span<double> matrix = stackalloc double[_width * columns];
            for (var one = 0; one < _width; one++)
            {
                for (var other = 0; other < _width; other++) matrix[(one * columns) + other] = sums[2 + _width + (one * _width) + other] * (one == other ? 1.0001 : 1);
                matrix[(one * columns) + one] += 1e-12;
                matrix[(one * columns) + _width] = sums[2 + one];
            }

            // Elimination without choice of rows: the matrix is positive definite by its ridge. What each pivot explains is its right side's square over it; the own current, first of all, comes last.
            var left = sums[1];
            for (var pivot = _width - 1; pivot >= 0; pivot--)
            {
                var most = matrix[(pivot * columns) + pivot];
                left -= matrix[(pivot * columns) + _width] * matrix[(pivot * columns) + _width] / most;
                for (var row = 0; row < pivot; row++)
                {
                    var factor = matrix[(row * columns) + pivot] / most;
                    for (var column = 0; column < pivot; column++) matrix[(row * columns) + column] -= factor * matrix[(pivot * columns) + column];
                    matrix[(row * columns) + _width] -= factor * matrix[(pivot * columns) + _width];
                }
            }

            own = matrix[_width] / matrix[0];
            return Math.Max(left, 1e-6 * sums[1]);
        }
    }

    /// <summary>The sums of a stretch and of all rows, and what one law leaves.</summary>
    private sealed record Stretch(double[] Inside, double[] Both, double None);
}
