namespace Leadwright.Core.Integrity.Chains;

/// <summary>Finds the likeliest history of a few states from what each row says of them: changes cost, so that a history with more pieces must
/// earn them.</summary>
/// <remarks>The best path by dynamic programming (A. J. Viterbi, IEEE Trans. Inf. Theory 13 (1967) 260; for segmentation by penalised
/// likelihood: B. Jackson et al., IEEE Signal Process. Lett. 12 (2005) 105, both from memory). Time and memory are rows times states.</remarks>
internal sealed class StateChain
{
    private readonly double[] _enter;
    private readonly double[] _scores;
    private readonly double[] _says;
    private readonly byte[] _from;
    private readonly int _count;
    private int _row;

    /// <param name="enter">What it costs to go into each state, natural logarithms, zero or more; state 0 is the sound one.</param>
    /// <param name="rows">Number of rows.</param>
    public StateChain(double[] enter, int rows)
    {
        // Costs are for a thousand rows: more rows are more chances for the same few events.
        var more = Math.Max(0, Math.Log(rows / 1000.0));
        (_enter, _count) = (Array.ConvertAll(enter, cost => cost + more), enter.Length);
        _scores = new double[_count];
        _says = new double[_count];
        _from = new byte[rows * _count];
        for (var state = 0; state < _count; state++) _scores[state] = -_enter[state] + (state == 0 ? _enter[0] : 0);
    }

    /// <summary>Where the next row's log-likelihoods go, one a state.</summary>
    public Span<double> Says => _says;

    /// <summary>Takes the row in <see cref="Says"/>.</summary>
    public void Take()
    {
        var best = 0;
        for (var state = 1; state < _count; state++)
        {
            if (_scores[state] > _scores[best]) best = state;
        }

        var top = _scores[best];
        var at = _row * _count;
        for (var state = 0; state < _count; state++)
        {
            var moved = top - _enter[state];
            var stays = _scores[state] >= moved;
            _from[at + state] = (byte)(stays || _row == 0 ? state : best);
            _scores[state] = (stays || _row == 0 ? _scores[state] : moved) + _says[state];
        }

        // Only differences matter; kept small so that a year of seconds loses no digits.
        for (var state = 0; state < _count; state++) _scores[state] -= top;
        _row++;
    }

    /// <summary>The likeliest history of the rows taken.</summary>
    public byte[] History()
    {
        var states = new byte[_row];
        var state = 0;
        for (var other = 1; other < _count; other++)
        {
            if (_scores[other] > _scores[state]) state = other;
        }

        for (var row = _row - 1; row >= 0; row--)
        {
            states[row] = (byte)state;
            state = _from[(row * _count) + state];
        }

        return states;
    }
}
