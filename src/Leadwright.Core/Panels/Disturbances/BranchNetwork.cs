namespace Leadwright.Core.Panels.Disturbances;

/// <summary>Branches between nodes, stepped through time. Node −1 is the neutral.</summary>
internal sealed class BranchNetwork(int nodes, double step)
{
    private readonly double[,] _matrix = new double[nodes, nodes];
    private readonly double[] _right = new double[nodes];

    public List<Branch> Branches { get; } = [];

    public double[] Volts { get; } = new double[nodes];

    public Branch Add(Branch branch)
    {
        Branches.Add(branch);
        return branch;
    }

    public void Advance()
    {
        Array.Clear(_matrix);
        Array.Clear(_right);
        for (var node = 0; node < nodes; node++) _matrix[node, node] = 1e-9;
        foreach (var branch in Branches)
        {
            branch.Prepare(step);
            Stamp(branch.From, branch.To, branch.Conductance, branch.Offset);
            Stamp(branch.To, branch.From, branch.Conductance, -branch.Offset);
        }

        Solve();
        foreach (var branch in Branches) branch.Take(At(branch.From) - At(branch.To), step);
    }

    private double At(int node) => node < 0 ? 0 : Volts[node];

    private void Stamp(int node, int other, double conductance, double offset)
    {
        if (node < 0) return;
        _matrix[node, node] += conductance;
        if (other >= 0) _matrix[node, other] -= conductance;
        _right[node] -= offset;
    }

    // The matrix is symmetric and its diagonal outweighs the rest: no exchange of rows is needed.
    private void Solve()
    {
        for (var pivot = 0; pivot < nodes; pivot++)
        {
            for (var row = pivot + 1; row < nodes; row++)
            {
                if (_matrix[row, pivot] == 0) continue;
                var factor = _matrix[row, pivot] / _matrix[pivot, pivot];
                for (var column = pivot; column < nodes; column++) _matrix[row, column] -= factor * _matrix[pivot, column];
                _right[row] -= factor * _right[pivot];
            }
        }

        for (var row = nodes - 1; row >= 0; row--)
        {
            var sum = _right[row];
            for (var column = row + 1; column < nodes; column++) sum -= _matrix[row, column] * Volts[column];
            Volts[row] = sum / _matrix[row, row];
        }
    }
}
