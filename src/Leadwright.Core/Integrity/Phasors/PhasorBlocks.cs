using Leadwright.Core.Integrity.Pieces;
using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Integrity.Phasors;

/// <summary>The rows of a recording in blocks of half an hour or more, each with its sums and what its clamps show.</summary>
internal sealed class PhasorBlocks
{
    private const double BlockSeconds = 1800;
    private const int MostBlocks = 1500;
    private const double Backwards = 0.05;
    private const double OfBackwards = 3;

    /// <summary>A clamp that shows next to nothing has its own line's answer missing.</summary>
    private const double Shown = 0.15;
    private readonly GuardFrame _frame;
    private readonly bool[] _isLeftOut;
    private readonly (double P, double Q)[][] _levels;

    /// <param name="frame">The recording.</param>
    /// <param name="rows">Its changes from row to row.</param>
    /// <param name="isLeftOut">True for rows that do not tell.</param>
    public PhasorBlocks(GuardFrame frame, PhasorRows rows, bool[] isLeftOut)
    {
        (_frame, Rows, _isLeftOut) = (frame, rows, isLeftOut);
        PerBlock = Math.Max(Math.Max(3, (int)Math.Ceiling(BlockSeconds / frame.Log.IntervalSeconds)), (frame.Count / MostBlocks) + 1);
        var count = (frame.Count + PerBlock - 1) / PerBlock;
        Sums = [.. Enumerable.Range(0, count).Select(block => rows.Sum(RowsOf(block).Where(Tells)))];
        _levels = [.. Enumerable.Range(0, count).Select(Levels)];
    }

    /// <summary>The changes from row to row.</summary>
    public PhasorRows Rows { get; }

    /// <summary>The sums of each block.</summary>
    public PhasorSums[] Sums { get; }

    /// <summary>How many blocks there are.</summary>
    public int Count => Sums.Length;

    /// <summary>Rows of a block; the last may have fewer.</summary>
    public int PerBlock { get; }

    /// <summary>Number of rows.</summary>
    public int RowCount => _frame.Count;

    /// <summary>True where a row's changes are known and may be believed.</summary>
    public bool Tells(int row) => Rows.Tells(row) && !_isLeftOut[row];

    /// <summary>What any linear law of its own would win for each arrangement's rows.</summary>
    public double Most(int[] states)
    {
        var sums = new Dictionary<int, PhasorSums>();
        for (var block = 0; block < states.Length; block++)
        {
            if (!sums.TryGetValue(states[block], out var sum)) sums.Add(states[block], sum = new PhasorSums());
            sum.Add(Sums[block]);
        }

        return sums.Values.Sum(sum => sum.MostGain());
    }

    /// <summary>True where all clamps show what they usually do, more or less.</summary>
    public bool AreShown(int from, int to) => Enumerable.Range(0, 3).All(clamp =>
    {
        double[] inside = Sizes(Enumerable.Range(from, to - from + 1)), outside = Sizes(Enumerable.Range(0, Sums.Length).Where(block => block < from || block > to));
        return outside.Length == 0 || Robust.Median(inside) > Shown * Robust.Median(outside);

        double[] Sizes(IEnumerable<int> blocks) => [.. blocks.Where(block => Sums[block].Rows > 0).Select(block => Math.Sqrt((_levels[block][clamp].P * _levels[block][clamp].P) + (_levels[block][clamp].Q * _levels[block][clamp].Q)) / Sums[block].Rows)];
    });

    /// <summary>By block what speaks against an arrangement, nats: lines that would feed back where nothing generates.</summary>
    public double[] Against(Arrangement arrangement)
    {
        var against = new double[Sums.Length];
        if (_frame.Options.Check.MayExport || Rows.IsAssumed) return against;
        for (var block = 0; block < against.Length; block++)
        {
            var size = _levels[block].Sum(level => Math.Sqrt((level.P * level.P) + (level.Q * level.Q)));
            for (var clamp = 0; clamp < 3; clamp++)
            {
                if (arrangement.Clamps[clamp] is not (>= 0 and < 3 and var line)) continue;
                var turn = _frame.Ideal[arrangement.Leads[clamp]] * _frame.Ideal[line].Conjugate;
                var (p, q) = _levels[block][clamp];
                var along = (arrangement.Reversed[clamp] ? -1 : 1) * ((turn.Real * p) + (turn.Imaginary * q));
                if (along < -Backwards * size) against[block] += OfBackwards;
            }
        }

        return against;
    }

    private IEnumerable<int> RowsOf(int block) => Enumerable.Range(block * PerBlock, Math.Min(PerBlock, _frame.Count - (block * PerBlock)));

    /// <summary>The mean current of each clamp against its channel's voltage in a block.</summary>
    private (double P, double Q)[] Levels(int block) => [.. Enumerable.Range(0, 3).Select(clamp =>
    {
        double p = 0, q = 0;
        foreach (var row in RowsOf(block))
        {
            if (!Tells(row)) continue;
            p += Rows.Watts(clamp, row) / _frame.Volts[clamp]![row];
            q += Rows.Vars(clamp, row) / _frame.Volts[clamp]![row];
        }

        return (p, q);
    })];
}
