namespace Leadwright.Core.Integrity.Chains;

/// <summary>A <see cref="StateChain"/> whose rows also say something of every change from one state to another: a step that fits the change
/// speaks for it, and a step that only a change explains speaks against staying.</summary>
internal sealed class LinkedChain
{
    private readonly double[] _enter;
    private readonly double[] _next;
    private readonly byte[] _from;
    private readonly int _count;
    private double[] _scores;
    private int _row;

    /// <param name="enter">What it costs to go into each state in a thousand rows, natural logarithms; state 0 is the sound one.</param>
    /// <param name="rows">Number of rows.</param>
    public LinkedChain(double[] enter, int rows)
    {
        var more = Math.Max(0, Math.Log(rows / 1000.0));
        _count = enter.Length;
        _enter = Array.ConvertAll(enter, cost => cost + more);
        _scores = [.. _enter.Select((cost, state) => state == 0 ? 0 : -cost)];
        _next = new double[_count];
        _from = new byte[rows * _count];
        Says = new double[_count];
        Links = new double[_count * _count];
    }

    /// <summary>Log-likelihoods of the next row, one a state.</summary>
    public double[] Says { get; }

    /// <summary>What the step into the next row says of each change: from times number of states, plus to.</summary>
    public double[] Links { get; }

    /// <summary>Log-probability of the likeliest history so far.</summary>
    public double Score { get; private set; }

    /// <summary>Takes the row.</summary>
    /// <param name="isLinked">False where the row before does not count.</param>
    public void Take(bool isLinked)
    {
        for (var state = 0; state < _count; state++)
        {
            var best = double.NegativeInfinity;
            var chosen = state;
            for (var before = 0; before < _count; before++)
            {
                var score = _scores[before] - (before == state ? 0 : _enter[state]) + (isLinked ? Links[(before * _count) + state] : 0);
                if (score < best || (score == best && before != state)) continue;
                (best, chosen) = (score, before);
            }

            _from[(_row * _count) + state] = (byte)(_row == 0 ? state : chosen);
            _next[state] = (_row == 0 ? _scores[state] : best) + Says[state];
        }

        var top = _next.Max();
        Score += top;
        for (var state = 0; state < _count; state++) _next[state] -= top;
        _next.CopyTo(_scores, 0);
        _row++;
    }

    /// <summary>The likeliest history of the rows taken.</summary>
    public byte[] History()
    {
        var history = new byte[_row];
        var state = Array.IndexOf(_scores, _scores.Max());
        for (var row = _row - 1; row >= 0; row--)
        {
            history[row] = (byte)state;
            state = _from[(row * _count) + state];
        }

        return history;
    }
}
